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
_FRESH: Final = ("dairy", "egg")
"""Kinds that spoil closed, too: a date on a row of them is taken for all of it."""


def made_here(ingredient: Ingredient) -> bool:
    """Whether bars make it rather than buy it; a syrup without inputs, as honey, is bought."""
    plain = ingredient.is_kind("syrup") and not ingredient.made_of
    bought = plain or ingredient.bought
    return not bought and any(map(ingredient.is_kind, _MADE_HERE))


def by_bottle(row: Stocked, house: Container[str]) -> Stocked:
    """A row that knows whether its bottles are opened one by one and keep until then; `house` are
    keys of what is made here, of which a date is of all that was made."""
    item = row.ingredient
    made = item.key in house or item.is_kind(BATCH) or (made_here(item) and not row.supplier)
    bottled = row.bottle is not None and item.per == "ml" and not any(map(item.is_kind, _FRESH))
    return replace(row, by_bottle=True) if bottled and not made else row
