"""Proof by enumeration: meet in the middle, by dual-tree branch and bound on two k-d trees."""
