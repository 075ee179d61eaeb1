"""The bytes of a file, and whether it still is what it was."""

from __future__ import annotations

import hashlib
import os
import stat
from pathlib import Path
from typing import Final, NewType

from solver.errors import BadInput, Where

LARGEST_FILE = 1_000_000
"""Bytes: ten thousand rows of a shelf. What is larger is not written by hand."""

Version = NewType("Version", str)
"""What a file held, as a digest (SHA-256): tells whether it still does."""

ABSENT: Final = Version("")
"""There was no such file."""


def version_of(content: bytes) -> Version:
    """The version of a file that holds `content`."""
    return Version(hashlib.sha256(content).hexdigest())


def version_at(path: Path) -> Version:
    """The version of the file at `path`; ABSENT if there is none.

    Raises:
        BadInput: it is no regular file, or may not be read.
    """
    return version_of(read_bytes(path)) if os.path.lexists(path) else ABSENT


def read_bytes(path: Path) -> bytes:
    """The content of a regular file. A pipe or a device is refused, so that none is waited for.

    Raises:
        BadInput: it does not exist, is no regular file, may not be read, or is far too large.
    """
    where = Where(path, 1)
    try:
        descriptor = os.open(path, _READ)
        try:
            kind = os.fstat(descriptor).st_mode
            content = _all_of(descriptor) if stat.S_ISREG(kind) else b""
        finally:
            os.close(descriptor)
    except FileNotFoundError:
        raise BadInput("there is no such file", where=where) from None
    except (OSError, ValueError) as error:
        why = error.strerror or "" if isinstance(error, OSError) else "its name cannot be used"
        raise BadInput("the file cannot be read", where=where, why=why.lower()) from None
    if not stat.S_ISREG(kind):
        why = "it is a folder" if stat.S_ISDIR(kind) else "it is a pipe or a device"
        raise BadInput("the file cannot be read", where=where, why=why)
    if len(content) > LARGEST_FILE:
        raise BadInput("the file is far too large to be one of ours", where=where)
    return content


def _all_of(descriptor: int) -> bytes:
    """What a file holds, up to one byte more than is allowed."""
    found = b""
    while len(found) <= LARGEST_FILE and (part := os.read(descriptor, LARGEST_FILE + 1)):
        found += part
    return found


# Opening a pipe that nobody writes to would wait for ever; systems without pipes have no such flag.
_READ = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
