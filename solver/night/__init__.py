"""Plans of nights, on whole numbers alone: how many of which drink, and what is got ready when."""
