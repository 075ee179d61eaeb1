"""`equipour check`: a guest's wishes, answered yes or no."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from solver.cli.complete import complete_target
from solver.cli.exits import (
    ANSWERED,
    IMPOSSIBLE,
    INTERRUPTED,
    UNSETTLED,
    exit_code,
    exit_code_of_all,
)
from solver.cli.options import json_option, only_with
from solver.cli.ordered import ordered, profile_or_spec
from solver.cli.output import complain, say
from solver.cli.progress import Progress
from solver.cli.request_options import alternatives_option, request_options

if TYPE_CHECKING:
    from solver.pantry.bar import Bar
    from solver.requests.request import Request


@click.command()
@click.argument("profile", required=False, shell_complete=complete_target)
@request_options
@alternatives_option
@click.option(
    "--requests",
    "file",
    type=click.Path(path_type=Path),
    help="Many guests: a .toml file with [[guests]], or one JSON object a line; the keys are name, "
    "profile and the options above, like standard_drinks.",
)
@click.option("--why", is_flag=True, help="Say of every limit whether it holds the drink back.")
@json_option
def check(
    profile: str | None, bar: Bar, request: Request, file: Path | None, why: bool, as_json: bool
) -> None:
    """Whether a guest can have a drink of a PROFILE: yes with it, or no with the nearest yes.

    Of a spec: as it is but for what is asked. Of any: the three best of all profiles.
    """
    from solver.pantry.guests import read_guests
    from solver.pantry.profile_files import profile_files
    from solver.pantry.spec import Spec
    from solver.search.milp.cpsat import CpSat
    from solver.show.documents.check import check_json, verdicts_json
    from solver.show.text.check import check_text, verdicts_text
    from solver.tasks.check import check as verdict_on
    from solver.tasks.check import check_all
    from solver.tasks.design_result import Explain

    files = profile_files(bar.profiles)
    only_with(file is None, "one guest, not with --requests", "why", "alternatives")
    if file is not None:
        guests = read_guests(file)
        with Progress("guests", quiet=as_json) as progress:
            clock = progress.clock(request.seconds)
            verdicts = check_all(guests, profile, files, bar, request, CpSat(), clock)
        text = verdicts_json(verdicts, bar) if as_json else verdicts_text(verdicts, bar)
        say(text, whole=as_json)
        sys.exit(exit_code_of_all([verdict.found for verdict in verdicts]))
    if profile is None:
        raise click.UsageError("name a profile, or a file of guests with --requests.")
    if profile.casefold().strip() == ANY and ANY not in files:
        sys.exit(_any(bar, request, as_json=as_json))
    target = profile_or_spec(profile, bar)
    if isinstance(target, Spec):
        sys.exit(ordered(target, bar, request, "check", verify=False, why=why, as_json=as_json)[1])
    explain = Explain.EVERYTHING if why else Explain.LIMITS
    with Progress(quiet=as_json) as progress:
        clock = progress.clock(request.seconds)
        found = verdict_on("guest", target, bar, request, CpSat(), explain, clock)
    text = check_json(found, bar) if as_json else check_text(found, bar, everything=why)
    say(text, whole=as_json)
    sys.exit(exit_code(found.found))


ANY = "any"
"""What stands for every profile, unless a bar has one of that name."""


def _any(bar: Bar, request: Request, *, as_json: bool) -> int:
    """Ask every profile; the exit code says whether one has a drink, and whether all is known."""
    from solver.search.milp.cpsat import CpSat
    from solver.show.documents.check_any import any_json
    from solver.show.text.check_any import any_text
    from solver.tasks.check_any import check_any

    only_with(False, "one profile", "why", "alternatives")
    with Progress("profiles", quiet=as_json) as progress:
        found = check_any(bar, request, CpSat(), progress.clock(request.seconds))
    for mistake in found.misread:
        complain(f"a profile is left aside: {mistake}")
    say(any_json(found, bar) if as_json else any_text(found, bar), whole=as_json)
    if found.interrupted:
        return INTERRUPTED
    return UNSETTLED if found.open else ANSWERED if found.having else IMPOSSIBLE
