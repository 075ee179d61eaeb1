"""Prices of house ingredients by their recipes, if the shelf has none."""

from __future__ import annotations

from collections.abc import Mapping

from solver.errors import BadInput, BadInputs
from solver.pantry.bar import Bar
from solver.pantry.missing_prices import unpriced_inputs
from solver.pantry.unit_price import UnitPrice


def with_costs(bar: Bar) -> Bar:
    """The bar with a price for everything in stock whose recipe determines one.

    Unchanged are: what has a price, what a recipe makes from something without one, and what a
    faulty recipe makes; the fault is reported to whoever asks for the recipe.
    """
    if bar.shelf is None:
        return bar
    rows = (row for row in (*bar.stock, *bar.past, *bar.waiting) if row.price_per_unit is None)
    waiting = {row.ingredient.key for row in rows if row.ingredient.key in bar.recipes}
    within = _all_within(bar.inputs) if waiting else {}
    while waiting:
        ready = sorted(key for key in waiting if not within.get(key, set()) & waiting)
        found = {key: cost for key in ready if (cost := _cost(key, bar)) is not None}
        bar = bar.with_prices(found) if found else bar
        waiting -= {*ready}
    return bar


def _all_within(inputs: Mapping[str, tuple[str, ...]]) -> dict[str, set[str]]:
    """Keys of everything that goes into each ingredient, on all levels."""
    found: dict[str, set[str]] = {}
    for key, below in inputs.items():
        found[key] = {*below}.union(*(found.get(each, set()) for each in below))
    return found


def _cost(key: str, bar: Bar) -> UnitPrice | None:
    if unpriced_inputs(bar, key):
        return None
    from solver.tasks.prep.prepare import prepare, price_by_recipe  # takes a while to load

    try:
        return price_by_recipe(prepare(bar.recipes[key], bar, bar.today))
    except (BadInput, BadInputs):
        return None
