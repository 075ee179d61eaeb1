"""The price of one mL (or g) of each ingredient: of the shelf, by its fruit, its juice or its
recipe."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from solver.pantry.bar import Bar
from solver.pantry.fruit import Fruit, fruit_by_juice
from solver.pantry.pressed import juice_price
from solver.pantry.unit_price import Priced, UnitPrice
from solver.tasks.prep import Prep, prepare
from solver.tasks.prep.prepare import price_by_recipe


@dataclass(frozen=True)
class UnitPrices:
    """Prices of a bar's ingredients, computed on demand."""

    bar: Bar

    def of(self, key: str) -> UnitPrice | None:
        """The price of an ingredient; None if unknown.

        Raises:
            BadInput, BadInputs: its recipe is wrong.
        """
        stocked = self.bar.stocked(key)
        labour = self.labour(key)
        if stocked is not None and stocked.worked_out is not None:
            return replace(stocked.worked_out, labour=labour)
        price = stocked.price_per_unit if stocked else None
        if price is not None:
            item = self.bar.bottles.find(key)
            bottled = item.per == "ml" and key not in self.bar.house and key not in self.fruit
            lost = self.bar.costing.left_in_bottle if bottled else 0.0
            return UnitPrice(price, Priced.SHELF, lost, labour)
        fruit = self.fruit.get(key)
        by_fruit = juice_price(fruit, self.bar.stocked(fruit.key)) if fruit else None
        if by_fruit is not None:
            return by_fruit
        batch = self._batch(key)
        found = price_by_recipe(batch) if batch else self._by_juice(key)
        return replace(found, labour=labour) if found else None

    def _by_juice(self, key: str) -> UnitPrice | None:
        """The price of fruit that has none itself: that of the juice which it gives."""
        fruit = next((each for each in self.fruit.values() if each.key == key), None)
        juice = self.of(fruit.gives) if fruit else None
        if fruit is None or juice is None:
            return None
        return UnitPrice(juice.price / fruit.units(1.0), Priced.JUICE)

    def labour(self, key: str) -> float:
        """Wages in one mL of a house ingredient, if bar.toml states its working time."""
        costing = self.bar.costing
        minutes = costing.hands_on_min.get(key, 0.0)
        batch = self._batch(key) if minutes and costing.labour_per_hour else None
        if batch is None or costing.labour_per_hour is None:
            return 0.0
        return minutes / 60 * costing.labour_per_hour / batch.figures.volume_ml.value

    @cached_property
    def fruit(self) -> Mapping[str, Fruit]:
        """The fruit of each juice, by key."""
        return fruit_by_juice(self.bar.library)

    @cached_property
    def _batches(self) -> dict[str, Prep]:
        """Evaluated recipes, as far as they were needed."""
        return {}

    def _batch(self, key: str) -> Prep | None:
        recipe = self.bar.recipes.get(key)
        if recipe is not None and key not in self._batches:
            self._batches[key] = prepare(recipe, self.bar, self.bar.today)
        return self._batches.get(key)
