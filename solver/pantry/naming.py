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
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from solver.pantry.ingredient import Ingredient
from solver.pantry.word_forms import without_accents

SAME: Mapping[str, str] = {
    "whisky": "whiskey", "whiskies": "whiskey", "nonalcoholic": "non alcoholic",
    "alcoholfree": "non alcoholic", "zeroproof": "non alcoholic", "virgin": "non alcoholic",
    "na": "non alcoholic", "chai": "spiced tea", "spice": "spiced", "spices": "spiced",
    "nectar": "juice", "squash": "cordial", "sirup": "syrup", "gomme": "syrup",
    "seltzer": "soda", "fizzy": "sparkling", "bubbly": "sparkling", "bubbles": "sparkling",
    "prosecco": "sparkling wine", "cava": "sparkling wine", "champagne": "sparkling wine",
    "chile": "chilli", "chili": "chilli", "mandarine": "mandarin",
    "espressos": "espresso", "schnapps": "liqueur", "biters": "bitters",
    "aperitivo": "aperitif",
    "islay": "peated", "smoky": "peated", "smoked": "peated", "gold": "aged",
    "golden": "aged", "icing": "white", "caster": "white", "granulated": "white",
    "double": "heavy", "whipping": "heavy", "single": "light",
}  # fmt: skip
"""Words of everyday speech by those of the library: common usage, no source."""

NEAREST: Mapping[str, tuple[str, ...]] = {
    "chai spice": ("cardamom", "cassia", "cinnamon-syrup"),
    "pumpkin spice": ("cassia", "nutmeg", "cloves"),
    "earl grey": ("black-tea",),
    "tea bag": ("black-tea-leaves", "green-tea-leaves"),
    "tea bags": ("black-tea-leaves", "green-tea-leaves"),
    "yuzu": ("lemon-juice", "tangerine-juice"),
    "yuzu juice": ("lemon-juice", "tangerine-juice"),
    "calamansi": ("lime-juice", "tangerine-juice"),
    "olive brine": ("saline-solution", "olive"),
    "pickle brine": ("saline-solution", "white-vinegar"),
    "pickle juice": ("saline-solution", "white-vinegar"),
    "almond milk": ("oat-milk", "orgeat"),
    "soy milk": ("oat-milk",),
    "evaporated milk": ("half-and-half", "condensed-milk"),
    "ice cream": ("half-and-half", "condensed-milk"),
    "root beer": ("cola", "ginger-beer"),
    "cream soda": ("cola", "lemon-lime-soda"),
    "lemonade": ("lemon-lime-soda", "lemon-juice"),
    "spiced rum": ("aged-rum", "dark-rum", "allspice-dram"),
    "demerara rum": ("dark-rum", "aged-rum"),
    "neutral spirit": ("vodka",),
    "korn": ("vodka",),
    "kornbrand": ("vodka",),
    "kummel": ("aquavit", "caraway-seed"),
}
"""Everyday names of what the library has not, by plain letters, and what of it comes nearest: our
own reading, common practice, no source."""

FILLING = frozenset({"a", "an", "and", "of", "the", "with", "for", "in", "style", "class", "type"})
FORMS = frozenset({
    "juice", "puree", "syrup", "liqueur", "cordial", "soda", "water", "powder", "extract",
    "tincture", "infusion", "brine", "drink", "cream", "milk", "wine", "solution", "leave", "fresh",
})  # fmt: skip
"""Words that say in what form a thing is, and not of what."""
QUALITIES = frozenset({
    "white", "red", "green", "yellow", "blue", "dark", "light", "dry", "sweet", "heavy", "aged",
    "strong", "low", "extra", "brut", "black", "brown", "house", "cold", "hot", "raw", "commercial",
})  # fmt: skip
"""Words that say how a thing is, and not of what it is."""
FORM_COUNTS = 0.5
"""What a word of form weighs beside one that says of what."""
NEW = 0.6
"""What a word weighs that no ingredient has, as a share of the rarest: it may mean anything."""
LIKE_A_WORD = 0.84
"""How alike two words are that one is taken for a slip of the other."""
KIND_COUNTS = 0.6
"""What a word is worth that only the ingredient's kind has."""
FAMILY_COUNTS = 0.3
"""What a word is worth that names a kind of the same family: a gin, where a spirit is at hand."""
HEAD_MISSED = 0.7
"""What is left of a likeness that misses the word for what the thing is: the rum of spiced rum."""
AS_GOOD = 0.6
"""How likely a guess must be beside the likeliest."""
LIKELY = 0.45
"""Share of what a name says that an ingredient must answer to be a guess: our own choice."""
TOO_MUCH = 0.06
"""What is taken off for all that an ingredient's name says beyond the one asked for."""


@dataclass(frozen=True)
class _Known:
    ingredient: Ingredient
    names: tuple[frozenset[str], ...]
    kind: frozenset[str]

    @cached_property
    def family(self) -> str:
        return self.ingredient.kind.partition("/")[0]

    @cached_property
    def words(self) -> frozenset[str]:
        return self.kind.union(*self.names)


