"""`equipour assess`: what an existing drink is in the glass."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from solver.cli.complete import (
    complete_glass,
    complete_profile,
    complete_spec,
    complete_technique,
)
from solver.cli.options import held_bar_option, json_option, name_option
from solver.cli.output import near, note, say

if TYPE_CHECKING:
    from solver.drinks.assess import Assessment
    from solver.files.atomic import Place
    from solver.pantry.bar import Bar
    from solver.pantry.spec import Spec


@click.command(short_help="What an existing drink is in the glass.")
@click.argument("drink", nargs=-1, required=True, shell_complete=complete_spec)
@click.option("--top", "topped", multiple=True, help="A pour that is added after the ice.")
@name_option(
    "--profile",
    says="Measure it against this; a spec's own by default.",
    complete=complete_profile,
)
@name_option(
    "--technique", says="How it is made: shake, stir, build, ...", complete=complete_technique
)
@name_option("--glass", says="The glass that it must fit.", complete=complete_glass)
@click.option("--approve", is_flag=True, help="Record what it is now in its spec file.")
@json_option
@held_bar_option("approve")
def assess(
    drink: tuple[str, ...],
    topped: tuple[str, ...],
    profile: str | None,
    technique: str | None,
    glass: str | None,
    approve: bool,
    as_json: bool,
    bar: Bar,
) -> None:
    """What an existing DRINK is in the glass, and how it keeps to a profile.

    DRINK is a spec of the bar, the path of a spec file, or pours like '2 oz rye-whiskey'.
    """
    from solver.drinks.assess import assess as measure
    from solver.drinks.assess import find_drink
    from solver.show.assessed import assessment_json, assessment_text

    spec = find_drink(drink, topped, bar)
    place = _place(spec, as_it_is=not (profile or technique or glass)) if approve else None
    found = measure(spec, bar, profile=profile, technique=technique, glass=glass)
    say(assessment_json(found, bar) if as_json else assessment_text(found, bar), whole=as_json)
    if place is not None:
        _approve(found, place, bar)


def _place(spec: Spec, *, as_it_is: bool) -> Place:
    """Where a spec can be approved.

    Raises:
        BadInput: there is none, or the spec is assessed otherwise than the file says.
    """
    from solver.errors import BadInput

    if spec.place is None:
        remedy = "Write it into a file of the folder specs first; see `equipour design --save`."
        raise BadInput("only a spec in a file can be approved", remedy=remedy)
    if not as_it_is:
        remedy = "Leave out --profile, --technique and --glass, or change the file."
        raise BadInput("a spec is approved as its file has it", remedy=remedy)
    return spec.place


def _approve(found: Assessment, place: Place, bar: Bar) -> None:
    """Write what the drink is today into its spec file, and say so on standard error."""
    from solver.drinks.approval import approved_profile
    from solver.pantry.spec_file import write_spec

    approved = approved_profile(found.values, bar.today, bar.currency)
    write_spec(found.spec.model_copy(update={"approved": approved}), place, bar.root)
    note(f"approved in {near(place.path)}")
