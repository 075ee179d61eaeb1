"""`equipour ingredients`: what is known of ingredients."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from solver.cli.bar_option import shelfless_bar_option
from solver.cli.complete import complete_ingredient
from solver.cli.options import table_options
from solver.cli.output import say, say_table

if TYPE_CHECKING:
    from solver.pantry.bar import Bar


@click.command()
@click.argument("name", nargs=-1, shell_complete=complete_ingredient)
@table_options
@shelfless_bar_option
def ingredients(name: tuple[str, ...], as_json: bool, as_csv: bool, bar: Bar) -> None:
    """Every ingredient, those of a kind, or what is known of NAME and from where."""
    from solver.show.documents.ingredients import ingredients_json
    from solver.show.text.ingredients import ingredient_text, ingredients_csv, ingredients_text

    asked = " ".join(name)
    several = bar.bottles.listed_as(asked) if asked else list(bar.bottles)
    found = several or [bar.bottles.find(asked)]
    if as_csv:
        say_table(ingredients_csv(found, bar))
    elif as_json:
        say(ingredients_json(found, bar), whole=True)
    else:
        said = ingredients_text(found) if several else ingredient_text(found[0], bar)
        say(said, whole=bool(several))
