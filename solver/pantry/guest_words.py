"""The words of guests, from guest_words.toml and its like in German: what each stands for."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import Final

from solver.files.checked import Key, Model, Text, check
from solver.files.toml import read_toml
from solver.pantry.folders import GUEST_WORDS, GUEST_WORDS_ELSEWHERE
from solver.pantry.ingredient import Allergen, Animal, Character, Declaration
from solver.pantry.word_forms import Words, spelled_out, words

MAKERS_SECRET: Final = (
    "bitters", "fortified/vermouth", "fortified/aperitif", "liqueur/herb", "liqueur/bitter",
    "liqueur/spice",
)  # fmt: skip
"""Kinds of bottles on which no law makes anybody write which plants are in them."""

SAID_OF_OTHERS: Final = frozenset(
    {("milk",), ("cream",), ("butter",), ("bean",), ("pea",), ("grain",)}
)
"""Words that stand in the names of other things too: oat milk, cream sherry, coffee beans."""


class Meaning(Model):
    """What a guest's word excludes: whatever holds, or may hold, any of it."""

    key: Key
    says: Text
    way: str = ""
    words: tuple[Text, ...] = ()
    allergens: frozenset[Allergen] = frozenset()
    animal: frozenset[Animal] = frozenset()
    declare: frozenset[Declaration] = frozenset()
    kinds: tuple[Text, ...] = ()
    character: frozenset[Character] = frozenset()
    names: tuple[Text, ...] = ()
    alcohol: bool = False
    is_it: bool = True
    hidden: bool = False
    beyond: bool = False
    not_known: str = ""


class _Translated(Model):
    """What is said for a word of guests in another language."""

    words: tuple[Text, ...]


def is_of_a_thing(meaning: Meaning) -> bool:
    """Whether a drink whose text has the word has what is avoided, and is not made for that guest:
    a vegan cream is one for vegans."""
    return not (meaning.way or meaning.alcohol)


def spoken_of(meaning: Meaning) -> frozenset[Words]:
    """What a guest's word is called, in one form, where a text names it."""
    return frozenset(map(words, (meaning.key, *meaning.words, *meaning.names)))


def is_stated(meaning: Meaning) -> bool:
    """Whether files state all that a word is about, so that what goes in need not be known."""
    states = meaning.allergens or meaning.animal or meaning.declare or meaning.alcohol
    return bool(states) and not meaning.beyond


@cache
def guest_words() -> Mapping[str, Meaning]:
    """Everything that guests leave out, by the word that is completed and suggested."""
    file = read_toml(GUEST_WORDS)
    found = {
        key: check(Meaning, {**table, "key": key}, file, [key]) for key, table in file.data.items()
    }
    for path in GUEST_WORDS_ELSEWHERE:
        other = read_toml(path)
        for key, table in other.data.items():
            said = check(_Translated, table, other, [key]).words
            spelt = dict.fromkeys((*said, *map(spelled_out, said)))
            more = (*found[key].words, *spelt)
            found[key] = found[key].model_copy(update={"words": more})
    return found


@cache
def meanings() -> Mapping[Words, tuple[Meaning, ...]]:
    """What each word of a guest, in one form, stands for: one thing or several."""
    found: dict[Words, dict[str, Meaning]] = {}
    for key, meaning in guest_words().items():
        for text in (key, *meaning.words):
            found.setdefault(words(text), {})[key] = meaning
    return {said: tuple(each.values()) for said, each in found.items()}
