"""What a text names: the garnish of a spec, and what its notes say of rims, rinses and floats.

A garnish is in the drink: what it names is certain, but for alcohol, of which nobody knows how much
a cured cucumber keeps; and a word that nobody knows may be anything: its allergens are not known,
and it may hold alcohol. What
steps name goes in, likewise. Notes are for the bar: what they name is possible.

A word for a drink, as wine or schnapps, may hold alcohol wherever it stands, unless it is the glass
that is called after it.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Container, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache

from solver.files.checked import Model, Text, check
from solver.files.toml import read_toml
from solver.pantry.disclosure import Disclosure, together
from solver.pantry.folders import GARNISH_WORDS
from solver.pantry.guest_words import Meaning, meanings
from solver.pantry.ingredient import Allergen, Ingredient
from solver.pantry.word_forms import MOST_WORDS, Words, within, words

_NOT_IN_IT = frozenset({
    "no", "non", "not", "without", "instead", "ohne", "kein", "keine", "keinen", "statt",
})  # fmt: skip


class _GarnishWords(Model):
    """What garnish_words.toml holds."""

    plain: tuple[Text, ...]
    method: tuple[Text, ...]
    vessels: tuple[Text, ...]
    cuts: tuple[Text, ...]
    alcoholic: tuple[Text, ...]
    wines: tuple[Text, ...]
    plants: tuple[Text, ...]
    composite: tuple[Text, ...]
    may_contain: Mapping[Text, frozenset[Allergen]]
    may_be: Mapping[Text, tuple[Text, ...]]
    hazards: Mapping[Text, Text]


@cache
def _known() -> _GarnishWords:
    file = read_toml(GARNISH_WORDS)
    return check(_GarnishWords, file.data, file)


@cache
def says_how() -> frozenset[Words]:
    """Words of garnishes that name no thing: how it is cut, laid and finished."""
    return frozenset(map(words, _known().plain))


@cache
def _plain() -> frozenset[Words]:
    return says_how() | frozenset(map(words, _known().plants))


@cache
def _of_method() -> frozenset[Words]:
    return frozenset(map(words, _known().method))


@cache
def _may_contain() -> Mapping[Words, frozenset[str]]:
    return {words(name): allergens for name, allergens in _known().may_contain.items()}


@cache
def _drinks() -> Mapping[Words, Disclosure]:
    """What everyday words for a drink tell: each may hold alcohol, and a wine sulphites."""
    kept = frozenset({"sulphites"})
    holds = ((_known().alcoholic, frozenset[str]()), (_known().wines, kept))
    return {
        words(name): Disclosure(
            may_hold_alcohol=(name.removeprefix("with ").removeprefix("of "),),
            may_contain=also | _may_contain().get(words(name), frozenset()),
        )
        for names, also in holds
        for name in names
    }


@cache
def _vessels() -> re.Pattern[str]:
    """Finds the glasses of a text that are called after a drink; the longest name, in a line."""
    names = sorted(_known().vessels, key=len, reverse=True)
    either = "|".join(name.replace(" ", "[ -]") for name in names)
    return re.compile(rf"\b(?:{either})(?:e?s)?\b", re.IGNORECASE)


@cache
def _cuts() -> frozenset[Words]:
    return frozenset(map(words, _known().cuts))


@cache
def _composite() -> frozenset[Words]:
    return frozenset(map(words, _known().composite))


def _may_be(by_name: Mapping[Words, tuple[Ingredient, ...]]) -> Mapping[Words, frozenset[str]]:
    """The keys of the plants, and their juices, that a word may mean which leaves that open."""
    plants = [
        (name, item)
        for name, items in by_name.items()
        for item in items
        if item.is_kind("raw") or item.is_kind("juice")
    ]
    return {
        words(said): frozenset(
            item.key
            for name, item in plants
            if any(item.is_kind(each) or within(words(each), name) for each in meant)
        )
        for said, meant in _known().may_be.items()
    }


@dataclass(frozen=True)
class Mentions:
    """Finds what texts name, among some ingredients; `told_of` is what one is to a guest.

    `may_be` has the keys of all that a word may mean which leaves that open.
    """

    by_name: Mapping[Words, tuple[Ingredient, ...]]
    told_of: Callable[[Ingredient], Disclosure]
    may_be: Mapping[Words, frozenset[str]]

    @classmethod
    def among(
        cls, ingredients: Iterable[Ingredient], told_of: Callable[[Ingredient], Disclosure]
    ) -> Mentions:
        """Ready to find these ingredients by every name that they have."""
        found: dict[Words, tuple[Ingredient, ...]] = {}
        for item in ingredients:
            for name in {words(each) for each in (item.key, item.name, *item.aliases)}:
                found[name] = (*found.get(name, ()), item)
        return cls(found, told_of, _may_be(found))

    def garnish(self, text: str) -> Disclosure:
        """What a guest is told of a garnish."""
        found: list[Disclosure] = [_hazards(text), self._left_open(text, cut=True)]
        for said, told in self._named(text):
            found += [told] if told else []
            found.append(Disclosure(may_contain=_may_contain().get(said, frozenset())))
        told = together((*found, self._not_known("garnish", text, frozenset())))
        return replace(told, alcohol=(), may_hold_alcohol=(*told.alcohol, *told.may_hold_alcohol))

    def unknown_in_steps(self, text: str) -> Disclosure:
        """What nobody can tell of a drink, for words of its steps that nobody knows."""
        return self._not_known("steps", text, _of_method())

    def _not_known(self, of: str, text: str, also: Container[Words]) -> Disclosure:
        """What nobody can tell of a text, for words that name nothing and are not plain, nor `also`
        known."""
        unknown = [
            said
            for said, told in self._named(text)
            if said in _composite()
            or not (
                told
                or said in _plain()
                or said in also
                or said in self.may_be
                or all(map(str.isdigit, said))
            )
        ]
        if not unknown:
            return Disclosure()
        name = (f"{of} ({' '.join(map(' '.join, unknown))})",)
        nobody_said = Disclosure(allergens_not_known=name, animal_not_known=name, unknown=name)
        if _composite().issuperset(unknown):
            return nobody_said
        return replace(nobody_said, may_hold_alcohol=name)

    def notes(self, text: str, poured: Collection[str] = ()) -> Disclosure:
        """What may be in a drink, since its notes name it beside what is `poured`."""
        named = together(told for _, told in self._named(text, poured) if told)
        return replace(
            _hazards(text),
            may_contain=named.allergens | named.may_contain,
            may_animal=named.animal | named.may_animal,
            declare=named.declare,
            may_hold_alcohol=(*named.alcohol, *named.may_hold_alcohol),
            holds=named.holds,
            may_hold=self._left_open(text, poured).may_hold,
        )

    def steps(self, text: str, poured: Collection[str] = ()) -> Disclosure:
        """What is in a drink, since its steps put it there beside what is `poured`; how much
        alcohol that brings, nobody knows.
        """
        named = together(told for _, told in self._named(text, poured) if told)
        return replace(
            self.notes(text, poured),
            allergens=named.allergens,
            may_contain=named.may_contain,
            animal=named.animal,
            may_animal=named.may_animal,
        )

    def _left_open(
        self, text: str, poured: Collection[str] = (), *, cut: bool = False
    ) -> Disclosure:
        """What a text may mean whose words leave that open, unless one of those is `poured` or
        named. If it is `cut`, and names nothing, it is some citrus.
        """
        said = tuple(self._named(text))
        named = frozenset(poured).union(*(told.holds for _, told in said if told))
        words_said = {part for part, _ in said}
        if cut and words_said & _cuts() and words_said <= says_how():
            words_said = {("citrus",)}
        open_ = (self.may_be.get(part, frozenset[str]()) for part in words_said)
        return Disclosure(
            may_hold=frozenset[str]().union(*(keys for keys in open_ if not keys & named))
        )

    def _named(
        self, text: str, but: Collection[str] = ()
    ) -> Iterator[tuple[Words, Disclosure | None]]:
        """The words of a text, those of the longest name together, and what a name tells."""
        said = words(_vessels().sub("glass", text))
        at = 0
        while at < len(said):
            part = self._longest(said[at : at + MOST_WORDS])
            after = said[at + len(part) : at + len(part) + 1]
            missing = at > 0 and said[at - 1] in _NOT_IN_IT
            if not missing and after != ("free",):
                yield part, self._told(part, but)
            at += len(part)

    def _longest(self, said: Words) -> Words:
        """The longest name that words begin with; the first word where they begin with none."""
        known = (self.by_name, meanings(), _composite(), _drinks(), _plain())
        for size in range(len(said), 1, -1):
            if any(said[:size] in names for names in known):
                return said[:size]
        return said[:1]

    def _told(self, said: Words, but: Collection[str]) -> Disclosure | None:
        """What words tell that name something; None where they name nothing else."""
        items, meant = self.by_name.get(said, ()), meanings().get(said, ())
        drink = _drinks().get(said)
        if not (items or meant or drink) or any(item.key in but for item in items):
            return None
        also = [drink] if drink and not items else []
        return together((*map(self.told_of, items), *map(_meant, meant), *also))


def _meant(meaning: Meaning) -> Disclosure:
    """What a guest's word tells where it names a thing."""
    if not meaning.is_it:
        return Disclosure()
    # Who eats no meat leaves out what meat cleared, too: the meat itself is only that.
    animal = meaning.animal & {meaning.key} or meaning.animal
    return Disclosure(allergens=meaning.allergens, animal=animal, declare=meaning.declare)


def _hazards(text: str) -> Disclosure:
    said = words(text)
    return Disclosure(
        cautions=tuple(c for name, c in _known().hazards.items() if within(words(name), said))
    )
