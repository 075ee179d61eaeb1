"""Plans: what is coming, against what is there; what to prepare, what to order, what will spoil."""
