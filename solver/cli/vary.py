"""`equipour vary`: how a drink differs from one to the next."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from solver.cli.bar_option import bar_option
from solver.cli.complete import complete_profile, complete_spec, complete_technique
from solver.cli.options import json_option, name_option
from solver.cli.output import say

if TYPE_CHECKING:
    from solver.pantry.bar import Bar


@click.command(short_help="How a drink differs from one to the next.")
@click.argument("drink", nargs=-1, required=True, shell_complete=complete_spec)
@click.option("--top", "topped", multiple=True, help="A pour that is added after the ice.")
@name_option(
    "--profile", says="Hold it to this; to a spec's own by default.", complete=complete_profile
)
@name_option(
    "--technique", says="How it is made: shake, stir, build, ...", complete=complete_technique
)
@click.option("--jigger", help="How far a jigger's pour is off, either way, like 1ml; 0ml: never.")
@click.option("--melt", help="The least and most melt, as times the usual, like 0.7..1.3.")
@click.option(
    "--figure",
    "figures",
    multiple=True,
    help='The range of a strength, sugar or acid: "lime-juice acid=4.8..6.3 g/100ml".',
)
@json_option
@bar_option
def vary(
    drink: tuple[str, ...],
    topped: tuple[str, ...],
    profile: str | None,
    technique: str | None,
    jigger: str | None,
    melt: str | None,
    figures: tuple[str, ...],
    as_json: bool,
    bar: Bar,
) -> None:
    """How steady DRINK is on a busy night, and what to tighten.

    Pours are a little off, fruit is sharper or milder, ice melts more or less: thousands of such
    drinks are worked out, each as likely as the next, and held to the profile. What is not said
    here is as practice has it; --json names the source of every range.

    DRINK is a spec of the bar, the path of a spec file, or pours like '2 oz rye-whiskey'.
    """
    from solver.drinks.assess import assess, find_drink
    from solver.drinks.variation import vary as solve
    from solver.requests.spread_from_words import read_spread
    from solver.show.documents.variation import variation_json
    from solver.show.text.variation import variation_text
    from solver.tasks.prep.uncooked import with_said_ahead

    bar = with_said_ahead(bar, (*drink, *topped))
    hands = read_spread(jigger, melt, figures, bar)
    found = assess(find_drink(drink, topped, bar), bar, profile=profile, technique=technique)
    varied = solve(found, bar, hands)
    say((variation_json if as_json else variation_text)(varied, bar), whole=as_json)
