"""`equipour ingredients`: what is known of ingredients."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from solver.cli.options import bar_option, json_option

if TYPE_CHECKING:
    from solver.pantry.bar import Bar


@click.command()
@click.argument("name", required=False)
@json_option
@bar_option
def ingredients(name: str | None, as_json: bool, bar: Bar) -> None:
    """Every ingredient, or what is known of NAME and from where."""
    from solver.show.looking import ingredient_text, ingredients_json, ingredients_text

    found = [bar.bottles.find(name)] if name is not None else list(bar.bottles)
    if as_json:
        click.echo(ingredients_json(found))
    else:
        click.echo(ingredients_text(found) if name is None else ingredient_text(found[0]))
