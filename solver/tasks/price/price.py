"""Price one drink or the whole book, by what was asked for and the bar's settings."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from solver.drinks.assess import find_drink
from solver.errors import BadInput, BadInputs
from solver.files.checked import gather
from solver.pantry.bar import Bar
from solver.pantry.costing import parse_share, pour_cost_of
from solver.pantry.spec import Misread
from solver.quantities import parse
from solver.tasks.price.cost import Cost, cost_of
from solver.tasks.price.list_price import ListPrice, lowest_price, sold_at
from solver.tasks.price.unit_prices import UnitPrices


def costed_for(bar: Bar, margin: str | None, pour_cost: str | None, tax: str | None) -> Bar:
    """The bar with the target and tax that were asked for.

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
    """Read a positive amount in the bar's currency.

    Raises:
        BadInput: it is none.
    """
    value = parse(text, "money", bar.measures, currency=bar.currency)
    if value <= 0:
        raise BadInput("a price is more than nothing", remedy="Write it like 11.50.")
    return value


def priced(
    drink: Sequence[str], bar: Bar, price: float | None = None
) -> tuple[Cost, ListPrice | None]:
    """The cost of a drink, with the price to ask or, for a given `price`, what remains of it; None
    without a cost.

    Raises:
        BadInput, BadInputs: the drink is not known, or its spec is wrong.
    """
    return _asked(cost_of(find_drink(drink, (), bar), bar, UnitPrices(bar)), bar, price)


def priced_all(bar: Bar) -> tuple[list[tuple[Cost, ListPrice | None]], tuple[Misread, ...]]:
    """Every readable spec of the bar, priced as by `priced`, and the files that cannot be read.

    Raises:
        BadInput, BadInputs: there is none.
    """
    prices = UnitPrices(bar)
    found: list[tuple[Cost, ListPrice | None]] = []
    misread = [*bar.book.misread]
    for spec in bar.book.specs:
        try:
            found.append(_asked(cost_of(spec, bar, prices), bar, None))
        except (BadInput, BadInputs) as error:
            misread.append(Misread(spec.origin or Path(), error))
    if not found:
        gather([each.error for each in misread])
        raise BadInput("the bar has no specs", remedy="See `equipour design --save`.")
    return found, tuple(sorted(misread, key=lambda each: each.path))


def _asked(cost: Cost, bar: Bar, price: float | None) -> tuple[Cost, ListPrice | None]:
    costing = bar.costing
    if cost.total is None:
        return cost, None
    if price is not None:
        return cost, sold_at(price, cost.total, costing.tax_in_list, costing.tax_added)
    return cost, lowest_price(
        cost.total, costing.pour_cost, costing.tax_in_list, costing.price_step, costing.tax_added
    )
