"""Why: what cannot hold together, what binds, and fronts. Knows neither drinks, files nor units.

All of it is asked of an oracle, whatever that tells of.

    conflicts     minimal sets of demands that cannot hold together, and minimal correction sets,
                  by QuickXplain and MARCO on an oracle that remembers
    binding       what is better without a demand; one question settles all where none binds
    pareto_front  the trade-off of two measures by epsilon constraints; bounds are put where most
                  is unknown, so that a front that is cut short covers its whole length
"""
