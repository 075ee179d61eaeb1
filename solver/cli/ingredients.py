"""`equipour ingredients`: what is known of ingredients."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from solver.cli.complete import complete_ingredient
from solver.cli.options import json_option, shelfless_bar_option
from solver.cli.output import say

if TYPE_CHECKING:
    from solver.pantry.bar import Bar


@click.command()
@click.argument("name", required=False, shell_complete=complete_ingredient)
@json_option
@shelfless_bar_option
def ingredients(name: str | None, as_json: bool, bar: Bar) -> None:
    """Every ingredient, or what is known of NAME and from where."""
    from solver.show.looking import ingredient_text, ingredients_json, ingredients_text

    found = [bar.bottles.find(name)] if name is not None else list(bar.bottles)
    if as_json:
        say(ingredients_json(found, bar), whole=True)
    else:
        said = ingredients_text(found) if name is None else ingredient_text(found[0], bar)
        say(said, whole=name is None)
