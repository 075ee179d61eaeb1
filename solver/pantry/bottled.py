"""What comes in bottles that are opened one by one, and what a bar makes in bulk."""

from __future__ import annotations

from collections.abc import Container
from dataclasses import replace
from typing import Final

from solver.pantry.batches import BATCH
from solver.pantry.ingredient import Ingredient
from solver.pantry.stocked import Stocked

_MADE_HERE: Final = ("juice", "syrup", "acid/solution", "brew", "seasoning/saline")
"""Kinds that a bar makes rather than buys."""
_UNLESS_DELIVERED: Final = (
    "juice/sour", "syrup/plain", "syrup/honey", "acid/solution", "brew/coffee", "seasoning/saline",
)  # fmt: skip
"""Those among them that few bars buy: a price is then what a bottle costs to make, where the shelf
names nobody who delivers it. Our own choice."""
_FRESH: Final = ("dairy", "egg")
"""Kinds that spoil closed, too: a date on a row of them is taken for all of it."""


def made_here(ingredient: Ingredient, row: Stocked | None = None) -> bool:
    """Whether a bar makes it rather than buy it, by its kind and by its row of the shelf.

    A syrup without inputs, as honey, is bought, and so is what the shelf says somebody sells.
    """
    plain = ingredient.is_kind("syrup") and not ingredient.made_of
    bought = plain or ingredient.bought or is_sold(ingredient, row)
    return not bought and any(map(ingredient.is_kind, _MADE_HERE))


def is_sold(ingredient: Ingredient, row: Stocked | None) -> bool:
    """Whether a row says that its bottles are bought: it names who delivers it, or what a bottle
    costs. The day that a brew or a syrup was made says that it is not."""
    if row is None or row.supplier:
        return row is not None
    if row.price is None or row.bottle is None or any(map(ingredient.is_kind, _UNLESS_DELIVERED)):
        return False
    return row.opened is None or ingredient.is_kind("juice")


def by_bottle(row: Stocked, house: Container[str]) -> Stocked:
    """A row that knows whether its bottles are opened one by one and keep until then; `house` are
    keys of what is made here, of which a date is of all that was made. Of what could be made here a
    price alone does not say that closed bottles keep."""
    item = row.ingredient
    made = item.key in house or item.is_kind(BATCH) or (made_here(item) and not row.supplier)
    bottled = row.bottle is not None and item.per == "ml" and not any(map(item.is_kind, _FRESH))
    return replace(row, by_bottle=True) if bottled and not made else row
