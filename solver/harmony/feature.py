"""Room for one ingredient: few other voices, and nothing louder beside it.

People name at most three or four odours in a mixture, trained ones too (Laing and Glemarec 1992,
Livermore and Laing 1998), and a mixture smells mostly of its strongest part.
"""

from __future__ import annotations

from collections.abc import Iterable

from solver.harmony.flavours import Flavour
from solver.harmony.harmony import BottleWish, Harmony

MOST_VOICES = 4
"""How many voices a drink has at most that shows one of them."""
SILENT = (
    "syrup/plain", "sugar", "water", "mixer/soda", "spirit/vodka", "seasoning/saline", "egg/white",
    "foam", "acid",
)  # fmt: skip
"""Kinds that have next to no smell of their own: common practice, no source."""


def featuring(harmony: Harmony, ingredient: str) -> tuple[BottleWish, ...]:
    """What a drink that shows an ingredient of the bar's stock, by its key, has to keep to.

    Empty if no part of the profile takes it.
    """
    shown = next((each for each in harmony.flavours if ingredient in each.bottles), None)
    if shown is None:
        return ()
    others = [each for each in harmony.flavours if each is not shown]
    voices = _bottles(each for each in others if not _silent(each))
    louder = _bottles(each for each in others if each.loud and not shown.loud)
    return (
        BottleWish(frozenset({ingredient}), low=1),
        BottleWish(voices, high=MOST_VOICES - 1),
        BottleWish(louder, high=0),
    )


def _silent(flavour: Flavour) -> bool:
    return not flavour.words.isdisjoint(SILENT)


def _bottles(flavours: Iterable[Flavour]) -> frozenset[str]:
    return frozenset(bottle for flavour in flavours for bottle in flavour.bottles)
