"""What things are: ingredients, shelf, profiles, specs and the bar, with reading and writing."""
