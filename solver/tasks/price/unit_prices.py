"""What one mL (or g) of everything costs: as the shelf says, by the fruit, or by the recipe."""

from __future__ import annotations

import enum
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from solver.pantry.bar import Bar
from solver.pantry.fruit import Fruit, fruit_by_juice
from solver.tasks.prep import Prep, prepare


@enum.unique
class Priced(enum.StrEnum):
    """Where a price is from."""

    SHELF = "shelf"
    FRUIT = "fruit"
    RECIPE = "recipe"


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


@dataclass(frozen=True)
class UnitPrices:
    """Prices of a bar's ingredients, each worked out where it is asked for."""

    bar: Bar

    def of(self, key: str) -> UnitPrice | None:
        """The price of an ingredient; None where nothing tells it.

        Raises:
            BadInput, BadInputs: its recipe is wrong.
        """
        stocked = self.bar.stocked(key)
        price = stocked.price_per_unit if stocked else None
        labour = self.labour(key)
        if price is not None:
            item = self.bar.bottles.find(key)
            bottled = item.per == "ml" and key not in self.bar.house and key not in self.fruit
            lost = self.bar.costing.left_in_bottle if bottled else 0.0
            return UnitPrice(price, Priced.SHELF, lost, labour)
        fruit = self.fruit.get(key)
        by_weight = self.of(fruit.key) if fruit else None
        if fruit is not None and by_weight is not None:
            return UnitPrice(by_weight.price * fruit.grams(1.0), Priced.FRUIT, fruit=fruit)
        batch = self._batch(key)
        if batch is None or batch.cost is None:
            return None
        each = batch.cost / batch.figures.volume_ml.value
        return UnitPrice(each, Priced.RECIPE, labour=labour)

    def labour(self, key: str) -> float:
        """Wages in one mL of a house ingredient, where bar.toml says how long it takes."""
        costing = self.bar.costing
        minutes = costing.hands_on_min.get(key, 0.0)
        batch = self._batch(key) if minutes and costing.labour_per_hour else None
        if batch is None or costing.labour_per_hour is None:
            return 0.0
        return minutes / 60 * costing.labour_per_hour / batch.figures.volume_ml.value

    @cached_property
    def fruit(self) -> Mapping[str, Fruit]:
        """What each juice is pressed from."""
        return fruit_by_juice(self.bar.library)

    @cached_property
    def _batches(self) -> dict[str, Prep]:
        """What recipes make, as far as it was asked."""
        return {}

    def _batch(self, key: str) -> Prep | None:
        recipe = self.bar.recipes.get(key)
        if recipe is not None and key not in self._batches:
            self._batches[key] = prepare(recipe, self.bar, self.bar.today)
        return self._batches.get(key)
