"""A limit on the cost of a spec that is poured otherwise."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from solver.drinks.assess import Assessment
from solver.errors import BadInput
from solver.measures import MEASURES
from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.pantry.missing_prices import unpriced_names
from solver.printable import short
from solver.quantities import parse_span
from solver.search.problem import Limit

_COST = MEASURES["cost"]
_BELOW = re.compile(r"\s*(\d{1,2}(?:\.\d+)?)\s*%\s*below(?:\s+now)?\s*")


@dataclass(frozen=True)
class CostLimit:
    """An upper limit on the cost of the pours, and their present cost, in the bar's currency.

    `kept` is true if some drink keeps it and stays within its ranges.
    """

    most: float
    now: float
    kept: bool = False

    @property
    def limit(self) -> Limit:
        """The limit for the search."""
        return Limit("cost", _COST, None, self.most)


def cost_limit(text: str, made: Assessment, others: Iterable[Ingredient], bar: Bar) -> CostLimit:
    """Read a limit like "<=2.60" or "12% below now", for a drink that may pour `others` too.

    Raises:
        BadInput: it can't be read, or a price is missing.
    """
    poured = (*(line.ingredient for line in made.lines), *others)
    unpriced = [item.key for item in poured if _price(item, bar) is None]
    if unpriced or made.values["cost"] is None:
        what = f"there is no price for {', '.join(unpriced_names(bar, *unpriced))}"
        raise BadInput(what, why="the cost is asked about", remedy="Fill it in in shelf.csv.")
    now = made.values["cost"]
    below = _BELOW.fullmatch(text)
    if below is not None:
        return CostLimit(now * (1 - float(below[1]) / 100), now)
    span = parse_span(text, _COST.quantity, bar.measures, currency=bar.currency)
    if span.high is None or span.low is not None:
        what = f"'{short(text)}' is not the most that it may cost"
        raise BadInput(what, remedy="Write it like '<=2.60' or '12% below now'.")
    return CostLimit(span.high, now)


def _price(item: Ingredient, bar: Bar) -> float | None:
    row = bar.stocked(item.key)
    return row.price_per_unit if row else None