@dataclass(frozen=True)
class _Asked:
    """The words that were asked for with what each weighs, and which says what the thing is."""

    weights: Mapping[str, float]
    head: str | None


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
        self._families = {word: known.family for known in self._known for word in known.kind}

    def of(self, text: str, most: int = 3) -> tuple[Ingredient, ...]:
        """What `text` may mean, likeliest first; empty where nothing is like it."""
        asked = self._weighed(text)
        if not asked.weights:
            return ()
        ranked = sorted(
            ((self._likeness(asked, known), known.ingredient) for known in self._met(asked)),
            key=lambda pair: (-pair[0], pair[1].key),
        )
        least = max(LIKELY, AS_GOOD * ranked[0][0]) if ranked else LIKELY
        return tuple(item for likeness, item in ranked[:most] if likeness >= least)

    def _met(self, asked: _Asked) -> Iterator[_Known]:
        """What has any of the words that were asked for: all else is not like it at all."""
        families = {self._families.get(word) for word in asked.weights}
        for known in self._known:
            if known.family in families or not known.words.isdisjoint(asked.weights):
                yield known

    def nearest(self, text: str) -> tuple[Ingredient, ...]:
        """What comes nearest to something that is not here at all, where somebody has said so."""
        keys = NEAREST.get(" ".join(re.findall(r"[a-z0-9]+", without_accents(text))), ())
        found = {known.ingredient.key: known.ingredient for known in self._known}
        return tuple(found[key] for key in keys if key in found)

    def knows_all_of(self, text: str) -> bool:
        """Whether each word of a name is one of the library's, or a slip of one."""
        return all(self._corrected(word) in self._weights for word in words(text))

    def kind_in(self, text: str) -> str:
        """The kind that a name's words name, the last of them first; empty where none does."""
        for word in reversed(words(text)):
            for known in self._known:
                if word in known.kind:
                    steps = known.ingredient.kind.split("/")
                    at = next(n for n, step in enumerate(steps, start=1) if word in words(step))
                    return "/".join(steps[:at])
        return ""

    def _corrected(self, word: str) -> str:
        """The word of the library that a word is a slip of, else itself."""
        if word in self._weights:
            return word
        close = difflib.get_close_matches(word, self._weights, n=1, cutoff=LIKE_A_WORD)
        return close[0] if close else word

    def _likeness(self, asked: _Asked, known: _Known) -> float:
        """The share of the weight of what was asked that the best of its names has, from 0 to 1."""
        whole = sum(asked.weights.values())
        return max(self._share(asked, name, known) for name in known.names) / whole

    def _share(self, asked: _Asked, name: frozenset[str], known: _Known) -> float:
        met = sum(weight * self._worth(word, name, known) for word, weight in asked.weights.items())
        extra = sum(self._weights[word] for word in name.difference(asked.weights))
        missed = asked.head is not None and not self._worth(asked.head, name, known)
        return (HEAD_MISSED if missed else 1.0) * met - TOO_MUCH * extra

    def _worth(self, word: str, name: frozenset[str], known: _Known) -> float:
        """What an ingredient with such a name has of a word that was asked for, from 0 to 1."""
        if word in name:
            return 1.0
        if word in known.kind:
            return KIND_COUNTS
        return FAMILY_COUNTS if self._families.get(word) == known.family else 0.0

    def _weighed(self, text: str) -> _Asked:
        """The words that were asked for, corrected."""
        asked = dict.fromkeys(self._corrected(word) for word in words(text))
        found = {word: self._weights.get(word, NEW * self._rare) for word in asked}
        of_what = [word for word in found if word not in FORMS]
        if not of_what:
            return _Asked(found, None)
        found = {w: FORM_COUNTS * x if w in FORMS else x for w, x in found.items()}
        head = next((word for word in reversed(of_what) if word not in QUALITIES), of_what[-1])
        found[head] = self._rare
        return _Asked(found, head if head in self._weights else None)


def words(text: str) -> list[str]:
    """The words of a name as they are compared: plain letters, in the singular, everyday words by
    those of the library.
    """
    joined = re.sub(
        r"\b(non|zero|alcohol)[\s-]+(alcoholic|proof|free)\b", r"\1\2", without_accents(text)
    )
    found: list[str] = []
    for word in re.findall(r"[a-z0-9]+", joined):
        found += SAME.get(word, _singular(word)).split()
    return [word for word in found if word not in FILLING]


def _singular(word: str) -> str:
    if word == "bitters":  # by the dash; what is bitter is poured
        return word
    if len(word) > 4 and word.endswith("ies"):
        return f"{word[:-3]}y"
    if len(word) > 3 and word.endswith("s") and not word.endswith(("ss", "us", "is")):
        return word[:-1]
    return word


def _names(item: Ingredient) -> tuple[str, ...]:
    return (item.key, item.name, *item.aliases)
