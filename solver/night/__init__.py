"""Plan a run of nights on whole numbers: serves of each drink, and what is got ready when.

No drink, file or unit is known here: a serve takes ticks (hundredths of a millilitre; what is
poured is rounded up, what is there down). `problem` is the question, `pouring` simulates every plan
that is told, first expired first out, and `offering` looks at every menu, both without any rows.

The program
    `rows` and `whole_units` write it. Shares of a known number of drinks are whole numbers; sums
    over nights are each made of the one before, so that a row of a long plan has few terms. For
    items poured in the order in which they came it is enough to count what has spoiled: no variable
    says which lot was poured when. Where something comes later and spoils sooner, lots flow to
    days. Mixed-integer rounding tells a relaxation how many batches a few days need at least.

The stages
    `solve` minimises one after another: what is lost (what is paid and what spoils together), how
    far each night is from the wished shares, what is prepared and how early. Each is exact where
    CP-SAT is done in about a second; else it ends within one per cent of its bound, or with the
    clock, and says how far off it may be. Waste before cost (`--waste-first`) is the harder
    question, and the worse one for a bar: on two bars with seven nights of 25 drinks it left the
    order 20 to 40 % dearer than need be after a minute, and saved a few per cent of what spoils.

How a good plan is found
    HiGHS chooses what decides most: the total of each drink, bottles, batches. Serves are rounded
    night by night, and from there on they are all there is to search, for `as_needed` says exactly
    what is best got for known serves, item by item. `exchange` descends by exchanging one drink for
    another on a night, and tries chains of exchanges (ejection chains), for bottles are bought
    whole. `improve` and `regroup` plan some nights or ten drinks anew with the rest as it is (large
    neighbourhood search). `best_serves` keeps the best.

A menu
    is a plan whose drinks are to be chosen too: `menu_rows` adds a boolean for each drink and
    night, and `solve` two stages: what pouring costs, then how many sorts there are and how little
    they change from night to night. HiGHS settles what is offered, then when, and CP-SAT makes it
    whole; then the question is whether anything loses less by more than a per cent, which is
    answered in a fraction of the time. `menu_steps` has its neighbourhoods. With one worker and
    limits of work, not time, the same question has the same menu, unless the clock ends it.

No plan
    QuickXplain and MARCO (`solver/explain/conflicts`) say which demands clash.

Measured (`python -m tests.bench.nights`), two idle cores, how far a plan may be from its bound with
shares that are free up to twice an equal part / that are stated:

    7 nights, 25 drinks    0.9 to 1.2 % after 2 to 6 s / 0.2 to 1.0 % after 1 s
    14 nights, 50 drinks   4.2 % after 11 s / 0.4 % after 3 s
    28 nights, 100 drinks  21 % after 30 s / 4.7 % after 15 s

HiGHS and CP-SAT alone, on the same rows, leave 14 to 52 % with free shares. Of 28 nights both sides
are weak: HiGHS hardly gets beyond the root, and ten drinks at a time are few.
"""
