"""Reading TOML fast, and saying where a mistake is.

Files are read by the compiled twin of the standard library's reader. Only when something is wrong
is the text searched for the line to point at.
"""

from __future__ import annotations

import codecs
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher
from pathlib import Path
from typing import Any

import tomli

from solver.errors import BadInput, Where
from solver.files.read import Version, read_bytes, version_of

KeyPath = Sequence[str | int]
"""What leads to a value: keys of tables, and places in arrays, counted from 0."""


@dataclass(frozen=True)
class TomlText:
    """A TOML file: where it is, its text with plain line ends, what it says, and its bytes.

    A text that is in no file has no bytes.
    """

    path: Path
    text: str
    data: Mapping[str, Any]
    raw: bytes = b""

    @property
    def version(self) -> Version:
        """What tells whether the file still is what was read."""
        return version_of(self.raw)

    def where(self, keys: KeyPath) -> Where:
        """The line of the key that `keys` lead to, or of the nearest table around it."""
        from solver.files.positions import line_of  # what parses losslessly is slow to import

        return Where(self.path, line_of(self.text, keys))

    def encoded(self, text: str) -> bytes:
        """The bytes of `text` in this file's form: its byte-order mark, and its line ends.

        Where it has several line ends, every line that stays keeps its own.
        """
        mark = codecs.BOM_UTF8 if self.raw.startswith(codecs.BOM_UTF8) else b""
        old, new = self.raw.decode("utf-8-sig").split("\n"), text.split("\n")
        returns = sum(line.endswith("\r") for line in old)
        usual = "\r" if 2 * returns > len(old) - 1 else ""
        ends = [usual] * (len(new) - 1) + [""]
        if 0 < returns < len(old) - 1:
            plain = [line.removesuffix("\r") for line in old]
            for block in SequenceMatcher(None, plain, new, autojunk=False).get_matching_blocks():
                for at in range(min(block.size, len(new) - 1 - block.b)):
                    ends[block.b + at] = old[block.a + at][len(plain[block.a + at]) :]
        return mark + "\n".join(map("".join, zip(new, ends, strict=True))).encode()


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
    return TomlText(path, text, parse_toml(text, path), raw)


_MANY_DOTS = 500
"""Dots in a line beyond which its keys are counted first: reading deep ones takes very long."""


def parse_toml(text: str, source: Path) -> dict[str, Any]:
    """What the TOML in `text` says; `source` is named in a mistake.

    Raises:
        BadInput: it is not TOML; with the line.
    """
    if any(line.count(".") > _MANY_DOTS for line in text.split("\n")):
        from solver.files.positions import nests_too_deeply

        if nests_too_deeply(text):
            raise BadInput("the file nests too deeply", where=Where(source, 1))
    try:
        return tomli.loads(text)
    except tomli.TOMLDecodeError as error:
        raise _broken(str(error), text, source) from None
    except RecursionError:
        raise BadInput("the file nests too deeply", where=Where(source, 1)) from None
    except ValueError as error:  # a number too long for the interpreter, an impossible date
        said = "a number in it has far too many digits" if "digits" in str(error) else str(error)
        raise _broken(said, text, source) from None


def _broken(message: str, text: str, source: Path) -> BadInput:
    place = re.search(r"\(at line (\d+)", message)
    line = int(place[1]) if place else max(1, text.rstrip().count("\n") + 1)
    reason = re.sub(r"\s*\(at [^()]*\)$", "", message)
    twice = reason.startswith(("Cannot overwrite", "Cannot declare", "Cannot mutate", "Duplicate"))
    return BadInput(
        "the file is not valid TOML",
        where=Where(source, line),
        why="a key or a table is given twice" if twice else reason[:1].lower() + reason[1:],
        remedy="Text and names with spaces go in quotes, lists in [ ], tables begin with [name].",
    )
