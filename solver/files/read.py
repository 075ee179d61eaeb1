"""The bytes of a file."""

from __future__ import annotations

from pathlib import Path

from solver.errors import BadInput, Where

_LARGEST_FILE = 10_000_000


def read_bytes(path: Path) -> bytes:
    """The content of a file.

    Raises:
        BadInput: it does not exist, is no file, may not be read, or is far too large.
    """
    where = Where(path, 1)
    try:
        with path.open("rb") as file:
            content = file.read(_LARGEST_FILE + 1)
    except FileNotFoundError:
        raise BadInput("there is no such file", where=where) from None
    except (OSError, ValueError) as error:
        why = error.strerror or "" if isinstance(error, OSError) else "its name cannot be used"
        raise BadInput("the file cannot be read", where=where, why=why.lower()) from None
    if len(content) > _LARGEST_FILE:
        raise BadInput("the file is far too large to be one of ours", where=where)
    return content
