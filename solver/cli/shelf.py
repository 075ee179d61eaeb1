"""`equipour shelf`: what the bar has."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from solver.cli.options import bar_option, json_option
from solver.cli.output import say

if TYPE_CHECKING:
    from solver.pantry.bar import Bar


@click.command()
@json_option
@bar_option
def shelf(as_json: bool, bar: Bar) -> None:
    """What the bar has."""
    from solver.show.looking import shelf_json, shelf_text

    say(shelf_json(bar) if as_json else shelf_text(bar), whole=True)
