"""The words of garnishes, steps and notes, as garnish_words.toml has them, each in one form."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache

from solver.files.checked import Model, Text, check
from solver.files.toml import read_toml
from solver.pantry.disclosure import Disclosure
from solver.pantry.folders import GARNISH_WORDS
from solver.pantry.ingredient import Allergen
from solver.pantry.word_forms import Words, words


class _GarnishWords(Model):
    """What garnish_words.toml holds."""

    plain: tuple[Text, ...]
    method: tuple[Text, ...]
    vessels: tuple[Text, ...]
    cuts: tuple[Text, ...]
    harmless: tuple[Text, ...]
    adding: tuple[Text, ...]
    unnamed: tuple[Text, ...]
    points: tuple[Text, ...]
    of_the_drink: tuple[Text, ...]
    at_hand: tuple[Text, ...]
    alcoholic: tuple[Text, ...]
    wines: tuple[Text, ...]
    plants: tuple[Text, ...]
    composite: tuple[Text, ...]
    may_contain: Mapping[Text, frozenset[Allergen]]
    may_be: Mapping[Text, tuple[Text, ...]]
    hazards: Mapping[Text, Text]


@dataclass(frozen=True)
class TextWords:
    """Words of texts by what they say; the comments of garnish_words.toml say what each list is.

    `plain` has the `plants` too, and `unnamed` what may be `of_the_drink`. `drinks` has what every
    word for a drink tells, and `vessels` finds the glasses that are called after one.
    """

    says_how: frozenset[Words]
    plants: frozenset[Words]
    plain: frozenset[Words]
    method: frozenset[Words]
    cuts: frozenset[Words]
    harmless: frozenset[Words]
    adding: frozenset[Words]
    unnamed: frozenset[Words]
    points: frozenset[Words]
    of_the_drink: frozenset[Words]
    at_hand: frozenset[Words]
    composite: frozenset[Words]
    drinks: Mapping[Words, Disclosure]
    vessels: re.Pattern[str]
    may_contain: Mapping[Words, frozenset[str]]
    may_be: Mapping[Words, tuple[str, ...]]
    hazards: Mapping[Words, str]


@cache
def text_words() -> TextWords:
    """The words, read once.

    Raises:
        BadInput, BadInputs: the file is not what it should be.
    """
    file = read_toml(GARNISH_WORDS)
    read = check(_GarnishWords, file.data, file)
    may_contain = {words(name): allergens for name, allergens in read.may_contain.items()}
    return TextWords(
        says_how=_forms(read.plain),
        plants=_forms(read.plants),
        plain=_forms((*read.plain, *read.plants)),
        method=_forms(read.method),
        cuts=_forms(read.cuts),
        harmless=_forms(read.harmless),
        adding=_forms(read.adding),
        unnamed=_forms((*read.unnamed, *read.of_the_drink)),
        points=_forms(read.points),
        of_the_drink=_forms(read.of_the_drink),
        at_hand=_forms(read.at_hand),
        composite=_forms(read.composite),
        drinks=_drinks(read, may_contain),
        vessels=_finding(read.vessels),
        may_contain=may_contain,
        may_be={words(said): meant for said, meant in read.may_be.items()},
        hazards={words(name): caution for name, caution in read.hazards.items()},
    )


def _forms(names: Iterable[str]) -> frozenset[Words]:
    return frozenset(map(words, names))


def _drinks(
    read: _GarnishWords, may_contain: Mapping[Words, frozenset[str]]
) -> Mapping[Words, Disclosure]:
    """What everyday words for a drink tell: each may hold alcohol, and a wine sulphites."""
    kept = frozenset({"sulphites"})
    holds = ((read.alcoholic, frozenset[str]()), (read.wines, kept))
    return {
        words(name): Disclosure(
            may_hold_alcohol=(name.removeprefix("with ").removeprefix("of "),),
            may_contain=also | may_contain.get(words(name), frozenset()),
        )
        for names, also in holds
        for name in names
    }


def _finding(vessels: Iterable[str]) -> re.Pattern[str]:
    """Finds any of some names in a text; the longest, in a line."""
    either = "|".join(n.replace(" ", "[ -]") for n in sorted(vessels, key=len, reverse=True))
    return re.compile(rf"\b(?:{either})(?:e?s)?\b", re.IGNORECASE)
