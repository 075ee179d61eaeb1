"""`equipour assess`: what an existing drink is in the glass."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from solver.cli.options import bar_option

if TYPE_CHECKING:
    from solver.pantry.bar import Bar


@click.command()
@click.argument("pours", nargs=-1, required=True)
@click.option("--technique", default="shake", show_default=True, help="shake, stir, build, ...")
@bar_option
def assess(pours: tuple[str, ...], technique: str, bar: Bar) -> None:
    """What existing POURS are in the glass, each like '2 oz rye-whiskey'."""
    from solver.show.text import assessment_text
    from solver.tasks.assess import assess as measure

    click.echo(assessment_text(measure(pours, technique, bar), bar))
