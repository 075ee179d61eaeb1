"""The one family of errors that a user can cause, and what each must say.

    EquipourError            anything that ends a command early
    ├── BadInput             the user's text, file or option is wrong          exit 2
    │   └── DiskFailure      the disk is full, broken or read-only             exit 74
    ├── BadInputs            several independent mistakes found in one reading exit 2
    ├── Unproven             the time was up before anything was proven        exit 3
    └── Failure              the system failed: no room, no memory, no output  exit 74

An error carries data; only `solver.show` turns it into the lines a person reads.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import ClassVar

from solver.printable import printable


def is_interrupt(error: BaseException) -> bool:
    """Whether somebody interrupted: a compiled module that is being loaded makes an ImportError of
    that."""
    cause = error.__cause__ if isinstance(error, ImportError) else None
    return isinstance(error, KeyboardInterrupt) or isinstance(cause, KeyboardInterrupt)


@dataclass(frozen=True)
class Where:
    """A place in the user's input: a file with a 1-based line, or an option's name."""

    source: str | Path
    line: int | None = None

    def __str__(self) -> str:
        return str(self.source) if self.line is None else f"{self.source}, line {self.line}"


class EquipourError(Exception):
    """Base of every error that is reported in a sentence and not as a traceback."""

    exit_code: ClassVar[int] = 2


class BadInput(EquipourError):
    """One mistake in the user's input.

    `what` names it in a few words, `why` gives the reason, `remedy` says what to do, and
    `near` lists the names that the user may have meant, nearest first.
    """

    def __init__(
        self,
        what: str,
        *,
        where: Where | None = None,
        why: str = "",
        remedy: str = "",
        near: Sequence[str] = (),
    ) -> None:
        super().__init__(what)
        self.what = what
        self.where = where
        self.why = why
        self.remedy = remedy
        self.near = tuple(near)

    def at(self, where: Where | None) -> BadInput:
        """The same mistake, placed: for a reader that knows the line which a parser did not."""
        return BadInput(self.what, where=where, why=self.why, remedy=self.remedy, near=self.near)

    def sentence(self) -> str:
        """What, where, why and what to do, in one printable paragraph.

        A sentence quotes the user's text, whatever is in it: what can't be printed is written out.
        """
        place = f" ({self.where})" if self.where else ""
        near = f" Did you mean {' or '.join(self.near)}?" if self.near else ""
        reason = f": {self.why}" if self.why else ""
        remedy = f" {self.remedy}" if self.remedy else ""
        return printable(f"{self.what}{place}{reason}.{near}{remedy}")

    def __str__(self) -> str:
        return self.sentence()

    def __reduce__(self) -> tuple[object, ...]:
        return (_rebuild, (self.what, self.where, self.why, self.remedy, self.near))


class DiskFailure(BadInput):
    """A file that the disk has no room for, or cannot take: told like a mistake, and no mistake."""

    exit_code: ClassVar[int] = 74


def _rebuild(
    what: str, where: Where | None, why: str, remedy: str, near: tuple[str, ...]
) -> BadInput:
    return BadInput(what, where=where, why=why, remedy=remedy, near=near)


class Unproven(EquipourError):
    """The time was up: nothing is known to be best, and nothing to be impossible."""

    exit_code: ClassVar[int] = 3

    def __str__(self) -> str:
        return f"{super().__str__()}."


class Failure(EquipourError):
    """The system failed at something that is no mistake of the user's."""

    exit_code: ClassVar[int] = 74
    """EX_IOERR of the BSD's sysexits.h, from memory."""

    def __str__(self) -> str:
        return f"{super().__str__()}."


class BadInputs(EquipourError):
    """Several independent mistakes, at most `MOST` of them shown."""

    MOST: ClassVar[int] = 10

    def __init__(self, errors: Sequence[BadInput]) -> None:
        self.errors = tuple(errors)
        super().__init__("\n".join(error.sentence() for error in self.errors[: self.MOST]))
