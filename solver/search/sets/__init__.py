"""Which ingredients to pour, never how much: sets listed best first.

`question` is a quadratic objective over sets, in whole millionths, so that ties are ties. `seats`
writes it as choices of one option for each seat, `best_first` yields sets in the order of their
worth by best-first branch and bound. That order is a proof: the first set that can be poured on
target is the one most in keeping.
"""
