"""Options that are given twice: click would take the last, and forget what stood before it."""

from __future__ import annotations

from collections.abc import Sequence

import click


def refuse_twice(command: click.Command, args: Sequence[str]) -> None:
    """Refuse an option with one value that stands more than once among a command's words.

    Raises:
        click.UsageError: it does.
    """
    while isinstance(command, click.Group):
        at = next((i for i, word in enumerate(args) if word in command.commands), None)
        if at is None:
            return
        command, args = command.commands[args[at]], args[at + 1 :]
    ends = args.index("--") if "--" in args else len(args)
    said = [word.partition("=")[0] for word in args[:ends] if word.startswith("-")]
    for option in command.params:
        if not isinstance(option, click.Option) or option.multiple or option.is_flag:
            continue
        if sum(said.count(name) for name in option.opts) > 1:
            message = f"{max(option.opts, key=len)} is given twice"
            raise click.UsageError(message)
