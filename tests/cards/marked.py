"""A language of which every word is marked, to find the words of a paper that stand in no table.

What fills the gaps of its sentences is outside of the marks.
"""

from __future__ import annotations

import html
import re
from collections.abc import Iterable, Iterator, Mapping
from html.parser import HTMLParser
from typing import Any

from solver.show.words import Words, words_of

BEGIN, END = "⟦", "⟧"
UNITS = frozenset({"g", "kg", "h", "L", "ml", "oz", "min", "EUR", "vol", "C"})
"""What is alike in every language, or as a bar wrote it."""


class _All(dict[str, str]):
    """A table that has a name for everything."""

    def get(self, key: str, default: Any = None) -> str:  # noqa: ARG002 - as of a dict
        return f"{BEGIN}{key}{END}"


class _Names(dict[str, Mapping[str, str]]):
    def get(self, key: str, default: Any = None) -> Mapping[str, str]:  # noqa: ARG002 - as of a dict
        return _All()


def _marked(table: Any) -> Any:
    if isinstance(table, Mapping):
        return {key: _marked(each) for key, each in table.items()}
    if isinstance(table, list):
        return [_marked(each) for each in table]
    return re.sub(r"[^{}]+(?![^{]*})", lambda text: f"{BEGIN}{text[0]}{END}", str(table))


def marked_words() -> Words:
    """English, with everything that comes out of a table in brackets."""
    table = words_of("en").table
    plain = {key: table[key] for key in ("decimal", "date")}
    return Words({**_marked(table), **plain, "language": "de"}, _Names())


class _Texts(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.said: list[str] = []
        self._within: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag not in ("meta", "input"):
            self._within.append(tag)
        self.said += [value or "" for name, value in attrs if name == "aria-label"]

    def handle_endtag(self, tag: str) -> None:
        assert self._within.pop() == tag

    def handle_data(self, data: str) -> None:
        if "style" not in self._within:
            self.said.append(data)


def texts_of(page: str) -> list[str]:
    """The words of a page of HTML, those of its pictures too."""
    read = _Texts()
    read.feed(page)
    return [html.unescape(each) for each in read.said]


def outside(texts: Iterable[str], own: Iterable[str]) -> list[str]:
    """The words of texts that came out of no table, but for the bar's `own` and units."""
    known = sorted(own, key=len, reverse=True)
    return [word for text in texts for word in _words(text, known) if word not in UNITS]


def _words(text: str, known: Iterable[str]) -> Iterator[str]:
    for each in known:
        text = text.replace(each, " ")
    depth, left = 0, []
    for letter in text:
        depth += (letter == BEGIN) - (letter == END)
        left.append(" " if depth or letter == END else letter)
    yield from re.findall(r"[^\W\d_]+", "".join(left))
