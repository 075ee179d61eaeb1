"""`equipour ingredients`: what is known of ingredients."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from solver.cli.options import bar_option

if TYPE_CHECKING:
    from solver.pantry.bar import Bar


@click.command()
@click.argument("name", required=False)
@bar_option
def ingredients(name: str | None, bar: Bar) -> None:
    """Every ingredient, or what is known of NAME and from where."""
    from solver.show.text import ingredient_text

    if name is not None:
        click.echo(ingredient_text(bar.library.find(name)))
        return
    for item in bar.library:
        click.echo(f"{item.key:<32} {item.name}")
