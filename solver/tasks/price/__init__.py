"""What drinks cost, what to ask for them, and what would make one cheaper."""
