"""Where the keys of a TOML file stand: noted by the lossless parser while it reads the text."""

from __future__ import annotations

import bisect
import itertools
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from functools import lru_cache

from tomlkit.exceptions import TOMLKitError
from tomlkit.items import AoT, Array, Item, Key, Table
from tomlkit.parser import Parser


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


@lru_cache(maxsize=8)
def _lines(text: str) -> dict[tuple[str | int, ...], int]:
    """The first line that speaks of what keys lead to, for every beginning of every key."""
    found: dict[tuple[str | int, ...], int] = {}
    for position in positions(text):
        for depth in range(len(position.keys), 0, -1):
            if position.keys[:depth] in found:
                break
            found[position.keys[:depth]] = position.line
    return found


def line_of(text: str, keys: Sequence[str | int]) -> int:
    """The line on which the value that `keys` lead to begins, or the nearest table around it."""
    lines = _lines(text)
    beginnings = (tuple(keys[:depth]) for depth in range(len(keys), 0, -1))
    return next((lines[keys] for keys in beginnings if keys in lines), 1)


def nests_too_deeply(text: str) -> bool:
    """Whether keys or arrays in `text` lie deeper in each other than anybody writes them."""
    try:
        Parser(text).parse()
    except TOMLKitError as error:
        return "nested" in str(error)
    except RecursionError:
        return True
    return False
