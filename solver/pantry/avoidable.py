"""The words of guests, compiled once into what each excludes.

A word may name what guests avoid, an ingredient, or a kind. It excludes whatever is that, holds it
at any depth, or may; and what nobody has said enough of to rule it out. An ingredient's name
excludes what it is too: its allergens, what it has of animals, what must be declared, and all that
is called so. `only` before a name means that one bottle, and what is made with it.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cache, cached_property

from solver.errors import BadInput
from solver.files.near_words import near_words
from solver.pantry.avoidance import Avoidance
from solver.pantry.batches import BATCH
from solver.pantry.disclosure import Disclosures, together
from solver.pantry.guest_words import (
    MAKERS_SECRET,
    SAID_OF_OTHERS,
    Meaning,
    guest_words,
    is_of_a_thing,
    is_stated,
    meanings,
    spoken_of,
)
from solver.pantry.ingredient import Ingredient
from solver.pantry.library import Library
from solver.pantry.recipe import Dish
from solver.pantry.vocabulary import CHARACTERS, KIND_FAMILIES, KINDS, kind_within
from solver.pantry.word_forms import Words, bare, barer, part_of, within_any, words
from solver.printable import short

ONLY = "only"
_NAMING = ("spirit", "fortified", "beer", "brew", "mixer")
"""Families of kinds whose last word says what a thing is: rum, sherry, cola."""
_VAGUE = ("", "other", "citrus")
LIKE = 0.75
"""How much of a word must agree with what is suggested for it: less would take smoke for sober."""
_PLANTS = ("raw", "juice")
"""Kinds of what comes from plants, part by part."""
_BETWEEN = re.compile(r"[,;&+/]|\b(?:and|or|und|oder)\b", re.IGNORECASE)


@dataclass(frozen=True)
class _Known:
    """Something that a word may name: an ingredient, or what a recipe makes.

    It is `called` by its names; for a plant its parts do not matter: basil is basil leaves.
    """

    key: str
    kind: str
    character: tuple[str, ...]
    names: tuple[Words, ...]
    called: frozenset[Words]
    words: frozenset[str]

    @classmethod
    def of(cls, item: Ingredient | Dish) -> _Known:
        names = tuple(map(words, (item.key, item.name, *item.aliases)))
        plant = any(kind_within(item.kind, kind) for kind in _PLANTS)
        called = frozenset((*names, *(map(part_of, names) if plant else ())))
        single = frozenset(word for name in names for word in name)
        return cls(item.key, item.kind, item.character, names, called, single)

    def names_hold(self, said: Words) -> bool:
        """Whether one of its names holds these words."""
        return self.words.issuperset(said) and within_any(said, self.names)

    def is_kind(self, kinds: Iterable[str]) -> bool:
        """Whether it is of one of some kinds."""
        return any(kind_within(self.kind, kind) for kind in kinds)


class Avoidable:
    """Everything that a guest of a bar can avoid; each word is compiled once.

    `house` has the keys of what is made in the house, of which contents count as not known unless
    its file says what goes into it.
    """

    def __init__(
        self,
        library: Library,
        dishes: Mapping[str, Dish],
        house: Collection[str],
        told: Disclosures,
    ) -> None:
        """`library` holds the bar's own bottles; `told` is what each is to a guest."""
        self._library = library
        self._dishes = dishes
        self._house = house
        self._told = told
        self._compiled: dict[tuple[bool, str], Avoidance] = {}
        self._meant_keys: dict[str, frozenset[str]] = {}

    def word(self, text: str) -> Avoidance:
        """What a word excludes, in any number, case or form; several with commas or "and".

        Raises:
            BadInput: nobody knows the word; with what may have been meant.
        """
        if (False, text) not in self._compiled:
            self._compiled[False, text] = self._word(text)
        return self._compiled[False, text]

    def each_word(self, text: str) -> tuple[Avoidance, ...]:
        """What each thing in a text excludes: "vegan, nuts" are two wishes, of which a way out may
        drop the one and must keep the other.

        Raises:
            BadInput: as `word`.
        """
        return tuple(self.word(part) for part in self._parts(text))

    def character(self, tag: str) -> Avoidance:
        """What a tag of character excludes: all that tastes of it, and what that goes into."""
        if (True, tag) not in self._compiled:
            keys = frozenset(each.key for each in self._known if tag in each.character)
            silent = {each.key for each in self._known if not each.character}
            self._compiled[True, tag] = Avoidance(tag, keys=keys, unsure=self._untold & silent)
        return self._compiled[True, tag]

    def contents_known(self, item: Ingredient) -> bool:
        """Whether it has been said what goes into an ingredient."""
        return item.key not in self._secret

    @cached_property
    def _known(self) -> tuple[_Known, ...]:
        stocked = {item.key for item in self._library}
        dishes = (dish for key, dish in self._dishes.items() if key not in stocked)
        return tuple(map(_Known.of, (*self._library, *dishes)))

    @cached_property
    def _untold(self) -> frozenset[str]:
        """What is made in the house, and neither has a recipe nor says what it is made of."""
        return frozenset(
            item.key
            for item in self._library
            if item.key in self._house and item.key not in self._dishes and item.made_of is None
        )

    @cached_property
    def _secret(self) -> frozenset[str]:
        """What nobody has to say the plants of."""
        return self._untold | {
            item.key
            for item in self._library
            if any(map(item.is_kind, MAKERS_SECRET))
            and item.key not in self._dishes
            and item.made_of is None
        }

    def _word(self, text: str) -> Avoidance:
        found = Avoidance(text)
        for part in self._parts(text):
            each = self._one(text, part)
            if each is None:
                raise self._unknown(part)
            found |= each
        return found

    def _parts(self, text: str) -> list[str]:
        """What a text names, one by one; a text that is one name as a whole stays whole."""
        plain = " ".join(text.split())
        parts = [part.strip() for part in _BETWEEN.split(plain) if words(part)]
        return [plain] if len(parts) < 2 or self._one(text, plain) is not None else parts

    def _one(self, text: str, part: str) -> Avoidance | None:
        """What a part of a text excludes; None where nobody knows it."""
        first, _, rest = part.partition(" ")
        if first.casefold() == ONLY and rest:
            item = self._library.get(rest)
            if item is None:
                return None
            return Avoidance(text, keys=frozenset({item.key}), unsure=self._untold)
        return self._compile(text, part)

    def _compile(self, text: str, part: str) -> Avoidance | None:
        """What a part of a text excludes; None where nobody knows its words."""
        said = words(part)
        for form in barer(said) if said else ():
            found = self._meant(text, form)
            if found is not None:
                return replace(found, thing=part if form == said else bare(part))
        return None

    def _meant(self, text: str, said: Words) -> Avoidance | None:
        exact = [each for each in self._known if said in each.called]
        kinds = _named_kinds().get(said, ())
        called = [each for each in self._known if each.names_hold(said)]
        if said in SAID_OF_OTHERS:
            called = exact
        entries = meanings().get(said, ())
        if not (exact or kinds or entries):
            return None
        a_thing = all(map(is_of_a_thing, entries))
        found = Avoidance(text, called_so=frozenset({said}) if a_thing else frozenset())
        for meaning in entries:
            found |= self._guest_word(text, meaning, plainly=said == words(meaning.key))
        if kinds:
            keys = frozenset(each.key for each in self._known if each.is_kind(kinds))
            # Egg and dairy are kinds too: where guests avoid the word, that says what is known.
            found |= Avoidance(text, keys=keys, unsure=frozenset() if entries else self._untold)
        if entries or exact:
            found |= Avoidance(text, keys=frozenset(each.key for each in called))
        if exact:
            found |= self._named(text, exact, found)
        return found

    def _guest_word(self, text: str, meaning: Meaning, *, plainly: bool) -> Avoidance:
        """What a guest's word excludes; `plainly` where that very word was typed."""
        explained = meaning.not_known or meaning.alcohol or not plainly
        return Avoidance(
            word=text,
            way=meaning.way,
            allergens=meaning.allergens,
            animal=meaning.animal,
            declare=meaning.declare,
            alcohol=meaning.alcohol,
            keys=self._keys_of(meaning),
            called_so=spoken_of(meaning) if is_of_a_thing(meaning) else frozenset(),
            unsure=self._silent_of_word(meaning),
            says=(meaning.says,) if explained else (),
            not_known=(meaning.not_known,) if meaning.not_known else (),
        )

    def _silent_of_word(self, meaning: Meaning) -> frozenset[str]:
        """What may hold what a guest's word leaves out, and does not say."""
        if meaning.hidden:
            return self._secret
        return frozenset() if is_stated(meaning) else self._untold

    def _keys_of(self, meaning: Meaning) -> frozenset[str]:
        """What is of a guest's word by its kind, its taste or its name."""
        if meaning.key not in self._meant_keys:
            names = tuple(map(words, meaning.names))
            self._meant_keys[meaning.key] = frozenset(
                each.key
                for each in self._known
                if each.is_kind(meaning.kinds)
                or meaning.character.intersection(each.character)
                or any(map(each.names_hold, names))
            )
        return self._meant_keys[meaning.key]

    def _named(self, text: str, exact: list[_Known], so_far: Avoidance) -> Avoidance:
        """What the name of an ingredient excludes: what it is, beside what is called so."""
        items = [item for each in exact if (item := self._library.by_key(each.key)) is not None]
        is_it = together(self._told.of_key(each.key) for each in exact)
        animal = is_it.animal - {"fining"}
        more = dict.fromkeys((*sorted(is_it.allergens - so_far.allergens),
            *sorted(animal - so_far.animal), *sorted(is_it.declare - so_far.declare)))  # fmt: skip
        guests = is_it.allergens & so_far.allergens or animal & so_far.animal or so_far.alcohol
        keys = so_far.keys | {each.key for each in exact}
        others = (item for item in self._library if item.key in keys and item not in items)
        return Avoidance(
            word=text,
            allergens=is_it.allergens,
            animal=animal,
            declare=is_it.declare,
            keys=keys,
            # What law makes everybody state needs no recipe.
            unsure=frozenset() if is_it.allergens or animal else self._silent_of(keys),
            says=tuple(f"whatever holds {each}" for each in more),
            called=() if guests else tuple(others),
            alone=None if guests or not items else items[0].key,
        )

    def _silent_of(self, keys: frozenset[str]) -> frozenset[str]:
        """What may hold something of that, and does not say."""
        raw = any(each.key in keys and each.is_kind(("raw",)) for each in self._known)
        return self._secret if raw else self._untold

    def _unknown(self, text: str) -> BadInput:
        """The mistake of a word that is no ingredient, no kind, and avoided by no guest."""
        first, _, rest = text.strip().partition(" ")
        if first.casefold() == ONLY and rest:
            return self._library.unknown(rest)
        tag = text.strip().lower()
        what = f"'{short(text)}' is not something known to be avoided"
        for names, remedy in _MEASURED:
            if not names.isdisjoint(words(text)):
                return BadInput(what, why="it is a matter of how much", remedy=remedy)
        *_, said = barer(words(text))
        near = near_words(" ".join(said), map(" ".join, meanings()), LIKE)
        parts = [each for each in self._known if said and each.names_hold(said)]
        near = near or tuple(each.key for each in parts)[:3] or self._library.near(text)
        begins = "Name"
        if tag in CHARACTERS:
            near, begins = (), f"Write --no-character {tag}, or name"
        remedy = f"{begins} an ingredient, a kind like liqueur, or what a guest avoids."
        if not near:
            remedy = f"{remedy} Known: {', '.join(guest_words())}."
        return BadInput(what, near=near, remedy=remedy)


_MEASURED = (
    (
        frozenset({"sugar", "sweet", "diabetic", "diabetes", "fructose", "glucose"}),
        "Ask for less sugar with --drier, or for so much of it with --sugar, like '<=8 g' in the "
        "whole drink; what suits a guest, the guest knows.",
    ),
    (
        frozenset({"alcohol", "strong", "boozy"}),
        "Ask for less alcohol with --lighter, or for so much of it with --standard-drinks, like "
        "'<=0.8'; for none, avoid alcohol.",
    ),
    (frozenset({"expensive", "price"}), "Ask for a price with --cost, like '<=2.50'."),
)
"""Words of what guests want less of, and how that is asked."""


@cache
def _named_kinds() -> Mapping[Words, tuple[str, ...]]:
    """Kinds and their families by what they are called; who avoids a batch avoids what is in it."""
    found: dict[Words, tuple[str, ...]] = {}
    for kind in dict.fromkeys((*KINDS, *KIND_FAMILIES)):
        if kind == BATCH:
            continue
        family, _, last = kind.partition("/")
        short_names = (words(last),) if family in _NAMING and last not in _VAGUE else ()
        for name in (words(kind), *short_names):
            found[name] = (*found.get(name, ()), kind)
    return found
