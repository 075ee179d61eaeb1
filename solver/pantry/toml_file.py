"""Reading TOML fast, saying where a mistake is, and writing files so that none is ever half there.

Files are read with the standard library. Only when something is wrong is the text searched for the
line to point at.
"""

from __future__ import annotations

import contextlib
import itertools
import os
import re
import tempfile
import tomllib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from solver.errors import BadInput, Where

KeyPath = Sequence[str | int]
_LARGEST_FILE = 10_000_000


@dataclass(frozen=True)
class TomlText:
    """A TOML file: where it is, its text, and what it says."""

    path: Path
    text: str
    data: Mapping[str, Any]

    def where(self, keys: KeyPath) -> Where:
        """The line of the key that `keys` lead to, or of the nearest table around it."""
        return Where(self.path, line_of(self.text, keys))


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


def read_toml(path: Path) -> TomlText:
    """Read a TOML file.

    Raises:
        BadInput: the file cannot be read, is not UTF-8, or is not TOML; with the line.
    """
    raw = read_bytes(path)
    try:
        text = raw.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        raise BadInput(
            "the file is not UTF-8 text",
            where=Where(path, line),
            remedy="Save it again as UTF-8.",
        ) from None
    return TomlText(path, text, parse_toml(text, path))


def parse_toml(text: str, source: Path) -> dict[str, Any]:
    """What the TOML in `text` says; `source` is named in a mistake.

    Raises:
        BadInput: it is not TOML; with the line.
    """
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise _broken(str(error), text, source) from None
    except RecursionError:
        raise BadInput("the file nests too deeply", where=Where(source, 1)) from None
    except ValueError as error:  # a number too long for the interpreter, an impossible date
        raise _broken(str(error), text, source) from None


def _broken(message: str, text: str, source: Path) -> BadInput:
    place = re.search(r"\(at line (\d+)", message)
    line = int(place[1]) if place else max(1, text.rstrip().count("\n") + 1)
    reason = re.sub(r"\s*\(at [^()]*\)$", "", message)
    twice = reason.startswith(("Cannot overwrite", "Cannot declare", "Cannot mutate", "Duplicate"))
    return BadInput(
        "the file is not valid TOML",
        where=Where(source, line),
        why="a key or a table is given twice" if twice else reason[:1].lower() + reason[1:],
        remedy="Text goes in quotes, lists in [ ], tables begin with [name].",
    )


_HEADER = re.compile(r"\s*(\[\[?)\s*(.+?)\s*\]\]?\s*(?:#.*)?$")
_ASSIGNMENT = re.compile(
    r"\s*((?:[\w-]+|\"[^\"]*\"|'[^']*')(?:\s*\.\s*(?:[\w-]+|\"[^\"]*\"|'[^']*'))*)\s*="
)
_KEY = re.compile(r"[\w-]+|\"[^\"]*\"|'[^']*'")


def _keys(text: str) -> list[str | int]:
    return [key.strip("\"'") for key in _KEY.findall(text)]


def key_lines(text: str) -> Iterator[tuple[list[str | int], int]]:
    """Each table header and assignment in `text`: the keys that lead to it, and its line.

    Entries of arrays of tables are numbered as pydantic numbers them, from 0.
    """
    table: list[str | int] = []
    arrays: dict[tuple[str | int, ...], int] = {}
    fence = ""
    for number, line in enumerate(text.split("\n"), start=1):
        if fence:
            fence = "" if line.count(fence) % 2 else fence
            continue
        if header := _HEADER.match(line):
            table = _keys(header[2])
            if header[1] == "[[":
                arrays[tuple(table)] = arrays.get(tuple(table), -1) + 1
                table.append(arrays[tuple(table)])
            elif len(table) > 1 and tuple(table[:-1]) in arrays:
                table.insert(-1, arrays[tuple(table[:-1])])
            yield table, number
        elif assignment := _ASSIGNMENT.match(line):
            yield [*table, *_keys(assignment[1])], number
            fence = next((mark for mark in ('"""', "'''") if line.count(mark) % 2), "")


def line_of(text: str, keys: KeyPath) -> int:
    """The line on which the value that `keys` lead to is given, or the nearest table around it."""
    wanted = list(keys)
    best_line, best_depth = 1, 0
    for path, line in key_lines(text):
        pairs = zip(path, wanted, strict=False)
        depth = len(list(itertools.takewhile(lambda pair: pair[0] == pair[1], pairs)))
        if depth > best_depth:
            best_line, best_depth = line, depth
    return best_line


def make_folder(path: Path) -> None:
    """Make a folder where there is none; the one around it must be there.

    Raises:
        BadInput: it can't be made.
    """
    try:
        path.mkdir(exist_ok=True)
    except OSError as error:
        why = (error.strerror or "").lower()
        raise BadInput("the folder cannot be made", where=Where(path), why=why) from None


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
