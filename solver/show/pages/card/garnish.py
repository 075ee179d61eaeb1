"""What garnishes are called on a card: whole where a language has it so, else part by part."""

from __future__ import annotations

import re

from solver.show.words import Words
from solver.show.words.phrase import Phrase

_AND = re.compile(r",\s*and\s+|\s+and\s+|,\s*")


def garnish_words(text: str, words: Words) -> Phrase:
    """A garnish; what a language has no words for stays as it was written."""
    whole = words.called(text, "garnish")
    if whole.is_of_page:
        return whole
    parts = [words.called(part, "garnish") for part in _AND.split(text)]
    return words.row(parts) if any(part.is_of_page for part in parts) else whole
