"""Import a list of bottles onto the shelf."""
