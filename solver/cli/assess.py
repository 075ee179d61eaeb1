"""`equipour assess`: what an existing drink is in the glass."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from solver.cli.options import bar_option, json_option

if TYPE_CHECKING:
    from solver.pantry.bar import Bar


@click.command(short_help="What an existing drink is in the glass.")
@click.argument("drink", nargs=-1, required=True)
@click.option("--top", "topped", multiple=True, help="A pour that is added after the ice.")
@click.option("--profile", help="Measure it against this; a spec's own by default.")
@click.option("--technique", help="How it is made: shake, stir, build, ...")
@click.option("--glass", help="The glass that it must fit.")
@json_option
@bar_option
def assess(
    drink: tuple[str, ...],
    topped: tuple[str, ...],
    profile: str | None,
    technique: str | None,
    glass: str | None,
    as_json: bool,
    bar: Bar,
) -> None:
    """What an existing DRINK is in the glass, and how it keeps to a profile.

    DRINK is a spec of the bar, the path of a spec file, or pours like '2 oz rye-whiskey'.
    """
    from solver.show.assessed import assessment_json, assessment_text
    from solver.tasks.assess import assess as measure
    from solver.tasks.assess import find_drink

    spec = find_drink(drink, topped, bar)
    found = measure(spec, bar, profile=profile, technique=technique, glass=glass)
    click.echo(assessment_json(found) if as_json else assessment_text(found, bar))
