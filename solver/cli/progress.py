"""How far long work is: one line on standard error, where somebody watches and has waited."""

from __future__ import annotations

import contextlib
import os
import shutil
import sys
import time
from types import TracebackType
from typing import TYPE_CHECKING, TextIO

if TYPE_CHECKING:
    from solver.clock import Clock, Done


class Progress:
    """One line that is written over as the work goes on, and gone when it ends.

    Nothing is shown for the first second, nor where the stream is no terminal, nor if `quiet`.
    `items` is what a command goes through one by one.
    """

    PATIENCE_S = 1.0
    BETWEEN_S = 0.1

    def __init__(self, items: str = "", *, quiet: bool = False) -> None:
        self.items = items
        self.stream: TextIO | None = sys.stderr
        self.watched = not quiet and _is_terminal(self.stream)
        self.next = time.monotonic() + self.PATIENCE_S
        self.last: Done | None = None
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
            self._print("\r\033[K")

    def clock(self, seconds: float) -> Clock:
        """A clock that ends in so many seconds, and tells what is shown."""
        from solver.clock import Clock

        return Clock.of(seconds, self.at if self.watched else None)

    def at(self, done: Done | None) -> None:
        """Show how far the work is; None: as far as it was."""
        self.last = done or self.last
        now = time.monotonic()
        if self.last is None or now < self.next:
            return
        from solver.show.text.progress import progress_line

        self.next = now + self.BETWEEN_S
        self.shown = True
        widest = shutil.get_terminal_size().columns - 1
        self._print(f"\r{progress_line(self.last, self.items)[:widest]}\033[K")

    def _print(self, text: str) -> None:
        with contextlib.suppress(AttributeError, OSError, ValueError):  # it may be closed by now
            self.stream.write(text)  # type: ignore[union-attr]
            self.stream.flush()  # type: ignore[union-attr]


def _is_terminal(stream: TextIO | None) -> bool:
    """Whether a line on it can be written over."""
    try:
        return stream is not None and stream.isatty() and os.environ.get("TERM") != "dumb"
    except ValueError:  # it is closed
        return False
