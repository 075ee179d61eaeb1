"""How loudly the characters of a drink speak."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from solver.drinks.answer import Answer
from solver.requests.word_meanings import SaidWord


def character_fields(answer: Answer) -> list[dict[str, Any]]:
    """The characters for programs."""
    return [
        {
            "of": list(each.character.tags),
            "usual_pours": each.usual_pours,
            "carried_by": [
                {
                    "ingredient": carrier.pour.ingredient.key,
                    f"usual_{carrier.pour.ingredient.per}": carrier.usual,
                }
                for carrier in each.carriers
            ],
        }
        for each in answer.loud
    ]


def word_fields(words: Iterable[SaidWord]) -> list[dict[str, Any]]:
    """The same for programs."""
    return [
        {"word": each.name, "asks": list(each.asks), "without_band": list(each.without_band)}
        for each in words
    ]
