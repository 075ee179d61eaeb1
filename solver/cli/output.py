"""Printing: plain text to the width of the terminal, or a document as it is; the edge of it all.

Everything that reaches a terminal passes through here, and is printable when it does.
"""

from __future__ import annotations

import codecs
import contextlib
import os
import shutil
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from solver.errors import Failure
from solver.printable import printable

if TYPE_CHECKING:
    from solver.pantry.bar import Bar
    from solver.tasks.stock.made_batch import Produced

WIDEST = 100
"""Columns beyond which lines are hard to read."""

_PLAIN = {"≤": "<=", "≥": ">=", "±": "+/-", "×": "x", "−": "-", "–": "-", "…": "...", "°": " deg ",
          "½": "1/2", "¼": "1/4", "¾": "3/4", "⅓": "1/3", "⅔": "2/3", "⅛": "1/8"}  # fmt: skip
"""What is printed where a terminal's encoding lacks a sign."""


def say(answer: str, *, whole: bool) -> None:
    """Print an answer, broken at the terminal's width (at 80 columns in a pipe) unless `whole`.

    Documents stay whole, and so do lists, so that each of their lines is one thing. Once this
    returns, the answer has left.

    Raises:
        Failure: standard output takes no more.
        BrokenPipeError: nobody reads any more.
    """
    answer = printable(answer, keep="\n")
    if not whole:
        from solver.show.text.wrap import wrapped

        answer = wrapped(answer, min(shutil.get_terminal_size().columns, WIDEST))
    _write(f"{answer}\n")


def say_table(table: str) -> None:
    """Print a table of `solver.show.table`, whose lines end as spreadsheets want it.

    Raises:
        Failure, BrokenPipeError: as `say`.
    """
    _write(printable(table, keep="\r\n"))


def _write(text: str) -> None:
    if sys.stdout is None:
        raise Failure("the answer cannot be printed: standard output is closed")
    try:
        sys.stdout.write(text)
        sys.stdout.flush()
    except BrokenPipeError:
        raise
    except (OSError, ValueError) as error:
        why = error.strerror or "" if isinstance(error, OSError) else "standard output is closed"
        raise Failure(f"the answer cannot be printed: {why.lower()}") from None


def note(sentence: str) -> None:
    """Say on standard error what was done beside the answer; if nobody can hear it, so be it."""
    complain(printable(sentence))


def complain(text: str) -> None:
    """Say on standard error what is wrong: sentences, one to a line."""
    with contextlib.suppress(AttributeError, OSError, ValueError):  # it may be closed
        sys.stderr.write(f"equipour: {printable(text, keep=chr(10))}\n")
        sys.stderr.flush()


def near(path: Path) -> str:
    """A path as it is read most easily: from the current folder where it lies within."""
    try:
        here = Path.cwd()
    except OSError:
        return str(path)
    return str(path.relative_to(here) if path.is_relative_to(here) else path)


def open_streams() -> None:
    """Let the output say what its encoding has no sign for in signs that it has."""
    codecs.register_error("equipour", _in_plain_signs)
    for stream in (sys.stdout, sys.stderr):
        with contextlib.suppress(AttributeError, ValueError, OSError):
            stream.reconfigure(errors="equipour")  # type: ignore[union-attr]


def _in_plain_signs(error: UnicodeError) -> tuple[str | bytes, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    sign = error.object[error.start]
    plain = _PLAIN.get(sign) or sign.encode("unicode_escape").decode()
    return plain, error.start + 1


def close_streams() -> None:
    """Leave nothing for the interpreter to print when it ends, which it would fail at aloud."""
    for stream in (sys.stdout, sys.stderr):
        try:
            if stream is not None:
                stream.flush()
        except (OSError, ValueError):
            with contextlib.suppress(OSError, ValueError):
                nowhere = os.open(os.devnull, os.O_WRONLY)
                os.dup2(nowhere, stream.fileno())
                os.close(nowhere)


def stock(found: Produced, bar: Bar, text: str, *, whole: bool) -> None:
    """Say what was made, and put it into stock: the answer comes before anything is written."""
    with found.movement.prepared(bar) as put:
        say(text, whole=whole)
        put()
    note(f"written: {', '.join(near(path) for path in found.movement.paths)}")
    if found.new_columns:
        note(f"new columns of the shelf: {', '.join(found.new_columns)}")
