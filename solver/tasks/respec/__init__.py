"""Keep a drink's strength, sugar, acid and volume with other bottles: one spec, or the whole book.

A drink is poured anew, never substituted one for one.

    held_ranges   what a spec is held to: what was approved, in strength, sugar, acid and volume,
                  each within one noticeable difference, or a third of what its own melt spreads
                  over; in a smaller glass the volume follows, and all lines are scaled together
    slots         every line as a part of its own problem, filled by its ingredient or a stand-in.
                  What may move is said by the spec, else by `[moves]` of its profile, else by kind
                  (`pantry/practice.toml`)
    repour        solves that for the goal `nearest`: the fewest changed pours, those first that
                  move first, then the least change. Where nothing keeps the drink, the least excess
                  over the ranges, then the fewest changes within a tenth of a noticeable difference
                  of it, and which ranges clash
    similarity    what may stand in, by composition: what a pour brings to this drink, in its own
                  noticeable differences. Kinds of which figures say too little (egg, bitters, soda)
                  are replaced by their own kind, or by one that does the same, alone
    substitutes   a swap without a name tries each stand-in by itself
    split_shares  a split, as near to its shares as can be measured, then less and less so: the
                  first that keeps the drink is the most even, those before it are the proof
    cost_limit    the most that a split may cost; where none keeps it, the cheapest proves it
    scale         one spec for another glass; of all roundings the one that keeps best
    book          all specs after a change, written together or not at all
    order         a spec that somebody orders otherwise: a profile of its own (`as_profile`), whose
                  parts are the lines and whose limits what it was approved as, so that conflicts,
                  ways out and a second solver come as for every profile
"""
