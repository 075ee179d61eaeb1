"""`equipour profiles`: what drinks are designed to."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from solver.cli.bar_option import unstocked_bar_option
from solver.cli.complete import complete_profile
from solver.cli.options import table_options
from solver.cli.output import say, say_table

if TYPE_CHECKING:
    from solver.pantry.bar import Bar


@click.command()
@click.argument("name", required=False, shell_complete=complete_profile)
@table_options
@unstocked_bar_option
def profiles(name: str | None, as_json: bool, as_csv: bool, bar: Bar) -> None:
    """The profiles that a drink can be designed to, or what NAME asks for."""
    from solver.pantry.profile_files import load_profiles
    from solver.show.documents.profiles import profiles_json
    from solver.show.text.profiles import profile_text, profiles_csv, profiles_text

    found = list(load_profiles(bar.profiles)) if name is None else [bar.profile(name)]
    if as_csv:
        say_table(profiles_csv(found, bar))
    elif as_json:
        say(profiles_json(found, bar), whole=True)
    else:
        said = profiles_text(found) if name is None else profile_text(found[0], bar)
        say(said, whole=name is None)
