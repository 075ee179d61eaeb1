"""What is in keeping: how usual ingredients are in their parts, and how usual together.

A score of the ingredients of a drink, never of their amounts, computed from counts of published
drinks, from what profiles call usual and from what the bar says. It says what drinks are like that
were printed, not what tastes good: nothing here has tasted anything.
"""
