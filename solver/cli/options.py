"""Options that several commands share. Each decorator turns what was typed into what is meant."""

from __future__ import annotations

import functools
from collections.abc import Callable
from typing import Any

import click
from click.core import ParameterSource

from solver.cli.complete import (
    Completer,
)
from solver.cli.values import Seconds, named

Command = Callable[..., None]
Decorator = Callable[[Command], Command]

json_option = click.option("--json", "as_json", is_flag=True, help="One JSON document.")


def table_options(command: Command) -> Command:
    """Add `--json` and `--csv`; the command is called with `as_json` and `as_csv`, one at most."""

    @click.option("--csv", "as_csv", is_flag=True, help="The table for a spreadsheet.")
    @json_option
    @functools.wraps(command)
    def told(*args: Any, as_json: bool, as_csv: bool, **kwargs: Any) -> None:
        if as_json and as_csv:
            raise click.UsageError("an answer has one form: choose --json or --csv.")
        command(*args, as_json=as_json, as_csv=as_csv, **kwargs)

    return told


def name_option(*names: str, says: str, complete: Completer) -> Decorator:
    """An option that names one thing; an empty name, a slip of scripts, is refused."""
    return click.option(*names, callback=named, shell_complete=complete, help=says)


language_option = click.option(
    "--language", metavar="CODE", help="Its words, like de.  [default: as bar.toml says, else en]"
)
"""Of what is printed to be handed on; what a terminal says is English."""


def time_limit(default: float) -> Decorator:
    """`--time-limit`, so many seconds where nobody says: one clock for the whole of a command."""
    return click.option(
        "--time-limit",
        "seconds",
        type=Seconds(0.1),
        default=default,
        show_default=True,
        metavar="SECONDS",
        help="How long to search at most, all in all.",
    )


time_limit_option = time_limit(60.0)

unproven_option = click.option(
    "--unproven", is_flag=True, help="Write it, though there was no time to prove it."
)
"""The word without which nothing is written that is not proven."""

NOT_PROVEN = "a longer --time-limit may prove it; --unproven writes it all the same"
"""What to do where something was not written."""


def only_with(there: bool, partner: str, *parameters: str) -> None:
    """Refuse what was typed of some parameters where `partner`, which they belong to, is not.

    An option without effect would be taken for one that had it.
    """
    context = click.get_current_context()
    for each in context.command.params:
        typed = context.get_parameter_source(each.name or "") is ParameterSource.COMMANDLINE
        if not there and typed and each.name in parameters:
            raise click.UsageError(f"{each.opts[0]} goes with {partner}.")
