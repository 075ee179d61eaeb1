"""`equipour design`: the best drink of a profile."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

import click

from solver.cli.options import json_option, request_options

if TYPE_CHECKING:
    from solver.pantry.bar import Bar
    from solver.tasks.request import Request


@click.command()
@click.argument("profile")
@request_options
@json_option
def design(profile: str, bar: Bar, request: Request, as_json: bool) -> None:
    """The best drink of a PROFILE that the shelf can make."""
    from solver.pantry.profile_files import find_profile, profile_files
    from solver.search.cpsat import CpSat
    from solver.search.loop import Ending
    from solver.show.document import design_json
    from solver.show.text import design_text
    from solver.tasks.design import design as solve

    found = solve(find_profile(profile, profile_files(bar.profiles)), bar, request, CpSat())
    click.echo(design_json(found, bar) if as_json else design_text(found, bar))
    if found.interrupted:
        sys.exit(130)
    sys.exit({Ending.OPTIMAL: 0, Ending.IMPOSSIBLE: 1, Ending.STOPPED: 3}[found.ending])
