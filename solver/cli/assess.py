"""`equipour assess`: what an existing drink is in the glass."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

import click

from solver.cli.bar_option import held_bar_option
from solver.cli.complete import (
    complete_glass,
    complete_profile,
    complete_spec,
    complete_technique,
)
from solver.cli.exits import ANSWERED, MISTAKEN
from solver.cli.options import name_option, only_with, table_options
from solver.cli.output import near, note, say, say_table

if TYPE_CHECKING:
    from solver.drinks.assess import Assessment
    from solver.files.atomic import FilePlace
    from solver.pantry.bar import Bar
    from solver.pantry.spec import Spec


@click.command(short_help="What an existing drink is in the glass.")
@click.argument("drink", nargs=-1, shell_complete=complete_spec)
@click.option("--all", "every", is_flag=True, help="Every spec of the bar, in a few lines each.")
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
@click.option("--garnish", help="What is on it; of pours that are typed.")
@click.option("--notes", help="What else is to be known; of pours that are typed.")
@click.option("--save", "name", help="Write typed pours into the bar's specs under this name.")
@click.option("--replace", is_flag=True, help="Let --save write over a spec that is there.")
@click.option("--approve", is_flag=True, help="Record what it is now in its spec file.")
@table_options
@held_bar_option("approve")
def assess(
    drink: tuple[str, ...],
    every: bool,
    topped: tuple[str, ...],
    profile: str | None,
    technique: str | None,
    glass: str | None,
    garnish: str | None,
    notes: str | None,
    name: str | None,
    replace: bool,
    approve: bool,
    as_json: bool,
    as_csv: bool,
    bar: Bar,
) -> None:
    """What an existing DRINK is in the glass, and how it keeps to a profile.

    DRINK is a spec of the bar, the path of a spec file, or pours like '2 oz rye-whiskey'.
    """
    from solver.drinks.assess import assess as measure
    from solver.drinks.assess import find_drink
    from solver.show.documents.assessed import assessment_json
    from solver.show.text.assessed import assessment_text
    from solver.tasks.prep.uncooked import with_said_ahead
    from solver.tasks.save import place_for, spec_of_pours

    only_with(name is not None, "--save", "replace")
    only_with(every, "--all", "as_csv")
    if every:
        only_with(False, "one DRINK, not with --all", *_OF_ONE)
        if drink:
            raise click.UsageError("name a DRINK, or ask for all of them with --all.")
        sys.exit(_all(bar, as_json=as_json, as_csv=as_csv))
    if not drink and not topped:
        raise click.UsageError("name a DRINK, or ask for all of them with --all.")
    bar = with_said_ahead(bar, (*drink, *topped))
    spec = find_drink(drink, topped, bar)
    typed = spec.place is None
    only_with(typed, "pours that are typed; a spec has its own", "garnish", "notes", "name")
    place = None if name is None else place_for(name, bar, replace=replace)
    if typed:
        spec = spec_of_pours(
            spec, name=name, profile=profile, technique=technique, glass=glass, garnish=garnish,
            notes=notes,
        )  # fmt: skip
        profile = technique = glass = None  # the spec says them
    elif approve:
        place = _place(spec, as_it_is=not (profile or technique or glass))
    if approve and place is None:
        _place(spec, as_it_is=True)
    found = measure(spec, bar, profile=profile, technique=technique, glass=glass)
    if approve:
        _refuse_draft(found, bar)
    say(assessment_json(found, bar) if as_json else assessment_text(found, bar), whole=as_json)
    if place is not None:
        _write(found, place, bar, approve=approve, saved=name is not None)


_OF_ONE = (
    "topped", "profile", "technique", "glass", "garnish", "notes", "name", "replace", "approve",
)  # fmt: skip


def _all(bar: Bar, *, as_json: bool, as_csv: bool) -> int:
    """Every spec; the exit code says whether one of them has a mistake."""
    from solver.show.documents.specs import specs_json
    from solver.show.text.specs import each_text, specs_csv
    from solver.tasks.assess_all import assess_all

    book = assess_all(bar)
    if as_csv:
        say_table(specs_csv(book.specs, book.misread, bar))
    elif as_json:
        say(specs_json("assess", book.specs, book.misread, bar), whole=True)
    else:
        say(each_text(book, bar), whole=False)
    return MISTAKEN if book.misread else ANSWERED


def _place(spec: Spec, *, as_it_is: bool) -> FilePlace:
    """Where a spec can be approved.

    Raises:
        BadInput: there is none, or the spec is assessed otherwise than the file says.
    """
    from solver.errors import BadInput

    if spec.place is None:
        remedy = "Add --save NAME, which writes it into a file."
        raise BadInput("only a spec in a file can be approved", remedy=remedy)
    if not as_it_is:
        remedy = "Leave out --profile, --technique and --glass, or change the file."
        raise BadInput("a spec is approved as its file has it", remedy=remedy)
    return spec.place


def _refuse_draft(found: Assessment, bar: Bar) -> None:
    """Refuse to approve what nobody could have poured.

    Raises:
        BadInput: something of it is not cooked yet.
    """
    from solver.errors import BadInput

    if raw := sorted(bar.uncooked & {line.ingredient.key for line in found.lines}):
        what = f"a draft cannot be approved: {' and '.join(raw)} is not cooked yet"
        raise BadInput(what, remedy=f"Cook it, and run `equipour prep {raw[0]} --stock`.")


def _write(found: Assessment, place: FilePlace, bar: Bar, *, approve: bool, saved: bool) -> None:
    """Write the spec, with what it is today where that is approved, and say so."""
    from solver.drinks.approval import approved_profile
    from solver.pantry.spec_file import write_spec

    spec = found.spec
    if approve:
        approved = approved_profile(found.values, bar.today, bar.currency)
        spec = spec.model_copy(update={"approved": approved})
    write_spec(spec, place, bar.root)
    note(f"{'saved' if saved else 'approved'} in {near(place.path)}")
