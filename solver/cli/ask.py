"""`equipour ask`: one question after another, of a bar that stays open.

It is called so since every line is a question as one asks it of the command line, and since nothing
but answers comes of it.
"""

from __future__ import annotations

import sys
from pathlib import Path

import click

from solver.cli.bar_option import folder_option
from solver.cli.folder import bar_folder


@click.command(short_help="One question after another.")
@folder_option
@click.pass_context
def ask(context: click.Context, folder: Path | None) -> None:
    """Ask one question after another: the same commands, without the word equipour.

    The bar stays open, and is read anew where its files change. `help` and `help COMMAND` tell what
    there is, `quit` ends it. From a file or a pipe: a command a line; it goes on after a mistake,
    and ends with the highest exit code of all.

    \b
    equipour ask < questions.txt
    """
    from solver.cli.conversation import Conversation

    group = context.find_root().command
    sys.exit(Conversation(group, bar_folder(context, folder)).hold())
