"""The neighbourhoods of a large neighbourhood search for menus."""

from __future__ import annotations

import random

from solver.night.menu_rows import MenuRows

OUT, IN = 3, 8
"""The most drinks that leave the menu in one step, and that come onto it."""
NIGHTS = 3
"""Consecutive nights that are chosen anew in one step."""


def kept_of_menu(rows: MenuRows, values: tuple[int, ...], pick: random.Random) -> list[int]:
    """The serves that are fixed in one step.

    All drinks but a few are fixed; or what is not on the menu; or all nights but some.
    """
    on = [at for at, v in enumerate(rows.offered) if values[v]]
    off = [at for at, v in enumerate(rows.offered) if not values[v]]
    step = pick.randrange(3)
    if step == 0:
        free = {*pick.sample(on, min(OUT, len(on))), *pick.sample(off, min(IN, len(off)))}
        return [v for night in rows.serves for at, v in enumerate(night) if at not in free]
    if step == 1:
        return [night[at] for night in rows.serves for at in off]
    first = pick.randrange(max(1, len(rows.serves) - NIGHTS + 1))
    nights = range(first, first + NIGHTS)
    return [v for at, night in enumerate(rows.serves) if at not in nights for v in night]
