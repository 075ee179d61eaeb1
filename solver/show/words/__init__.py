"""The words of cards and other pages, by language: one file of the same keys for each.

A file in `names/` says what ingredients, garnishes and cautions are called in a language; what is
not in it stays as it is, and is marked as English.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from functools import cache
from typing import Any

from solver.errors import BadInput
from solver.pantry.bar import Bar
from solver.pantry.folders import LANGUAGES, languages
from solver.show.words.names_in_a_row import listed
from solver.show.words.phrase import Phrase, filled, in_a_row

__all__ = ["LIBRARY", "Words", "languages", "words_for", "words_of"]

LIBRARY = "en"
"""The language of the library, and of a bar's files where bar.toml says no other."""


@dataclass(frozen=True)
class Words:
    """The words of one language, by table and key; `own` is the language of a bar's own texts."""

    table: Mapping[str, Any]
    names: Mapping[str, Mapping[str, str]]
    own: str = LIBRARY

    @property
    def language(self) -> str:
        """Its code, as pages declare it: "en"."""
        return str(self.table["language"])

    def say(self, table: str, key: str, /, **filling: str | date) -> str:
        """The words of a key, with what stands in braces filled in."""
        return str(self.table[table][key]).format_map(filling)

    def phrase(self, table: str, key: str, /, **filling: Phrase | str) -> Phrase:
        """As `say`, of words that may be of another language in part."""
        return filled(str(self.table[table][key]), filling)

    def called(self, text: str, table: str = "name") -> Phrase:
        """What is said for English words of a table of names; themselves where it has none."""
        if self.language == LIBRARY:
            return Phrase.of(text)
        known = self.names.get(table, {}).get(text)
        if known is None and (about := self._about(text, table)) is not None:
            return about
        return Phrase.of(known) if known else Phrase.of(text, self.own)

    def _about(self, text: str, table: str) -> Phrase | None:
        """What is said for a sentence about ingredients and a day; None for no such.

        Such sentences stand in the table with "{name}", "{other}" and "{day}" in their place.
        """
        for english, own in self.names.get(table, {}).items():
            if "{" in english and (match := _pattern(english).fullmatch(text)) is not None:
                gaps = match.groupdict()
                return filled(own, {gap: self._gap(gap, said) for gap, said in gaps.items()})
        return None

    def _gap(self, gap: str, said: str) -> Phrase | str:
        """What fills a gap: a day, or names, which may be several with commas between them."""
        if gap == "day":
            return self.day(date.fromisoformat(said))
        whole = self.called(said)
        several = [self.called(each) for each in said.split(", ")]
        return whole if whole.is_of_page or len(several) < 2 else in_a_row(several, ", ")

    def row(self, phrases: Iterable[Phrase]) -> Phrase:
        """Phrases in a row, the last one joined by "and"."""
        return in_a_row(phrases, str(self.table["and"]))

    def amount(self, said: str) -> str:
        """An amount like "22.5 mL" or "2 dashes" with this language's words and decimals."""
        number, _, unit = said.rpartition(" ")
        unit = self.table["unit"].get(unit, unit)
        return f"{number.replace('.', str(self.table['decimal']))} {unit}".strip()

    def count(self, number: int, noun: str) -> str:
        """So many of what a noun names: "1 drink", "3 drinks"."""
        one, several = self.table["count"][noun]
        return str(one if number == 1 else several).format(count=number)

    def number(self, value: float, decimals: int) -> str:
        """A number as it is written in this language."""
        return f"{value:.{decimals}f}".replace(".", str(self.table["decimal"]))

    def day(self, day: date) -> str:
        """A date as it is written in this language."""
        return str(self.table["date"]).format(day=day)

    def weekday(self, day: date) -> str:
        """The day of the week, in short."""
        return str(self.table["weekdays"][day.weekday()])

    def listed(self, names: list[str]) -> str:
        """Names in a row, the last one joined by "and"."""
        return listed(names, str(self.table["and"]))


@cache
def _pattern(sentence: str) -> re.Pattern[str]:
    """What matches a sentence whose gaps are filled."""
    parts = re.split(r"\{(name|other|day)\}", sentence)
    gaps = {"day": r"\d{4}-\d\d-\d\d"}
    return re.compile("".join(
        f"(?P<{part}>{gaps.get(part, '.+')})" if at % 2 else re.escape(part)
        for at, part in enumerate(parts)
    ))  # fmt: skip


def words_for(bar: Bar, language: str | None) -> Words:
    """The words of a bar's papers: of a language, else of the bar's.

    Raises:
        BadInput: as `words_of`.
    """
    return replace(words_of(language or bar.language), own=bar.language)


@cache
def words_of(language: str) -> Words:
    """The words of a language.

    Raises:
        BadInput: there is no file of it.
    """
    if language not in languages():
        what = f"'{language[:20]}' is not a language known here"
        raise BadInput(what, remedy=f"Known: {', '.join(languages())}.")
    with (LANGUAGES / f"{language}.toml").open("rb") as file:
        table = tomllib.load(file)
    names = LANGUAGES / "names" / f"{language}.toml"
    return Words(table, tomllib.loads(names.read_text("utf-8")) if names.exists() else {})
