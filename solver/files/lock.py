"""A lock on a folder: one writer at a time, and no reader meanwhile.

The folder itself is locked, so that no file is left lying in it; where a system can't lock folders
(Windows, some network disks) a file in it is. A lock ends with its process, however that ends.
Editors and spreadsheets know nothing of it: against those, `solver.files.atomic` compares.
"""

from __future__ import annotations

import errno
import os
import sys
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from solver.errors import BadInput, Where

if sys.platform == "win32":
    import msvcrt
else:
    import fcntl

LOCK_FILE = ".equipour-lock"
PATIENCE_S = 60.0
"""How long to wait for a command that writes."""
_SILENT_S = 1.0
"""How long to wait before anything is said."""
_PAUSE_S = 0.01
_TAKEN = {errno.EWOULDBLOCK, errno.EAGAIN, errno.EACCES, errno.EDEADLK}

Tell = Callable[[str], None]
"""What takes a sentence to the user."""


@dataclass
class _Held:
    descriptor: int
    exclusive: bool


class _Mine(threading.local):
    """The locks that this thread holds, by folder: asking for one again is no wait for oneself."""

    def __init__(self) -> None:
        self.held: dict[str, _Held] = {}


_MINE = _Mine()


@contextmanager
def locked(folder: Path, *, shared: bool = False, tell: Tell | None = None) -> Iterator[None]:
    """Hold a folder: alone, or `shared` with others that only read.

    What can't be locked is read all the same; nothing is written without a lock. `tell` is told
    when there is somebody to wait for.

    Raises:
        BadInput: another command writes for longer than anybody waits, or no lock can be had.
    """
    name = os.path.realpath(folder)
    mine = _MINE.held.get(name)
    if mine is not None and (mine.exclusive or shared):
        yield
    elif mine is not None:
        _wait(mine.descriptor, folder, tell, shared=False)
        mine.exclusive = True
        try:
            yield
        finally:
            mine.exclusive = False
            _take(mine.descriptor, shared=True)
    else:
        descriptor = _open(folder, tell, shared=shared)
        if descriptor is None:
            yield
            return
        _MINE.held[name] = _Held(descriptor, not shared)
        try:
            yield
        finally:
            del _MINE.held[name]
            os.close(descriptor)  # which ends the lock


def _open(folder: Path, tell: Tell | None, *, shared: bool) -> int | None:
    """A descriptor that holds the lock; None if there is none to be had and none is needed."""
    why = ""
    for path, flags in ((folder, os.O_RDONLY), (folder / LOCK_FILE, os.O_RDWR | os.O_CREAT)):
        try:
            descriptor = os.open(path, flags, 0o666)
        except OSError as error:
            why = (error.strerror or "").lower()
            continue
        try:
            _wait(descriptor, folder, tell, shared=shared)
        except OSError as error:
            os.close(descriptor)
            why = (error.strerror or "").lower()
        except BaseException:
            os.close(descriptor)
            raise
        else:
            return descriptor
    if shared:
        return None
    raise BadInput("nothing can be written here", where=Where(folder), why=why)


def _wait(descriptor: int, folder: Path, tell: Tell | None, *, shared: bool) -> None:
    """Take the lock as soon as it is free."""
    asked = time.monotonic()
    while not _take(descriptor, shared=shared):
        waited = time.monotonic() - asked
        if waited > PATIENCE_S:
            what = "another equipour command is writing here, and does not end"
            remedy = "Wait for it or stop it, then run this command again."
            raise BadInput(what, where=Where(folder), remedy=remedy)
        if tell is not None and waited > _SILENT_S:
            tell("waiting for another equipour command that is writing to this bar")
            tell = None
        time.sleep(_PAUSE_S)


def _take(descriptor: int, *, shared: bool) -> bool:
    """Try to lock what is open; whether that was free.

    Raises:
        OSError: it can't be locked on this system.
    """
    try:
        if sys.platform == "win32":
            msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)  # always alone
        else:
            kind = fcntl.LOCK_SH if shared else fcntl.LOCK_EX
            fcntl.flock(descriptor, kind | fcntl.LOCK_NB)
    except OSError as error:
        if error.errno in _TAKEN:
            return False
        raise
    return True
