"""`equipour shelf`: what the bar has; its commands change that."""

from __future__ import annotations

from pathlib import Path

import click

from solver.cli.options import folder_option, json_option, opened
from solver.cli.output import say
from solver.cli.shelf_import import import_
from solver.cli.shelf_rows import add, remove, set_


@click.group(invoke_without_command=True)
@json_option
@folder_option
@click.pass_context
def shelf(context: click.Context, as_json: bool, folder: Path | None) -> None:
    """What the bar has; or change it: add, set, remove, import."""
    if context.invoked_subcommand is not None:
        if as_json:
            raise click.UsageError("--json comes after the last word of the command.")
        return
    from solver.show.looking import shelf_json, shelf_text

    with opened(folder) as bar:
        said = shelf_json(bar) if as_json else shelf_text(bar)
    say(said, whole=True)


for command in (add, set_, remove, import_):
    shelf.add_command(command)
