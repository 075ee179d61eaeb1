"""Where the keys of a TOML file stand: noted by the lossless parser while it reads the text."""

from __future__ import annotations

import bisect
import itertools
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from functools import lru_cache

from tomlkit.exceptions import TOMLKitError
from tomlkit.items import AoT, Array, Item, Key, Table
from tomlkit.parser import Parser

from solver.files.toml import KeyPath


@dataclass(frozen=True)
class Position:
    """Where a value begins: the keys that lead to it, its 1-based line, whether by a header.

    A header is a line like [name] or [[name]].
    """

    keys: tuple[str | int, ...]
    line: int
    header: bool = False


class _Noting(Parser):
    """The lossless parser, which notes where each header, key and entry of an array begins."""

    def __init__(self, text: str) -> None:
        super().__init__(text)
        self.found: list[tuple[tuple[str | int, ...], int, bool]] = []
        self._within: tuple[str | int, ...] = ()
        self._entries: list[int | None] = []
        self._counts: dict[tuple[str | int, ...], int] = {}

    def _parse_table(
        self, parent_name: Key | None = None, parent: Table | None = None
    ) -> tuple[Key, Table | AoT]:
        is_array, key = self._peek_table()
        path: tuple[str | int, ...] = ()
        *above, last = (part.key for part in key)
        for name in above:
            path = (*path, name)
            if path in self._counts:  # the header speaks of the last entry so far
                path = (*path, self._counts[path])
        path = (*path, last)
        if is_array:
            self._counts[path] = self._counts.get(path, -1) + 1
            path = (*path, self._counts[path])
        self.found.append((path, self._idx, True))
        self._within = path
        return super()._parse_table(parent_name, parent)

    def _parse_key_value(self, parse_comment: bool = False) -> tuple[Key, Item]:
        with self._state(save_marker=True, restore=True):
            self._src.consume(" \t")
            start = self._idx
            names = tuple(part.key for part in self._parse_key())
        with self._inside(*names):
            self.found.append((self._within, start, False))
            self._entries.append(None)  # what follows is its value, and no entry of an array
            try:
                return super()._parse_key_value(parse_comment)
            finally:
                self._entries.pop()

    def _parse_array(self) -> Array:
        self._entries.append(0)
        try:
            return super()._parse_array()
        finally:
            self._entries.pop()

    def _parse_value(self) -> Item:
        at = self._entries[-1]
        if at is None:
            return super()._parse_value()
        self._entries[-1] = at + 1
        with self._inside(at):
            self.found.append((self._within, self._idx, False))
            return super()._parse_value()

    @contextmanager
    def _inside(self, *names: str | int) -> Iterator[None]:
        outside = self._within
        self._within = (*outside, *names)
        try:
            yield
        finally:
            self._within = outside


@lru_cache(maxsize=8)
def positions(text: str) -> tuple[Position, ...]:
    """Every header, key and entry of an array in `text`, in order.

    Where the text is no TOML, or nests deeper than anybody writes: those before that.
    """
    parser = _Noting(text)
    with suppress(TOMLKitError, ValueError, RecursionError):
        parser.parse()
    ends = list(itertools.accumulate(len(line) + 1 for line in text.split("\n")))
    return tuple(
        Position(path, bisect.bisect_right(ends, index) + 1, header)
        for path, index, header in parser.found
    )


def line_of(text: str, keys: KeyPath) -> int:
    """The line on which the value that `keys` lead to begins, or the nearest table around it."""
    wanted = tuple(keys)
    best_line, best_depth = 1, 0
    for position in positions(text):
        pairs = zip(position.keys, wanted, strict=False)
        depth = len(list(itertools.takewhile(lambda pair: pair[0] == pair[1], pairs)))
        if depth > best_depth:
            best_line, best_depth = position.line, depth
    return best_line
