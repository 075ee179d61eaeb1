"""What somebody may mean by a name that is not in the library: by its words, not by its letters.

Words are weighed by how few ingredients have them (inverse document frequency: Spärck Jones,
J. Documentation 28, 1972): "syrup" says little, "peated" much. The word that says what the thing is
of, the "rum" of spiced rum and the "pumpkin" of pumpkin puree, weighs much in any case: what shares
only its form with what was asked is no guess.
"""

from __future__ import annotations

import difflib
import math
import re
import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from solver.pantry.ingredient import Ingredient

SAME: Mapping[str, str] = {
    "whisky": "whiskey", "whiskies": "whiskey", "nonalcoholic": "non alcoholic",
    "alcoholfree": "non alcoholic", "zeroproof": "non alcoholic", "virgin": "non alcoholic",
    "na": "non alcoholic", "chai": "spiced tea", "spice": "spiced", "spices": "spiced",
    "nectar": "juice", "squash": "cordial", "sirup": "syrup", "gomme": "syrup",
    "seltzer": "soda", "fizzy": "sparkling", "bubbly": "sparkling", "bubbles": "sparkling",
    "prosecco": "sparkling wine", "cava": "sparkling wine", "champagne": "sparkling wine",
    "chile": "chilli", "chili": "chilli", "mandarine": "mandarin",
    "espressos": "espresso", "schnapps": "liqueur",
    "islay": "peated", "smoky": "peated", "smoked": "peated", "gold": "aged",
    "golden": "aged", "icing": "white", "caster": "white", "granulated": "white",
    "double": "heavy", "whipping": "heavy", "single": "light",
}  # fmt: skip
"""Words of everyday speech by those of the library: common usage, no source."""

FILLING = frozenset({"a", "an", "and", "of", "the", "with", "for", "in", "style", "class", "type"})
FORMS = frozenset({
    "juice", "puree", "syrup", "liqueur", "bitter", "cordial", "soda", "water", "powder", "extract",
    "tincture", "infusion", "brine", "drink", "cream", "milk", "wine", "solution", "leave", "fresh",
})  # fmt: skip
"""Words that say in what form a thing is, and not of what."""
FORM_COUNTS = 0.5
"""What a word of form weighs beside one that says of what."""
NEW = 0.6
"""What a word weighs that no ingredient has, as a share of the rarest: it may mean anything."""
LIKE_A_WORD = 0.84
"""How alike two words are that one is taken for a slip of the other."""
KIND_COUNTS = 0.6
"""What a word is worth that only the ingredient's kind has."""
LIKELY = 0.45
"""Share of what a name says that an ingredient must answer to be a guess: our own choice."""
TOO_MUCH = 0.06
"""What is taken off for all that an ingredient's name says beyond the one asked for."""


@dataclass(frozen=True)
class _Known:
    ingredient: Ingredient
    names: tuple[frozenset[str], ...]
    kind: frozenset[str]


class Guesses:
    """Guesses at ingredients by name."""

    def __init__(self, ingredients: Iterable[Ingredient]) -> None:
        self._known = tuple(
            _Known(
                item,
                tuple(dict.fromkeys(frozenset(words(name)) for name in _names(item))),
                frozenset(words(item.kind)),
            )
            for item in ingredients
        )
        seen: dict[str, int] = {}
        for known in self._known:
            for word in frozenset.union(*known.names):
                seen[word] = seen.get(word, 0) + 1
        self._weights = {w: math.log(len(self._known) / n) for w, n in seen.items()}
        self._rare = math.log(max(2, len(self._known)))

    def of(self, text: str, most: int = 3) -> tuple[Ingredient, ...]:
        """What `text` may mean, likeliest first; empty where nothing is like it."""
        asked = self._weighed(text)
        if not asked:
            return ()
        ranked = sorted(
            ((self._likeness(asked, known), known.ingredient) for known in self._known),
            key=lambda pair: (-pair[0], pair[1].key),
        )
        return tuple(item for likeness, item in ranked[:most] if likeness >= LIKELY)

    def _corrected(self, word: str) -> str:
        """The word of the library that a word is a slip of, else itself."""
        if word in self._weights:
            return word
        close = difflib.get_close_matches(word, self._weights, n=1, cutoff=LIKE_A_WORD)
        return close[0] if close else word

    def _likeness(self, asked: Mapping[str, float], known: _Known) -> float:
        """The share of the weight of what was asked that the best of its names has, from 0 to 1."""
        whole = sum(asked.values())
        return max(self._share(asked, name, known.kind) for name in known.names) / whole

    def _share(
        self, asked: Mapping[str, float], name: frozenset[str], kind: frozenset[str]
    ) -> float:
        met = sum(
            weight * (1.0 if word in name else KIND_COUNTS if word in kind else 0.0)
            for word, weight in asked.items()
        )
        extra = sum(self._weights[word] for word in name.difference(asked))
        return met - TOO_MUCH * extra

    def _weighed(self, text: str) -> dict[str, float]:
        """The words that were asked for, corrected, with what each weighs."""
        asked = dict.fromkeys(self._corrected(word) for word in words(text))
        found = {word: self._weights.get(word, NEW * self._rare) for word in asked}
        of_what = [word for word in found if word not in FORMS]
        if of_what:
            found = {w: FORM_COUNTS * x if w in FORMS else x for w, x in found.items()}
            found[of_what[-1]] = self._rare
        return found


def words(text: str) -> list[str]:
    """The words of a name as they are compared: plain letters, in the singular, everyday words by
    those of the library.
    """
    plain = unicodedata.normalize("NFKD", text.casefold())
    plain = "".join(c for c in plain if not unicodedata.combining(c))
    joined = re.sub(r"\b(non|zero|alcohol)[\s-]+(alcoholic|proof|free)\b", r"\1\2", plain)
    found: list[str] = []
    for word in re.findall(r"[a-z0-9]+", joined):
        found += SAME.get(word, _singular(word)).split()
    return [word for word in found if word not in FILLING]


def _singular(word: str) -> str:
    if len(word) > 4 and word.endswith("ies"):
        return f"{word[:-3]}y"
    if len(word) > 3 and word.endswith("s") and not word.endswith(("ss", "us", "is")):
        return word[:-1]
    return word


def _names(item: Ingredient) -> tuple[str, ...]:
    return (item.key, item.name, *item.aliases)
