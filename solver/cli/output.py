"""Printing an answer: plain text to the width of the terminal, or a document as it is."""

from __future__ import annotations

import shutil
from pathlib import Path

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
