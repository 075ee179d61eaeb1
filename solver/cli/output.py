"""Printing an answer: plain text to the width of the terminal, or a document as it is."""

from __future__ import annotations

import shutil
import sys
import time
from pathlib import Path
from types import TracebackType
from typing import TextIO

import click

WIDEST = 100
"""Columns beyond which lines are hard to read."""


def say(answer: str, *, whole: bool) -> None:
    """Print an answer, broken at the terminal's width (at 80 columns in a pipe) unless `whole`.

    Documents stay whole, and so do lists, so that each of their lines is one thing.
    """
    if not whole:
        from solver.show.wrap import wrapped

        answer = wrapped(answer, min(shutil.get_terminal_size().columns, WIDEST))
    click.echo(answer)


def note(sentence: str) -> None:
    """Say on standard error what was done beside the answer."""
    click.echo(f"equipour: {sentence}", err=True)


def near(path: Path) -> str:
    """A path as it is read most easily: from the current folder where it lies within."""
    here = Path.cwd()
    return str(path.relative_to(here) if path.is_relative_to(here) else path)


class Progress:
    """One line on standard error that counts what is done, where somebody watches and has waited.

    Nothing is shown for the first second, nor where the stream is no terminal. The line is gone
    when the work ends.
    """

    PATIENCE_S = 1.0

    def __init__(self, what: str, stream: TextIO | None = None) -> None:
        self.what = what
        self.stream = stream or sys.stderr
        self.started = time.monotonic()
        self.shown = False

    def __enter__(self) -> Progress:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        if self.shown:
            click.echo("\r\033[K", nl=False, file=self.stream)

    def at(self, done: int, total: int) -> None:
        """So many of so many are done."""
        if time.monotonic() - self.started < self.PATIENCE_S or not self.stream.isatty():
            return
        self.shown = True
        click.echo(f"\r{done} of {total} {self.what}", nl=False, file=self.stream)
