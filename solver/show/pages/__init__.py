"""What is printed, sent or hung up: cards, plans, labels, pictures."""
