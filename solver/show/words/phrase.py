"""Words of a page of which some are of another language: each run says of which."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from html import escape
from string import Formatter

from solver.pantry.word_forms import brief


@dataclass(frozen=True)
class Run:
    """Words of one language; "" is that of the page."""

    text: str
    language: str = ""


@dataclass(frozen=True)
class Phrase:
    """Runs one after the other; as text, what they say together."""

    runs: tuple[Run, ...] = ()

    @classmethod
    def of(cls, text: str, language: str = "") -> Phrase:
        """A phrase of one run; of none where there is no text."""
        return cls((Run(text, language),) if text else ())

    def __str__(self) -> str:
        """All the words."""
        return "".join(run.text for run in self.runs)

    def __html__(self) -> str:
        """All the words as markup, by which templates know that it is none of a user's."""
        return "".join(
            f'<span lang="{run.language}">{escape(run.text)}</span>'
            if run.language
            else escape(run.text)
            for run in self.runs
        )

    def __bool__(self) -> bool:
        """Whether it says anything."""
        return bool(self.runs)

    def __add__(self, other: Phrase | str) -> Phrase:
        """Both, one after the other."""
        more = Phrase.of(other) if isinstance(other, str) else other
        return Phrase(self.runs + more.runs)

    def without(self, prefix: str) -> Phrase:
        """The same without how its first run begins."""
        if not self.runs:
            return self
        first, *rest = self.runs
        return Phrase((Run(first.text.removeprefix(prefix), first.language), *rest))

    @property
    def is_of_page(self) -> bool:
        """Whether all of it is in the language of the page."""
        return not any(run.language for run in self.runs)

    @property
    def short(self) -> Phrase:
        """Each run without what stands in brackets or behind a comma."""
        return Phrase(tuple(Run(brief(run.text), run.language) for run in self.runs))

    @property
    def capital(self) -> Phrase:
        """The same with a capital letter first."""
        if not self.runs:
            return self
        first, *rest = self.runs
        return Phrase((Run(f"{first.text[:1].upper()}{first.text[1:]}", first.language), *rest))


def filled(pattern: str, filling: dict[str, Phrase | str]) -> Phrase:
    """A pattern with its gaps in braces filled."""
    said = Phrase()
    for text, gap, _, _ in Formatter().parse(pattern):
        said = said + text if text else said
        said = said + filling[gap] if gap else said
    return said


def in_a_row(phrases: Iterable[Phrase], joint: str, comma: str = ", ") -> Phrase:
    """Phrases with commas between them, the last one after `joint`."""
    *first, last = [*phrases] or [Phrase()]
    said = Phrase()
    for number, phrase in enumerate(first):
        said = said + comma + phrase if number else phrase
    return said + joint + last if first else last
