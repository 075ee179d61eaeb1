"""Which profile a new drink of what is left could be designed to."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from solver.errors import BadInput, BadInputs
from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.pantry.profile import Profile

WIDELY: Final = ("sour", "highball", "spritz", "flip")
"""Profiles that take most of what a bar pours, for what its own specs have no profile of: our own
choice."""


def profile_to_design(item: Ingredient, known: Iterable[str | None], bar: Bar) -> str | None:
    """The first profile that takes an ingredient and that the shelf can fill; of those that its
    drinks have, then of `WIDELY`. None if none does: then no design would find a drink."""
    for name in dict.fromkeys((*(each for each in known if each), *WIDELY)):
        try:
            profile = bar.profile(name)
        except (BadInput, BadInputs):  # a file of the bar's own that is not in order
            continue
        if any(part.accepts(item) for part in profile.parts) and _can_be_filled(profile, item, bar):
            return name
    return None


def _can_be_filled(profile: Profile, item: Ingredient, bar: Bar) -> bool:
    """Whether the shelf has something for each part that no drink of a profile goes without."""
    there = [item, *(row.ingredient for row in bar.stock if row.on_hand != 0)]
    return all(
        any(map(part.accepts, there))
        for part in profile.parts
        if part.count[0] and part.instead_of is None
    )
