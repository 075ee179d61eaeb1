"""`equipour prep`: what a house ingredient really is."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

import click

from solver.cli.complete import complete_recipe
from solver.cli.options import bar_option, json_option
from solver.cli.output import say
from solver.cli.values import day

if TYPE_CHECKING:
    from solver.pantry.bar import Bar


@click.command(short_help="What a house ingredient really is.")
@click.argument("recipe", shell_complete=complete_recipe)
@click.option("--make", "amount", help="How much to make, like '1.5 L' or '2 kg'.")
@click.option("--stock", "to_stock", is_flag=True, help="Write the batch to the shelf.")
@click.option("--made", callback=day, help="The day it was made.")
@json_option
@bar_option
def prep(
    recipe: str,
    amount: str | None,
    to_stock: bool,
    made: date | None,
    as_json: bool,
    bar: Bar,
) -> None:
    """What the house RECIPE makes: yield, sweetness, strength, cost, life, allergens.

    RECIPE is in the bar's folder house. Without measurements the answer is an expected range; with
    a weight, a volume or a Brix of what came out it is what went off as steam, what stayed in the
    strainer, and what is in the bottle.
    """
    from solver.show.prep import prep_json, prep_text
    from solver.tasks.prep import find_recipe, prepare
    from solver.tasks.prep.making import making
    from solver.tasks.prep.stock import stock

    found = prepare(find_recipe(recipe, bar), bar, made or date.today())
    batch = making(found, amount, bar.measures) if amount else None
    stocked = stock(found, bar) if to_stock else None
    show = prep_json if as_json else prep_text
    say(show(found, bar, batch, stocked), whole=as_json)
