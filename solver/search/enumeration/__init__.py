"""Proof by enumeration: meet in the middle, two box trees, branch and bound on pairs of boxes."""
