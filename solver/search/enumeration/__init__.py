"""Proof by enumeration: meet in the middle, by dual-tree branch and bound on two k-d trees.

A drink is the sum of two halves, each a filling of some of its parts (`fillings`, `pour_vectors`).
`bounds` writes every limit, and the distance from every aim, as linear functions of such
sums that lose no drink: totals are linear in the pours; melt, contraction and the volume of sugar
are of the form den · g(num/den) and are enclosed between two lines (`search/enclosure`) on the
windows that limits and incumbent leave (`search/windows`). The fillings of each half lie in a
k-d tree (`kd_tree`); a pair of boxes whose least left-hand sides break an inequality is pruned
(`dual_tree`). What is left, down to single drinks, goes to the exact evaluator (`sinks`), which
keeps the best, or all of them.

Where any drink will do, or only few are of use, a sample of pairs is evaluated before the search,
so that it is soon known that good drinks are many. No proof rests on the sample.
"""
