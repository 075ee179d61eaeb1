"""The journal of a write: what a command that was killed had begun, so that the next one ends it.

It lies in the folder for as long as files are being written, and says of each which file it is,
what it held and what it will hold. Beside each file lie, for as long, what will take its place and
what it was, under names that follow from the journal's. It has three stages, each on disk before
anything of it is done, and is replaced at once:

    BEGUN     new files are being made; none has taken its place
    DECIDED   all are on disk, and take their places one by one, or go back one by one
    DONE      all are in place, and what was beside them is removed
"""

from __future__ import annotations

import contextlib
import enum
import json
import os
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from solver.errors import BadInput, Where
from solver.files import disk
from solver.files.read import Version, read_bytes

NAME = ".equipour-journal"
NEXT = ".equipour-journal-next"
_FORMAT = 1


@enum.unique
class JournalStage(enum.StrEnum):
    """How far a write has come."""

    BEGUN = "begun"
    DECIDED = "decided"
    DONE = "done"


@dataclass(frozen=True)
class JournalEntry:
    """One file: its path within the folder, the version it had, and the one it will have."""

    path: str
    was: Version
    becomes: Version


@dataclass(frozen=True)
class Journal:
    """A write of several files within `folder`; `key` is part of the names of its own files."""

    folder: Path
    key: str
    stage: JournalStage
    entries: tuple[JournalEntry, ...]

    def target(self, entry: JournalEntry) -> Path:
        """The file itself; a link is followed, so that it stays a link."""
        return Path(os.path.realpath(self.folder / entry.path))

    def new(self, entry: JournalEntry) -> Path:
        """What will take the place of a file."""
        return self._beside(entry, "new")

    def old(self, entry: JournalEntry) -> Path:
        """What a file was."""
        return self._beside(entry, "old")

    def _beside(self, entry: JournalEntry, which: str) -> Path:
        at = self.entries.index(entry)
        return self.target(entry).with_name(f".equipour-{self.key}-{at}.{which}")

    def at(self, stage: JournalStage) -> Journal:
        """The same write at another stage, with that on disk.

        Raises:
            OSError: the system refuses.
        """
        found = replace(self, stage=stage)
        found.save()
        return found

    def save(self) -> None:
        """Put it on disk, in place of an earlier stage.

        Raises:
            OSError: the system refuses.
        """
        entries = [
            {"path": os.fsencode(entry.path).hex(), "was": entry.was, "becomes": entry.becomes}
            for entry in self.entries
        ]
        said = {"format": _FORMAT, "key": self.key, "stage": self.stage, "files": entries}
        following = self.folder / NEXT
        disk.drop(following)
        disk.create(following, json.dumps(said).encode())
        disk.put(following, self.folder / NAME)
        disk.settle(self.folder)

    def end(self) -> None:
        """Remove every file of its own, the journal last.

        Raises:
            OSError: the system refuses.
        """
        for entry in self.entries:
            disk.drop(self.new(entry))
            disk.drop(self.old(entry))
        self.settle()
        disk.drop(self.folder / NEXT)
        disk.drop(self.folder / NAME)
        disk.settle(self.folder)

    def settle(self) -> None:
        """Force to disk what the folders of its files hold.

        Raises:
            OSError: the disk fails.
        """
        for folder in {self.target(entry).parent for entry in self.entries}:
            with contextlib.suppress(FileNotFoundError):  # somebody may have removed it since
                disk.settle(folder)


def begin(folder: Path, entries: Sequence[JournalEntry]) -> Journal:
    """The journal of a new write; not on disk yet."""
    return Journal(folder, os.urandom(4).hex(), JournalStage.BEGUN, tuple(entries))


def left_in(folder: Path) -> bool:
    """Whether a command that was killed has left anything in `folder`."""
    return os.path.lexists(folder / NAME) or os.path.lexists(folder / NEXT)


def read_journal(folder: Path) -> Journal | None:
    """The journal in `folder`; None if there is none.

    Raises:
        BadInput: it can't be read, or is none of ours.
    """
    path = folder / NAME
    if not os.path.lexists(path):
        return None
    try:
        return _parsed(folder, json.loads(read_bytes(path)))
    except (ValueError, KeyError, TypeError, RecursionError):
        what = "the journal of an interrupted command cannot be read"
        remedy = "Look whether the files of the bar are as they should be, then delete it."
        raise BadInput(what, where=Where(path), remedy=remedy) from None


def _parsed(folder: Path, said: dict[str, Any]) -> Journal:
    entries = tuple(
        JournalEntry(_within(file["path"]), Version(file["was"]), Version(file["becomes"]))
        for file in said["files"]
    )
    digests = [digest for entry in entries for digest in (entry.was, entry.becomes)]
    if said["format"] != _FORMAT or not all(isinstance(digest, str) for digest in digests):
        raise ValueError
    return Journal(folder, bytes.fromhex(said["key"]).hex(), JournalStage(said["stage"]), entries)


def _within(coded: str) -> str:
    """A path of the journal, which must not lead out of its folder."""
    path = os.fsdecode(bytes.fromhex(coded))
    if Path(path).is_absolute() or ".." in Path(path).parts or not Path(path).name or "\0" in path:
        raise ValueError
    return path
