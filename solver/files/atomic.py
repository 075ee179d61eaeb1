"""Several files at once: all of them are written, or none; and none that has changed meanwhile.

A write holds the lock of a folder (a bar's, or the one around a single file) and keeps a journal
there. Whatever ends the process, at any point, the next command that opens the folder finds every
file as it was or every file as it was to be, and removes what was left lying.
"""

from __future__ import annotations

import contextlib
import errno
import os
import warnings
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from solver.errors import BadInput, DiskFailure, Where
from solver.files import disk
from solver.files.journal import (
    NEXT,
    Journal,
    JournalEntry,
    JournalStage,
    begin,
    left_in,
    read_journal,
)
from solver.files.lock import Tell, locked
from solver.files.read import ABSENT, Version, read_bytes, version_at, version_of


@dataclass(frozen=True)
class FilePlace:
    """Where a file is to be written, and its version when that was decided."""

    path: Path
    version: Version = ABSENT


@dataclass(frozen=True)
class FileChange:
    """A file as it is to be: written only where the file at `place` still is what it was."""

    place: FilePlace
    content: bytes


def write(folder: Path, changes: Sequence[FileChange]) -> None:
    """Write files within `folder`: all of them, or none.

    Raises:
        BadInput: one has changed since it was read, or the system refuses; nothing is written.
    """
    with prepared(folder, changes) as put:
        put()


@contextmanager
def prepared(folder: Path, changes: Sequence[FileChange]) -> Iterator[Callable[[], None]]:
    """Have new files on disk, for a call that puts them in place; without it nothing is written.

    The folder is held meanwhile. What usually fails (no room, no permission, a file that has
    changed) fails before the body runs.

    Raises:
        BadInput: as `write`.
    """
    with locked(folder):
        mend(folder)
        needed: list[tuple[JournalEntry, bytes]] = []
        for change in changes:
            _check_unchanged(change.place.path, change.place.version)
            path = os.path.relpath(change.place.path, folder)
            entry = JournalEntry(path, change.place.version, version_of(change.content))
            if entry.was != entry.becomes:
                needed.append((entry, change.content))
        if not needed:
            yield lambda: None
            return
        write = _Write(begin(folder, [entry for entry, _ in needed]))
        try:
            write.stage([content for _, content in needed])
            yield write.put
        finally:
            write.leave()


class _Write:
    """One write: its files are staged, put in place or taken back, and its journal ended."""

    def __init__(self, journal: Journal) -> None:
        self.journal = journal
        self.over = False

    def stage(self, contents: Sequence[bytes]) -> None:
        """Have every new file on disk, and every old one under a second name."""
        with _refused(self.journal.folder / self.journal.entries[0].path):
            self.journal.save()
        for entry, content in zip(self.journal.entries, contents, strict=True):
            target = self.journal.target(entry)
            with _refused(self.journal.folder / entry.path):
                if entry.was == ABSENT:
                    disk.create(self.journal.new(entry), content)
                else:
                    disk.create(self.journal.new(entry), content, target.stat())
                    disk.copy(target, self.journal.old(entry), read_bytes(target))
        with _refused(self.journal.folder):
            self.journal.settle()

    def put(self) -> None:
        """Put every new file in place, or, where one can't be, every old one back."""
        self.over = True  # from here on the journal is what tells how far it came
        try:
            with _refused(self.journal.folder):
                self.journal = self.journal.at(JournalStage.DECIDED)
            for entry in self.journal.entries:
                with _refused(self.journal.folder / entry.path):
                    _put(self.journal, entry)
            with _refused(self.journal.folder):
                self.journal.settle()
        except BaseException:
            with _refused(self.journal.folder, "what was begun here is left to the next command"):
                _take_back(self.journal)
            raise
        # Everything is written: what can't be tidied up now is so by the next command.
        with contextlib.suppress(OSError):
            self.journal.at(JournalStage.DONE).end()

    def leave(self) -> None:
        """Remove what was staged and never put in place."""
        if not self.over:
            with contextlib.suppress(OSError):
                self.journal.end()


def _put(journal: Journal, entry: JournalEntry) -> None:
    """Put a new file in its place, where the old one still is what it was."""
    _check_unchanged(journal.folder / entry.path, entry.was)
    target = journal.target(entry)
    if entry.was != ABSENT:
        disk.put(journal.new(entry), target)
        return
    try:
        disk.put_first(journal.new(entry), target)
    except FileExistsError:
        raise _changed(target, "was made") from None


