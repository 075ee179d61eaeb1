"""What a garnish takes of the shelf, read from its words: "2 lime wedges", "a sprig of mint"."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from solver.pantry.garnish_words import text_words
from solver.pantry.library import Library
from solver.pantry.pieces import WHOLE, Counted
from solver.pantry.word_forms import words

_APART = re.compile(r"[,;:/+&]|\b(?:and|with|plus|on|in)\b", re.IGNORECASE)
_HEAVIEST_G = 25.0
"""Of what weighs more a drink is given a piece, an apple's slice and not the apple: our own
choice."""
_NONE = frozenset({"no", "none", "without", "instead"})
BEGUN_WITH = re.compile(
    r"(?i)(?P<what>[^,]+), (?P<how>shaken|bruised|muddled)\b[^,]*(?:, and (?P<rest>.+))?"
)
"""A garnish of which something goes in before the drink does."""


def goes_in(garnish: str) -> str | None:
    """What of a garnish is in the drink before it is poured, in its words; None if nothing is."""
    begun = BEGUN_WITH.fullmatch(garnish)
    return begun["what"] if begun else None


@dataclass(frozen=True)
class GarnishTaken:
    """What one serve's garnish takes, by key in the ingredient's own unit.

    `uncounted` are the words that name something of which no amount is known.
    """

    amounts: Mapping[str, float]
    uncounted: tuple[str, ...] = ()


class Garnishes:
    """Reads garnishes, with what the pieces of a library weigh."""

    def __init__(self, library: Library) -> None:
        self._library = library

    def taken(self, text: str) -> GarnishTaken:
        """What one garnish takes.

        A citrus fruit of which nobody says how it is cut is not counted, nor is a thing that
        nobody has weighed.
        """
        amounts: dict[str, float] = {}
        plain = text_words().says_how
        uncounted: list[str] = []
        for phrase in _APART.split(text):
            said = words(phrase)
            if not said:
                continue
            if _NONE & set(said):
                break
            found = self._library.pieces.counted(said)
            if found and not (found.cut == WHOLE and self._is_no_garnish(found)):
                amounts[found.key] = amounts.get(found.key, 0.0) + found.count * found.each
            elif found or not all((word,) in plain or word.isdigit() for word in said):
                uncounted.append(" ".join(phrase.split()))
        return GarnishTaken(amounts, tuple(uncounted))

    def _is_no_garnish(self, found: Counted) -> bool:
        """Whether a whole one of it is none: a fruit that is pressed, or too heavy."""
        item = self._library.find(found.key)
        pressed = item.is_kind("raw") and item.piece is not None
        return pressed or found.each > _HEAVIEST_G
