"""Taking somebody's own list of bottles onto the shelf."""
