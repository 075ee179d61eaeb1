"""What is added to each serve instead of the batch, and why. All of it is common practice, no
source."""

from __future__ import annotations

import enum
from dataclasses import dataclass
from typing import Final

from solver.drinks.guest_notice import is_fizzy
from solver.drinks.method import is_floated
from solver.pantry.pour import Pour


@enum.unique
class Wait(enum.StrEnum):
    """Why something is not in the bottle. The words are in `show`."""

    BUBBLES = "bubbles"
    CITRUS = "citrus"
    JUICE = "juice"
    DAIRY = "dairy"
    EGG = "egg"
    FOAM = "foam"
    COCONUT = "coconut"
    FRESH = "fresh"
    """Leaves and fruit that are muddled or bruised for each drink."""
    HOT = "hot"
    FLOAT = "float"
    TOP = "top"


@dataclass(frozen=True)
class LeftOut:
    """A pour that is added to each serve."""

    line: Pour
    why: Wait


_KINDS: Final = (
    (Wait.CITRUS, ("juice/sour", "juice/citrus")),
    (Wait.JUICE, ("juice",)),
    (Wait.DAIRY, ("dairy",)),
    (Wait.EGG, ("egg",)),
    (Wait.FOAM, ("foam",)),
    (Wait.COCONUT, ("coconut",)),
    (Wait.FRESH, ("raw",)),
)
"""The first rule that fits applies."""

SPOILS_FIRST: Final = ("juice", "dairy", "egg", "foam", "coconut")
"""Kinds that are never bottled ahead, for they spoil before anything else does."""


def wait_of(line: Pour, technique: str) -> Wait | None:
    """Why a pour of a drink waits for service; None if it goes into the bottle."""
    item = line.ingredient
    if is_fizzy(item):
        return Wait.BUBBLES
    for wait, kinds in _KINDS:
        if any(map(item.is_kind, kinds)):
            return wait
    if technique == "hot" and (item.is_kind("brew") or item.is_kind("water")):
        return Wait.HOT
    if not line.top:
        return None
    return Wait.FLOAT if is_floated(item) else Wait.TOP


def is_made_with_ice(left: LeftOut) -> bool:
    """Whether it has to be shaken or blended with ice, so that the batch is made on ice again."""
    return not left.line.top and left.why not in {Wait.BUBBLES, Wait.HOT}
