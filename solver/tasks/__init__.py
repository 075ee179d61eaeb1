"""One module for each thing a user asks for, and a package where it takes several.

`design`, `check_any`, `tradeoff` and `why` are of new drinks. `subproblems` solves what remains
when a demand is dropped or moved; problems with the same bottles and pours share their drinks, so
that one more question takes some 10 ms.

How a why is found
    `more_in_keeping` asks for every demand whether a set that is more in keeping can be poured
    without it. Conflicts are of what was asked, in the frame of profile and jigger; of the frame,
    each names what alone would dissolve it. What is asked past a profile's own bound is said first,
    with the drink that lies there (`requests/crossed_bounds`). `ways_out` looks for the smallest
    move of one limit, a search for the drink nearest to keeping it with all else kept; then the
    smallest joint move; then wishes to drop, other pours or a finer jigger, and what to buy.

`design --as-in-keeping-as` is a floor: a measured goal follows the curve from its most in keeping
end as far as the floor, and a MILP solver is asked whether anything with less is worth as much.
Where not even the best comes up to it, `why_beneath` says limit by limit what it would take.

What somebody asks for longer is the long drink that its profile names (`longer_drink`): the same
pours beneath its top, else the same ingredients, else its base; nothing new but what balances it. A
profile that names none and has a top pours more of that; one without is said to be merely larger.
With a goal, it is the best of all long drinks. Where nothing is within two noticeable differences
of what was asked, `far_off` says so: the closest is shown, a guest is told No, nothing is saved,
and it ends as what is impossible does.

`check_any` asks every profile; drinks of different profiles are compared by how much less they are
worth than the best set of their own. Where all have none, `why_no_profile` says what rules them
out and what to buy.
"""
