"""Words that are spelt alike: what somebody may have meant."""

from __future__ import annotations

import difflib
from collections.abc import Iterable

_LONGEST = 60
"""Letters beyond which a word is not compared: it is no slip of the pen."""


def near_words(word: str, known: Iterable[str], likeness: float = 0.6) -> tuple[str, ...]:
    """Up to three of the words `known` that are spelt like `word`, nearest first.

    `likeness` is how much of two words must agree, from 0 to 1.
    """
    begun = word.lower()[:_LONGEST]
    return tuple(difflib.get_close_matches(begun, list(known), n=3, cutoff=likeness))
