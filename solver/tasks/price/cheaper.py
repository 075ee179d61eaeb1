"""The smallest change of a recipe that brings a drink under a cost, and keeps it what it was."""

from __future__ import annotations

from dataclasses import dataclass, replace

from solver.clock import Clock
from solver.drinks.assess import assess
from solver.measures import MEASURES
from solver.pantry.bar import Bar
from solver.pantry.shelf import Stocked
from solver.search.milp.backend import Backend
from solver.search.problem import Limit
from solver.tasks.price.cost import Cost, cost_of
from solver.tasks.price.unit_prices import UnitPrices
from solver.tasks.respec.held_ranges import kept_of
from solver.tasks.respec.repour import Rebalanced, cheapest, nearest_within
from solver.tasks.respec.slots import SlotPlace
from solver.tasks.respec.substitutes import could_stand_in, on_hand


@dataclass(frozen=True)
class Cheaper:
    """What brings a drink under a cost, and what it then costs with all that is added.

    `found` None where it is proven that nothing does; then `least` is the cheapest that stays what
    it was, None where there is none at all.
    """

    most: float
    was: Cost
    found: Rebalanced | None
    cost: Cost | None
    least: Rebalanced | None = None
    least_cost: Cost | None = None


def cheaper(
    cost: Cost, most: float, bar: Bar, prices: UnitPrices, backend: Backend, clock: Clock
) -> Cheaper:
    """The fewest changed pours, by the least change, with which a drink costs at most `most`.

    It keeps the strength, sugar, acid and volume that it has now, whatever was approved, each
    within one noticeable difference; a pour may be of another bottle of the same kind. Garnish and
    ice stay as they are.

    Raises:
        BadInput, BadInputs: a recipe on the shelf is wrong.
        Unproven: the time was up.
    """
    priced = fully_priced(bar, prices)
    made = assess(cost.spec.model_copy(update={"approved": None}), priced)
    kept = kept_of(made, priced)
    there = [item for item in on_hand(made, priced) if _price(priced, item.key) is not None]
    places = []
    for at, line in enumerate(made.lines):
        alike = [item for item in there if item.kind == line.ingredient.kind]
        instead = could_stand_in(line, made, kept, alike)
        places.append(SlotPlace(at, line, (line.ingredient, *instead)))
    limit = Limit("cost", MEASURES["cost"], None, most - cost.beside_pours)
    found = None
    if most > cost.beside_pours:
        found = nearest_within(places, made, kept, (limit,), priced, backend, clock)
    if found is not None and found.after is not None:
        return Cheaper(most, cost, found, cost_of(found.after.spec, bar, prices))
    least = cheapest(places, made, kept, priced, backend, clock)
    after = least.after if least else None
    return Cheaper(
        most, cost, None, None, least, cost_of(after.spec, bar, prices) if after else None
    )


def fully_priced(bar: Bar, prices: UnitPrices) -> Bar:
    """The bar with prices of what is spent: with what is spilled and left behind, and wages.

    What the search then minimises, and what is told, are one.
    """

    def full(row: Stocked) -> Stocked:
        price = prices.of(row.ingredient.key)
        spent = None if price is None else price.spent(bar.costing.waste)
        return replace(row, bottle=1.0, price=spent)

    return replace(bar, stock=tuple(map(full, bar.stock)), past=tuple(map(full, bar.past)))


def _price(bar: Bar, key: str) -> float | None:
    row = bar.stocked(key)
    return row.price_per_unit if row else None
