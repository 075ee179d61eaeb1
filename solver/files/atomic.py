"""Writing files so that none is ever half there."""

from __future__ import annotations

import contextlib
import os
import tempfile
from collections.abc import Iterator, Mapping
from pathlib import Path

from solver.errors import BadInput, Where
from solver.files.read import read_bytes


def write_atomic(path: Path, content: str | bytes) -> None:
    """Put `content` in place of `path` at once; a failure leaves the old file as it was.

    The new file is written beside the old one, forced to disk, and renamed; it keeps the old one's
    permissions. A link is followed, so that it stays a link.

    Raises:
        BadInput: the folder does not exist or may not be written to.
    """
    write_together({path: content})


def write_together(contents: Mapping[Path, str | bytes]) -> None:
    """Put every content in place of its path as `write_atomic` does: all of them, or none.

    All new files are on disk before the first is renamed. Should a rename fail, those before it are
    undone; should the machine stop between two renames, each file is whole, old or new.

    Raises:
        BadInput: a folder does not exist or may not be written to.
    """
    before = {path: _content(path) for path in contents} if len(contents) > 1 else {}
    staged: dict[Path, Path] = {}
    renamed: list[Path] = []
    try:
        for path, content in contents.items():
            with _refused(path):
                staged[path] = _staged(Path(os.path.realpath(path)), content)
        for path, temporary in staged.items():
            with _refused(path):
                temporary.replace(os.path.realpath(path))
            renamed.append(path)
    except BaseException:
        for path in renamed:
            _put_back(path, before.get(path))
        raise
    finally:
        for temporary in staged.values():
            with contextlib.suppress(OSError):
                temporary.unlink(missing_ok=True)


def _content(path: Path) -> bytes | None:
    return read_bytes(path) if path.exists() else None


def _put_back(path: Path, content: bytes | None) -> None:
    if content is None:
        path.unlink(missing_ok=True)
    else:
        write_atomic(path, content)


@contextlib.contextmanager
def _refused(path: Path) -> Iterator[None]:
    """Say what the system refuses as a mistake about `path`."""
    try:
        yield
    except OSError as error:
        why = (error.strerror or "").lower()
        raise BadInput("the file cannot be written", where=Where(path), why=why) from None


def _staged(target: Path, content: str | bytes) -> Path:
    """A new file beside `target`, on disk, with its permissions."""
    data = content.encode() if isinstance(content, str) else content
    handle, name = tempfile.mkstemp(prefix=f".{target.name}.", dir=target.parent)
    temporary = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        temporary.chmod(_mode(target))
    except BaseException:
        temporary.unlink(missing_ok=True)
        raise
    return temporary


def _mode(target: Path) -> int:
    """Permissions of the file that is replaced, or those a new file would get."""
    try:
        return target.stat().st_mode & 0o7777
    except FileNotFoundError:
        mask = os.umask(0)
        os.umask(mask)
        return 0o666 & ~mask
