"""The cost of drinks, their price on the list, and changes that make one cheaper."""
