"""`equipour prep`: what a house ingredient really is."""

from __future__ import annotations

import sys
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
@click.option("--aim", "aims", multiple=True, help="Bring it to '60 Brix', 'acid 6 g/100ml', ...")
@click.option("--fortify-to-keep", is_flag=True, help="With --aim: spirit enough against yeast.")
@click.option("--acids", help="With --aim acid: parts of citric and malic, like 2:1.")
@click.option("--spirit", help="With --aim: what to fortify with.  [default: vodka]")
@click.option("--step", default="1 g", show_default=True, help="With --aim: step of the scale.")
@click.option("--stored", help="With --aim: how cold it is kept, like 4 C.")
@click.option("--stock", "to_stock", is_flag=True, help="Write the batch to the shelf.")
@click.option("--made", callback=day, help="The day it was made.")
@json_option
@bar_option
def prep(
    recipe: str,
    amount: str | None,
    aims: tuple[str, ...],
    fortify_to_keep: bool,
    acids: str | None,
    spirit: str | None,
    step: str,
    stored: str | None,
    to_stock: bool,
    made: date | None,
    as_json: bool,
    bar: Bar,
) -> None:
    """What the house RECIPE makes: yield, sweetness, strength, cost, life, allergens.

    RECIPE is in the bar's folder house. Without measurements the answer is an expected range; with
    a weight, a volume or a Brix of what came out it is what went off as steam, what stayed in the
    strainer, and what is in the bottle.

    With --aim, what to add to the batch; RECIPE may then be any ingredient, a juice or a spirit.
    """
    from solver.show.aimed import aimed_json, aimed_text
    from solver.show.prep import prep_json, prep_text
    from solver.tasks.prep import find_recipe, prepare
    from solver.tasks.prep.aim import Wish, aim_at
    from solver.tasks.prep.making import making
    from solver.tasks.prep.stock import stock

    today = made or date.today()
    if aims or fortify_to_keep:
        if to_stock:
            raise click.UsageError("--stock does not go with --aim: cook and measure first.")
        wish = Wish(aims, fortify_to_keep, acids, spirit, step, stored, amount)
        aimed = aim_at(recipe, wish, bar, today)
        say(aimed_json(aimed) if as_json else aimed_text(aimed), whole=as_json)
        sys.exit(0 if aimed.met else 1)
    found = prepare(find_recipe(recipe, bar), bar, today)
    batch = making(found, amount, bar.measures) if amount else None
    stocked = stock(found, bar) if to_stock else None
    show = prep_json if as_json else prep_text
    say(show(found, bar, batch, stocked), whole=as_json)
