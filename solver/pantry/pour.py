"""A pour: an amount of an ingredient in a drink, the same from a spec's file to the card."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from solver.pantry.ingredient import Ingredient
from solver.pantry.profile import Stage
from solver.quantities import WrittenAmount


@dataclass(frozen=True)
class Pour:
    """An amount of an ingredient: `amount` in its own unit, mL, or g of what is weighed.

    `tool` measures it; `written` is how somebody wrote it, None where it was computed. `part` ""
    and `stage` None: nobody has said yet, and a profile may. `cost` is in the bar's currency; None
    where the price is not known.
    """

    ingredient: Ingredient
    amount: float
    tool: str
    written: WrittenAmount | None = None
    part: str = ""
    stage: Stage | None = None
    cost: float | None = None

    @property
    def top(self) -> bool:
        """Whether it is added after the ice has done its work."""
        return self.stage == "top"


def by_key(pours: Iterable[Pour]) -> dict[str, float]:
    """What some pours come to of each ingredient, by its key, in its own unit."""
    found: dict[str, float] = {}
    for pour in pours:
        key = pour.ingredient.key
        found[key] = found.get(key, 0.0) + pour.amount
    return found
