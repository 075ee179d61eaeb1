"""Reading TOML fast, and saying where a mistake is.

Files are read with the standard library. Only when something is wrong is the text searched for the
line to point at.
"""

from __future__ import annotations

import itertools
import re
import tomllib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from solver.errors import BadInput, Where
from solver.files.read import read_bytes

KeyPath = Sequence[str | int]


@dataclass(frozen=True)
class TomlText:
    """A TOML file: where it is, its text, and what it says."""

    path: Path
    text: str
    data: Mapping[str, Any]

    def where(self, keys: KeyPath) -> Where:
        """The line of the key that `keys` lead to, or of the nearest table around it."""
        return Where(self.path, line_of(self.text, keys))


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
