"""The optimisation of one drink, on numbers alone: no files, units or sentences.

`problem` is the question: of each candidate ingredient the amounts that may be poured, what a unit
of it brings, parts and how many ingredients they take, limits, targets, goal. `exact` evaluates
drinks and alone may call one feasible. `result` is what comes out: `Optimal`, `Impossible`, or
`Stopped` with what is known so far.

The optimum is lexicographic: on target (every measure in the band of its aim), then most in
keeping, then the most usual pours, then the cheapest.

How it is found and proven
    `minimise` solves one goal. A local search (`enumeration/local_search`) finds a good incumbent
    in milliseconds; it proves nothing, but makes proofs cheap. The proof is by enumeration
    (`enumeration/`), or, where half a drink has more than a million fillings (some 300 bottles and
    parts that hold two), by integer rows and a MILP solver (`milp/`). Up to four thousand drinks
    are all measured. `lexicographic` puts several goals together, and asks a second solver.

What is in keeping
    `most_in_keeping` depends on which ingredients are poured, never on how much. `sets/` lists sets
    of ingredients best first; of each, the enumeration says whether any pours are on target. The
    first yes is the optimum, and the sets before it are the proof. Where no drink is on target, the
    bands are widened by what the closest one misses and a quarter of a noticeable difference. Where
    few drinks are left, they are gathered and their sets compared (`gathered`); where many sets had
    none, `nogoods` rules out ingredients and pairs that no drink on target has.

Trade-offs
    `in_keeping_curve` is the oracle for a curve between a measure and what is in keeping: below
    each bound of the measure, the first set with a drink on target, and of that its least drink.
    What a set has none below is remembered.
"""
