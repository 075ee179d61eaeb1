"""`equipour profiles`: what drinks are designed to."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from solver.cli.options import bar_option

if TYPE_CHECKING:
    from solver.pantry.bar import Bar


@click.command()
@click.argument("name", required=False)
@bar_option
def profiles(name: str | None, bar: Bar) -> None:
    """The profiles that a drink can be designed to, or what NAME asks for."""
    from solver.pantry.profile_files import find_profile, load_profiles, profile_files
    from solver.show.text import profile_text

    if name is not None:
        click.echo(profile_text(find_profile(name, profile_files(bar.profiles))))
        return
    for profile in load_profiles(bar.profiles):
        click.echo(f"{profile.name:<20} {profile.says}")
