"""`equipour shelf`: what the bar has."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from solver.cli.options import bar_option

if TYPE_CHECKING:
    from solver.pantry.bar import Bar


@click.command()
@bar_option
def shelf(bar: Bar) -> None:
    """What the bar has."""
    from solver.show.text import shelf_text

    click.echo(shelf_text(bar))
