"""`equipour tradeoff`: what less of one measure of a drink costs in another."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from solver.cli.complete import complete_target
from solver.cli.exits import ANSWERED, IMPOSSIBLE, INTERRUPTED, UNSETTLED
from solver.cli.options import table_options
from solver.cli.output import near, note, say, say_table
from solver.cli.picture import picture_options, place_for_picture, write_picture
from solver.cli.progress import Progress
from solver.cli.request_options import request_options
from solver.cli.values import WholeNumber

if TYPE_CHECKING:
    from solver.pantry.bar import Bar
    from solver.requests.request import Request


def pair(context: click.Context, parameter: click.Parameter, value: str) -> tuple[str, str]:
    """Read two names with a comma between them: the callback of an option."""
    names = [name.strip() for name in value.split(",")]
    if len(names) != 2 or not all(names):
        raise click.BadParameter("write two names, like cost,off-aim.", context, parameter)
    return names[0], names[1]


@click.command(short_help="What less of one measure costs in another.")
@click.argument("profile", shell_complete=complete_target)
@click.option(
    "--between",
    callback=pair,
    default="cost,off-aim",
    show_default=True,
    metavar="ONE,OTHER",
    help="Two measures; or off-aim, the distance from the aims; or in-keeping, how many published "
    "drinks are as much so.",
)
@click.option(
    "--points",
    "most",
    metavar="N",
    type=WholeNumber(2, 1000),
    default=60,
    show_default=True,
    help="Drinks to find at most.",
)
@picture_options
@request_options
@table_options
def tradeoff(
    profile: str,
    between: tuple[str, str],
    most: int,
    picture: Path | None,
    replace: bool,
    bar: Bar,
    request: Request,
    as_json: bool,
    as_csv: bool,
) -> None:
    """What less of one measure costs in another, over all drinks of a PROFILE.

    Of a spec: over all that its own lines can be poured to, and off-aim is off what it was. Of
    both less counts as better. Every drink that is shown can be poured, and no drink
    of the shelf has less of one without more of the other.
    """
    from solver.cli.ordered import profile_or_spec, with_uncooked_of
    from solver.pantry.spec import Spec
    from solver.search.milp.cpsat import CpSat
    from solver.show.documents.tradeoff import tradeoff_json
    from solver.show.text.tradeoff import tradeoff_csv, tradeoff_text
    from solver.tasks.tradeoff import tradeoff as solve
    from solver.tasks.tradeoff import tradeoff_of_spec

    place = place_for_picture(picture, replace=replace)
    target = profile_or_spec(profile, bar)
    solver = CpSat()
    with Progress("points", quiet=as_json) as progress:
        clock = progress.clock(request.seconds)
        if isinstance(target, Spec):
            target_bar = with_uncooked_of(target, bar)
            found = tradeoff_of_spec(target, target_bar, request, between, solver, most, clock)
        else:
            found = solve(target, bar, request, between, solver, most, clock)
    if as_csv:
        say_table(tradeoff_csv(found, bar))
    else:
        say(tradeoff_json(found, bar) if as_json else tradeoff_text(found, bar), whole=as_json)
    if place is not None and found.spots:
        from solver.show.pages.tradeoff import tradeoff_picture

        write_picture(tradeoff_picture(found, bar), place)
        note(f"drawn in {near(place.path)}")
    elif place is not None:
        note("nothing was drawn, as nothing was found")
    if found.interrupted:
        sys.exit(INTERRUPTED)
    sys.exit(UNSETTLED if found.stopped else ANSWERED if found.spots else IMPOSSIBLE)
