"""`equipour price`: what drinks cost, and what to ask for them."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

import click

from solver.cli.bar_option import bar_option, tell_misread
from solver.cli.complete import complete_spec
from solver.cli.exits import ANSWERED, IMPOSSIBLE
from solver.cli.options import only_with, table_options, time_limit_option
from solver.cli.output import say, say_table

if TYPE_CHECKING:
    from solver.pantry.bar import Bar
    from solver.tasks.price.cheaper import Cheaper
    from solver.tasks.price.drink_cost import Cost


@click.command(short_help="What drinks cost, and what to ask for them.")
@click.argument("drink", nargs=-1, shell_complete=complete_spec)
@click.option("--all", "whole", is_flag=True, help="Every spec of the bar, as a list.")
@click.option("--margin", help="Of the price before tax, like 78%.")
@click.option("--pour-cost", help="The same the other way round, like 22%.")
@click.option("--tax", help="The tax, like 19%: in the price, or on top where that is usual.")
@click.option("--at", "price", help="At this price on the list, what is left.")
@click.option("--under", help="The smallest change with which it costs no more.")
@time_limit_option
@table_options
@bar_option
def price(
    drink: tuple[str, ...],
    whole: bool,
    margin: str | None,
    pour_cost: str | None,
    tax: str | None,
    price: str | None,
    under: str | None,
    as_csv: bool,
    seconds: float,
    as_json: bool,
    bar: Bar,
) -> None:
    """What a DRINK costs, line by line, and what to ask for it.

    With garnish, ice, waste, tax and work, as the table [costing] of bar.toml says. Tax is in the
    price on the list, but in the United States and Canada it comes on top, unless tax_on_top says
    otherwise. With --at, a drink that costs too much for its price says which change would do.
    """
    from solver.tasks.prep.uncooked import with_said_ahead
    from solver.tasks.price.price_book import costed_for, priced, priced_all, read_money

    if whole == bool(drink):
        raise click.UsageError("name a drink, or say --all.")
    only_with(not whole, "one drink", "price", "under")
    only_with(price is not None or under is not None, "--under or --at", "seconds")
    bar = costed_for(bar, margin, pour_cost, tax)
    cheaper = most = None
    if whole:
        found, misread = priced_all(bar)
        tell_misread(misread)
    else:
        at = None if price is None else read_money(price, bar)
        most = None if under is None else read_money(under, bar)
        bar = with_said_ahead(bar, drink)
        found = [priced(drink, bar, at)]
        cheaper = _cheaper(found[0][0], most, at, seconds, bar)
    from solver.show.documents.price import price_json
    from solver.show.text.price import (
        cheap_enough_text,
        cheaper_text,
        list_csv,
        list_text,
        price_text,
    )

    if as_csv:
        say_table(list_csv(found, bar))
    elif as_json:
        say(price_json(found, cheaper, bar), whole=True)
    elif whole:
        say(list_text(found, bar), whole=True)
    else:
        say(price_text(*found[0], bar), whole=True)
        if cheaper is not None:
            say(f"\n{cheaper_text(cheaper, bar)}", whole=False)
        elif most is not None and found[0][0].total is not None:
            say(f"\n{cheap_enough_text(found[0][0].total, most)}", whole=False)
    sys.exit(IMPOSSIBLE if cheaper is not None and cheaper.found is None else ANSWERED)


def _cheaper(
    cost: Cost, under: float | None, price: float | None, seconds: float, bar: Bar
) -> Cheaper | None:
    """What brings a drink under the cost that was named, or that its price allows."""
    from solver.clock import Clock
    from solver.search.milp.cpsat import CpSat
    from solver.tasks.price.cheaper import cheaper
    from solver.tasks.price.list_price import most_to_cost
    from solver.tasks.price.unit_prices import UnitPrices

    costing = bar.costing
    if under is None and price is not None:
        under = most_to_cost(price, costing.pour_cost, costing.tax_in_list)
    if under is None or cost.total is None or cost.total <= under:
        return None
    return cheaper(cost, under, bar, UnitPrices(bar), CpSat(), Clock.of(seconds))
