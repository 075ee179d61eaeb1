"""The few things that are done to a disk, each with its name forced to last where that matters.

Every write of the project goes through these, and nothing else does: what a system can refuse, and
where a machine can stop, is here.
"""

from __future__ import annotations

import contextlib
import errno
import os
from pathlib import Path

_UNSUPPORTED = {errno.EINVAL, errno.ENOTSUP, errno.EOPNOTSUPP, errno.EPERM, errno.EACCES}
_NO_LINKS = {errno.ENOTSUP, errno.EOPNOTSUPP, errno.EPERM, errno.EMLINK, errno.ENOSYS, errno.EXDEV}
_WRITE = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)


def create(path: Path, content: bytes, like: os.stat_result | None = None) -> None:
    """Make a new file that holds `content`, on disk, with the permissions and owner of `like`.

    Raises:
        OSError: the system refuses; FileExistsError if there is one. No half of it stays.
    """
    descriptor = os.open(path, _WRITE, 0o666 if like is None else 0o600)
    try:
        try:
            rest = memoryview(content)
            while rest:
                rest = rest[os.write(descriptor, rest) :]
            if like is not None:
                _give(descriptor, like)
            os.fsync(descriptor)
        finally:
            os.close(descriptor)
    except BaseException:
        drop(path)
        raise


def _give(descriptor: int, like: os.stat_result) -> None:
    """Give an open file the owner and the permissions of another, as far as the system lets us."""
    if hasattr(os, "fchown"):  # not on every system
        with contextlib.suppress(OSError):
            os.fchown(descriptor, like.st_uid, like.st_gid)
        os.fchmod(descriptor, like.st_mode & 0o7777)


def copy(path: Path, to: Path, content: bytes) -> None:
    """Make `to` another name of the file at `path`, or where that can't be, a file as it is.

    Raises:
        OSError: the system refuses.
    """
    try:
        os.link(path, to)
    except OSError as error:
        if error.errno not in _NO_LINKS:
            raise
        create(to, content, path.stat())


def put(new: Path, path: Path) -> None:
    """Put the file `new` in place of the one at `path`, at once.

    Raises:
        OSError: the system refuses.
    """
    os.replace(new, path)


def put_first(new: Path, path: Path) -> None:
    """Put the file `new` at `path`, where there is none.

    Raises:
        OSError: the system refuses; FileExistsError if there is one.
    """
    try:
        os.link(new, path)
    except OSError as error:
        if error.errno not in _NO_LINKS:
            raise
        if os.path.lexists(path):
            raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST)) from None
        os.replace(new, path)
    else:
        os.unlink(new)


def drop(path: Path) -> None:
    """Remove a file, if it is there.

    Raises:
        OSError: the system refuses.
    """
    with contextlib.suppress(FileNotFoundError, NotADirectoryError):
        os.unlink(path)


def settle(folder: Path) -> None:
    """Force to disk which names a folder holds, where the system can.

    Raises:
        OSError: the disk fails.
    """
    if os.name == "nt":
        return  # folders can't be opened there
    descriptor = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(descriptor)
    except OSError as error:
        if error.errno not in _UNSUPPORTED:
            raise
    finally:
        os.close(descriptor)
