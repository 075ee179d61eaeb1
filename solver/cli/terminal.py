"""Asking somebody who sits at a terminal."""

from __future__ import annotations

import sys
from collections.abc import Callable

import click

from solver.errors import BadInput


def is_there() -> bool:
    """Whether somebody can be asked: what is typed and what is asked both go through a terminal."""
    return all(stream is not None and stream.isatty() for stream in (sys.stdin, sys.stderr))


def ask(question: str, usual: str, read: Callable[[str], str]) -> str:
    """What `read` makes of an answer; asked again until it can be read."""

    def value(text: str) -> str:
        try:
            return read(text.strip())
        except BadInput as error:
            raise click.UsageError(error.sentence()) from None

    answer: str = click.prompt(
        question, default=usual, show_default=bool(usual), value_proc=value, err=True
    )
    return answer


def agrees(question: str) -> bool:
    """Whether somebody says yes."""
    return click.confirm(question, default=True, err=True)
