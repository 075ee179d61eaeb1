"""What is asked of a drink, as numbers and named demands, and what of it the search is given."""
