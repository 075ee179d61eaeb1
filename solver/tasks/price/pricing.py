"""Prices of one drink or of the whole book, by what was asked for and what the bar says."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from solver.drinks.assess import find_drink
from solver.errors import BadInput
from solver.pantry.bar import Bar
from solver.pantry.costing import parse_share, pour_cost_of
from solver.pantry.spec import read_specs
from solver.quantities import parse
from solver.tasks.price.asking import Asking, asked, sold_at
from solver.tasks.price.cost import Cost, cost_of
from solver.tasks.price.unit_prices import UnitPrices


def costed_for(bar: Bar, margin: str | None, pour_cost: str | None, tax: str | None) -> Bar:
    """The bar with the target and the tax that were asked for.

    Raises:
        BadInput: one can't be read, or both ways to say the target are there.
    """
    target = pour_cost_of(margin, pour_cost)
    costing = bar.costing
    if target is not None:
        costing = replace(costing, pour_cost=target)
    if tax is not None:
        stated = costing.stated | {"tax"}
        costing = replace(costing, tax=parse_share(tax), stated=stated)
    return replace(bar, costing=costing)


def read_money(text: str, bar: Bar) -> float:
    """A sum in the bar's currency, more than nothing.

    Raises:
        BadInput: it is none.
    """
    value = parse(text, "money", bar.measures, currency=bar.currency)
    if value <= 0:
        raise BadInput("a price is more than nothing", remedy="Write it like 11.50.")
    return value


def priced(
    drink: Sequence[str], bar: Bar, price: float | None = None
) -> list[tuple[Cost, Asking | None]]:
    """A drink, or with none named every spec of the bar, each with what to ask for it.

    With a `price`, what is left of that. None where the cost is not known.

    Raises:
        BadInput, BadInputs: the drink is not known, or a spec is wrong.
    """
    specs = [find_drink(drink, (), bar)] if drink else list(read_specs(bar.specs))
    if not specs:
        raise BadInput("the bar has no specs", remedy="See `equipour design --save`.")
    prices = UnitPrices(bar)
    costing = bar.costing
    found: list[tuple[Cost, Asking | None]] = []
    for spec in specs:
        cost = cost_of(spec, bar, prices)
        asking = None
        if cost.total is not None and price is not None:
            asking = sold_at(price, cost.total, costing.tax)
        elif cost.total is not None:
            asking = asked(cost.total, costing.pour_cost, costing.tax, costing.price_step)
        found.append((cost, asking))
    return found
