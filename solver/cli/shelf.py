"""`equipour shelf`: what the bar has."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from solver.cli.options import bar_option, table_options
from solver.cli.output import say, say_table

if TYPE_CHECKING:
    from solver.pantry.bar import Bar


@click.command()
@table_options
@bar_option
def shelf(as_json: bool, as_csv: bool, bar: Bar) -> None:
    """What the bar has."""
    from solver.show.looking import shelf_csv, shelf_json, shelf_text

    if as_csv:
        say_table(shelf_csv(bar))
        return
    say(shelf_json(bar) if as_json else shelf_text(bar), whole=True)