def _take_back(journal: Journal) -> tuple[str, ...]:
    """Put every old file back, and end the write; the paths of those that were edited since."""
    edited: list[str] = []
    for entry in journal.entries:
        target, old = journal.target(entry), journal.old(entry)
        now = _now(target)
        if now == entry.becomes and entry.was == ABSENT:
            disk.drop(target)
        elif now == entry.becomes and os.path.lexists(old):
            disk.put(old, target)
        elif now != entry.was:
            edited.append(entry.path)
    journal.settle()
    journal.end()
    return tuple(edited)


def mend(folder: Path, tell: Tell | None = None) -> None:
    """End what a command that was killed had begun in `folder`, which is held; and tell it.

    Without `tell` it is a warning.

    Raises:
        BadInput: it can't be ended.
    """
    if not left_in(folder):
        return
    with _refused(folder, "what an interrupted command left here cannot be mended"):
        journal = read_journal(folder)
        said = _ended(journal) if journal else ""
        disk.drop(folder / NEXT)  # a stage that never came to count
    if said and tell is None:
        warnings.warn(said, stacklevel=2)
    elif said and tell is not None:
        tell(said)


def _ended(journal: Journal) -> str:
    names = ", ".join(entry.path for entry in journal.entries)
    if journal.stage is JournalStage.BEGUN:
        journal.end()
        return f"an earlier command was stopped before it wrote {names}: nothing was changed"
    if journal.stage is JournalStage.DONE or all(_can_follow(journal, e) for e in journal.entries):
        for entry in journal.entries:
            if journal.stage is not JournalStage.DONE and _now(journal.target(entry)) == entry.was:
                _put(journal, entry)
        journal.settle()
        journal.at(JournalStage.DONE).end()
        return f"an earlier command was stopped while it wrote {names}: it was finished"
    edited = ", ".join(_take_back(journal))
    why = f", but for {edited}, edited since" if edited else ""
    return f"an earlier command was stopped while it wrote {names}: it was taken back{why}"


def _can_follow(journal: Journal, entry: JournalEntry) -> bool:
    """Whether a new file is in its place, whatever was made of it since, or can be put there."""
    now = _now(journal.target(entry))
    if os.path.lexists(journal.new(entry)):
        return now in (entry.was, entry.becomes)
    edited = now != entry.was and (entry.was == ABSENT or os.path.lexists(journal.old(entry)))
    return now == entry.becomes or edited


def _now(path: Path) -> Version | None:
    """The version of a file; None for what somebody made of it that is no file."""
    with contextlib.suppress(BadInput):
        return version_at(path)
    return None


@contextmanager
def settled(folder: Path, tell: Tell | None = None) -> Iterator[None]:
    """Hold a folder still while it is read; what a killed command had begun is ended first.

    Raises:
        BadInput: that can't be, and the files are not what anybody wanted them to be.
    """
    with locked(folder, shared=True, tell=tell):
        if not left_in(folder):
            yield
            return
    with locked(folder, tell=tell):
        try:
            mend(folder, tell)
        except BadInput:
            if not _harmless(folder):
                raise
        yield


def _harmless(folder: Path) -> bool:
    """Whether what was left in a folder, which may not be written to, changed no file yet."""
    journal = read_journal(folder)
    return journal is None or journal.stage is JournalStage.BEGUN


def home_of(path: Path, root: Path | None) -> Path:
    """The folder whose lock and journal guard a file: the bar at `root` around it, or its own."""
    if root is not None and not os.path.relpath(path, root).startswith(os.pardir):
        return root
    return path.parent


def _check_unchanged(path: Path, version: Version) -> None:
    now = version_at(path)
    if now != version:
        how = "was made" if version == ABSENT else "was deleted" if now == ABSENT else "has changed"
        raise _changed(path, how)


def _changed(path: Path, how: str) -> BadInput:
    what = f"the file {how} while the command ran"
    remedy = "Nothing was written. Look at it, and run the command again."
    return BadInput(what, where=Where(path), remedy=remedy)


_OF_THE_DISK = frozenset({errno.ENOSPC, errno.EDQUOT, errno.EROFS, errno.EIO})


@contextmanager
def _refused(path: Path, what: str = "the file cannot be written") -> Iterator[None]:
    """Say what the system refuses as a mistake about `path`."""
    try:
        yield
    except OSError as error:
        why = (error.strerror or "").lower()
        kind = DiskFailure if error.errno in _OF_THE_DISK else BadInput
        raise kind(what, where=Where(path), why=why) from None
