"""Menus: which drinks to offer, so that what is dated is used in time and the margin holds.

Candidates are the book and designs of what is dated (`new_drinks`): profiles by how little less
usual a drink with the ingredient is, each with another base, and with more of the ingredient as
long as it is on target. Of new drinks that a guest would take for one (`similar_drinks`: base,
sour, what is shown), or that show the same in one profile, one is offered, and none beside a drink
of the book like it. Of what is to be used up the house makes no more meanwhile. The choice is
`solver/night`'s.

A No says what cannot be had in time (`missing_for_menu`) and which drinks of the book nearly do for
a guest (`nearly_for_guest`).

Measured (`python -m tests.bench.menus`), two idle cores: 140 drinks on nine nights, 19 drinks to
choose from, 12 of them new: a menu after 9.2 s, designs included, what is lost proven to 1.0 % and
what pouring costs to the 5 % that it is given; with a limit of 10 s after 8.0 s, to 1.0 and 6.1 %.
The book alone takes 4 s. On a processor that is shared by eight a menu of 20 s has only three; it
may lose twice as much as need be, and says so.
"""
