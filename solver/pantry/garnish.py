"""What a garnish takes of the shelf, read from its words: "2 lime wedges", "a sprig of mint"."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from solver.files.checked import Key, Model, Text, check
from solver.files.toml import read_toml
from solver.pantry.folders import YIELDS
from solver.pantry.fruit import as_figure, fruit_by_juice
from solver.pantry.ingredient import Figure
from solver.pantry.library import Library
from solver.pantry.mentions import MOST_WORDS, says_how
from solver.pantry.word_forms import Words, part_of, words

_APART = re.compile(r"[,;:/+&]|\b(?:and|with|plus|on|in)\b", re.IGNORECASE)
_NONE = frozenset({"no", "none", "without", "instead"})
_COUNTS = {
    "half": 0.5, "pair": 2.0, "two": 2.0, "three": 3.0, "four": 4.0, "five": 5.0,
}  # fmt: skip
_CUTS = {
    "twist": "peel", "zest": "peel", "swath": "peel", "swathe": "peel", "strip": "peel",
    "disc": "peel", "coin": "peel", "moon": "wheel", "grated": "grating", "quill": "stick",
    "frond": "leaf", "bunch": "bouquet", "rimmed": "rim",
}  # fmt: skip
"""Other words for a cut."""
_UNCUT = ""
"""The cut of a fruit of which nobody says how it is cut: its amount is not known."""


@dataclass(frozen=True)
class GarnishTaken:
    """What one serve's garnish takes, by key in the ingredient's own unit.

    `uncounted` are the words that name something of which no amount is known.
    """

    amounts: Mapping[str, float]
    uncounted: tuple[str, ...] = ()


class Garnishes:
    """Reads garnishes, with what the fruit and the garnishes of a library weigh."""

    def __init__(self, library: Library) -> None:
        self._cuts: dict[str, Mapping[str, float]] = {}
        self._named: dict[Words, str] = {}
        for fruit in fruit_by_juice(library).values():
            of_one = {cut: fruit.weight.value / count for cut, count in fruit.cuts.items()}
            self._add(fruit.key, {_UNCUT: 0.0, **of_one}, library)
        for key, cuts in _written().items():
            self._add(key, {cut: figure.value for cut, figure in cuts.items()}, library)
        for item in library:
            if item.is_kind("garnish") and item.piece:
                self._add(item.key, {"piece": item.piece.value}, library)

    def _add(self, key: str, cuts: Mapping[str, float], library: Library) -> None:
        item = library.get(key)
        if item is None:
            return
        self._cuts[key] = cuts
        for name in (item.key, item.name, *item.aliases):
            said = words(name)
            for form in {said, part_of(said)} - {()}:
                self._named.setdefault(form, key)

    def taken(self, text: str) -> GarnishTaken:
        """What one garnish takes.

        A citrus fruit of which nobody says how it is cut is not counted, nor is a thing that
        nobody has weighed.
        """
        amounts: dict[str, float] = {}
        uncounted: list[str] = []
        for phrase in _APART.split(text):
            said = words(phrase)
            if not said:
                continue
            if _NONE & set(said):
                break
            key = self._name_in(said)
            amount = self._amount(key, said) if key else 0.0
            if key and amount:
                amounts[key] = amounts.get(key, 0.0) + amount
            elif key or not all((word,) in says_how() or word.isdigit() for word in said):
                uncounted.append(" ".join(phrase.split()))
        return GarnishTaken(amounts, tuple(uncounted))

    def _name_in(self, said: Words) -> str | None:
        """The key of the longest name that stands in some words."""
        for size in range(min(MOST_WORDS, len(said)), 0, -1):
            for at in range(len(said) - size + 1):
                if said[at : at + size] in self._named:
                    return self._named[said[at : at + size]]
        return None

    def _amount(self, key: str, said: Words) -> float:
        cuts = self._cuts[key]
        asked = (_CUTS.get(word, word) for word in said)
        cut = next((cut for cut in asked if cut in cuts), next(iter(cuts)))
        count = 1.0
        for word in said:
            if word != cut:
                count *= float(word) if word.isdecimal() else _COUNTS.get(word, 1.0)
        return count * cuts[cut]


@cache
def _written() -> Mapping[str, Mapping[str, Figure]]:
    """The built-in weights of garnishes, g, by ingredient and cut."""
    file = read_toml(YIELDS / "garnish.toml")
    tables = {
        key: {cut: as_figure(figure, "g") for cut, figure in cuts.items()}
        for key, cuts in file.data.items()
    }
    return check(_Written, {"of": tables}, file).of


class _Written(Model):
    """What yields/garnish.toml holds."""

    of: Mapping[Key, Mapping[Text, Figure]]
