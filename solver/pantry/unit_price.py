"""What one mL (or g) of something costs, and who says so."""

from __future__ import annotations

import enum
from dataclasses import dataclass

from solver.pantry.fruit import Fruit


@enum.unique
class Priced(enum.StrEnum):
    """Where a price is from."""

    SHELF = "shelf"
    FRUIT = "fruit"
    RECIPE = "recipe"
    JUICE = "juice"
    """Fruit that has no price, as its juice has one."""


@dataclass(frozen=True)
class UnitPrice:
    """The price of one mL (or g), in the bar's currency, before anything is lost.

    `lost_in_bottle` is the share that never comes out, `labour` the wages in one mL; `fruit` is
    what a juice was pressed from.
    """

    price: float
    source: Priced
    lost_in_bottle: float = 0.0
    labour: float = 0.0
    fruit: Fruit | None = None

    def spent(self, waste: float) -> float:
        """What one mL in a glass costs, with what is spilled and left behind, and the wages."""
        return self.price * (1 + waste) / (1 - self.lost_in_bottle) + self.labour
