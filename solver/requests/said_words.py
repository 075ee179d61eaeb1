"""What a bar's words come to for a profile."""

from __future__ import annotations

from dataclasses import dataclass

from solver.requests.demands import Asked
from solver.requests.origin import From, Origin


@dataclass(frozen=True)
class SaidWord:
    """What a word asks of a drink, in words; `without_band` are measures at which the profile does
    not aim, so that no half of a band can be asked."""

    name: str
    asks: tuple[str, ...]
    without_band: tuple[str, ...] = ()


def said_words(asked: Asked) -> tuple[SaidWord, ...]:
    """What each word of a request asks."""
    found: list[SaidWord] = []
    for word in asked.request.words:
        own = [d for d in asked.demands if d.origin == Origin(From.WORD, word.name)]
        met = {demand.measure for demand in own}
        left = tuple(half.measure.label for half in word.halves if half.measure not in met)
        found.append(SaidWord(word.name, tuple(demand.says for demand in own), left))
    return tuple(found)
