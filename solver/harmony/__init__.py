"""What is in keeping: how usual ingredients are in their parts, and how usual together.

A score of the ingredients of a drink, never of their amounts, computed from counts of published
drinks (`ingredients/counted/`), from what profiles call usual and from what the bar says. It says
what drinks are like that were printed, not what tastes good: nothing here has tasted anything.

`Harmony` takes a profile, a library, a stock, the counts and a `BarTaste`, and makes a question of
sets (`solver/search/sets`): the log of the share of each ingredient in its part, weighed by the
dial, the log of the share of so many in a part, empty ones too, and the worth of every pair.
`Harmony.evidence` gives each summand back with its counts.

    flavours      bottles that counts cannot tell apart are one, so that two thousand cost what two
                  hundred do; what nobody has counted is as rare as what was never printed
    pairs         pointwise mutual information, shrunk from ingredients to kinds to families
    shares        a profile's `usual` first, the closest word first; what it leaves, by counts
    taste         what the bar's tastings say of every two of what was poured; where books know a
                  pair well, a bad drink says little against it
    stated_pairs  a stated share is of drinks of the profile, so what pairs come to in any of them
                  is in it already and is taken off: else vermouth with soda would count as unusual
                  in a drink that has both by definition
    rank_among_published
                  how many published drinks in a hundred are as much in keeping, each by how far it
                  falls short of the best of its own profile, its own counts taken out
    feature       what a drink is to show has few voices beside it

Measured on published drinks (`tests/outside/test_published_drinks.py`): hidden ingredients are
found again with a mean reciprocal rank of 0.63 (popularity alone 0.55), and 0.81 with what profiles
call usual, whose author knew the drinks; of drinks of the same numbers, 95 in a hundred are less in
keeping than the published one, 70 where they are made of popular ingredients (popularity alone 55).
A dial from 0.5 to 1 makes little difference. `python -m tests.bench.in_keeping` prints lists to be
read as a bartender would.
"""
