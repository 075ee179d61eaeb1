"""`equipour shelf`: what the bar has; its commands change that."""

from __future__ import annotations

from pathlib import Path

import click

from solver.cli.bar_option import folder_option, opened
from solver.cli.options import table_options
from solver.cli.output import say, say_table
from solver.cli.shelf_import import import_
from solver.cli.shelf_rows import add, remove, set_


@click.group(invoke_without_command=True)
@table_options
@folder_option
@click.pass_context
def shelf(context: click.Context, as_json: bool, as_csv: bool, folder: Path | None) -> None:
    """What the bar has; or change it: add, set, remove, import."""
    if context.invoked_subcommand is not None:
        if as_json or as_csv:
            raise click.UsageError("--json and --csv come after the last word of the command.")
        return
    from solver.show.documents.shelf import shelf_json
    from solver.show.text.shelf import shelf_csv, shelf_text

    with opened(folder) as bar:
        if as_csv:
            say_table(shelf_csv(bar))
        else:
            say(shelf_json(bar) if as_json else shelf_text(bar), whole=True)


for command in (add, set_, remove, import_):
    shelf.add_command(command)
