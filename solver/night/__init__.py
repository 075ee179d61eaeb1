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
    HiGHS chooses what decides most: the total of each drink, bottles, batches. CP-SAT rounds the
    serves of all nights together, up or down, in the best way there is, which takes it a tenth of a
    second. From there on serves are all there is to search, for `as_needed` says exactly what is
    best got for known ones, item by item. `exchange` descends by exchanging one drink for another
    on a night, and tries chains of exchanges (ejection chains), for bottles are bought whole. A
    long plan is made of the linear relaxation first, with which HiGHS begins. `improve` and
    `regroup` plan some nights or ten drinks anew with the rest as it is (large neighbourhood
    search). `best_serves` keeps the best.

A menu
    is a plan whose drinks are to be chosen too: `menu_rows` adds a boolean for each drink and
    night, and `solve` two stages: what pouring costs, then how many sorts there are and how little
    they change from night to night. HiGHS settles what is offered, then when, and CP-SAT makes it
    whole; then the question is whether anything loses less by more than a per cent, which is
    answered in a fraction of the time. `menu_steps` has its neighbourhoods. With one worker and
    limits of work, not time, the same question has the same menu, unless the clock ends it.

No plan
    `why_none`: QuickXplain and MARCO (`solver/explain/conflicts`) say which demands clash.

Measured (`python -m tests.bench.nights 3 ours`), seconds of a processor that others used, too, and
how far a plan may be from its bound with shares that are free up to twice an equal part / that are
stated (14 and 28 nights of those on two idle cores):

    7 nights, 25 drinks    0.5 to 1.0 % after 0.8 to 5.4 s, ten bars / 0.2 to 1.0 % after 1 s
    14 nights, 50 drinks   4.5 % after 12 s, 3.3 % after 20 s / 0.4 % after 3 s
    28 nights, 100 drinks  23 % after 25 s / 4.7 % after 15 s

On eight of the ten bars it is 2.4 s at most; on the other two HiGHS takes 4.5 s to come within
0.3 % of what it chooses, and 1.3 to 5.3 s with other random seeds. HiGHS and CP-SAT alone, on the
same rows, leave 14 to 52 % with free shares. Of 28 nights both sides are weak: HiGHS hardly gets
beyond the root, and ten drinks at a time are few. The convex hull of what the bottles of one drink
cost raised the linear bound by 1 to 2 %, and made HiGHS no faster: its own cuts find as much.
"""
