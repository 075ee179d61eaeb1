"""Parts that most drinks of a profile fill and a drink leaves empty, for want of stock."""

from __future__ import annotations

from collections.abc import Collection

from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.pantry.profile import Part, Profile

SELDOM = 0.5
"""Share of a profile's drinks that leave a part empty, below which most fill it."""


def empty_parts(
    profile: Profile, bar: Bar, filled: Collection[str]
) -> tuple[tuple[Ingredient, ...], ...]:
    """For each part that most drinks of the profile fill and `filled` does not name: its most usual
    ingredients, as many as are usual.

    Without parts that something in stock could fill, or of which another was filled instead. Empty
    if there is none.
    """
    instead = {name for part in profile.parts if part.name in filled for name in (part.instead_of,)}
    return tuple(
        _usual(part, bar)
        for part in profile.parts
        if part.name not in {*filled, *instead}
        and part.usual_count.get("0", 1.0) < SELDOM
        and part.instead_of is None
        and not any(part.accepts(row.ingredient) for row in bar.stock)
    )


def _usual(part: Part, bar: Bar) -> tuple[Ingredient, ...]:
    """The ingredients that most usually fill a part; kinds are left out, as nobody can buy one."""
    number = int(max(part.usual_count, key=part.usual_count.__getitem__))
    named = sorted(part.usual, key=part.usual.__getitem__, reverse=True)
    known = [item for key in named if (item := bar.bottles.get(key)) is not None]
    return tuple(known[:number])
