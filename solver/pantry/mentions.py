"""What a text names: the garnish of a spec, and what its notes say of rims, rinses and floats.

A garnish is in the drink: what it names is certain, but for alcohol, of which nobody knows how much
a cured cucumber keeps; and a word that nobody knows may be anything: its allergens are not known,
and it may hold alcohol. What steps name goes in, likewise. Notes are for the bar: what they name is
possible.

A word for a drink, as wine or schnapps, may hold alcohol wherever it stands, unless it is the glass
that is called after it.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Container, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from solver.pantry.disclosure import Disclosure, together
from solver.pantry.garnish_words import text_words
from solver.pantry.guest_words import Meaning, meanings
from solver.pantry.ingredient import Ingredient
from solver.pantry.word_forms import MOST_WORDS, Words, within, words

_NOT_IN_IT = frozenset({"no", "non", "without", "ohne", "kein", "keine", "keinen", "statt"})
"""Words right before a name that say that it is not there."""
_NEGATES = _NOT_IN_IT | {"not", "never", "nor", "don", "dont", "cannot", "nicht", "nie"}
_TURNS_IT = frozenset({"missing", "lacking", "left", "alone", "only", "fehlt", "fehlen", "nur"})
"""Words by which a clause may mean the opposite: no egg white missing."""
_OF_ALL = frozenset({"free", "is", "it", "this", "drink", "all", "fully", "completely"})
"""Words of a clause that says of a drink what it is free of, and nothing else."""
_OR = frozenset({"or", "oder"})
_CLAUSES = re.compile(r"[.,:](?=\s|$)|[;!?()\n]|\s[-–—]\s")
"""What ends a clause; a name may go on behind it, and what is said not to be there does not."""
_PLANTS = ("raw", "juice")
_FRUIT = ("raw/fruit", "raw/vegetable", "juice")
"""Kinds of plants that are known by one word of their names: lemon, of lemon juice."""


def _may_be(
    by_name: Mapping[Words, tuple[Ingredient, ...]],
) -> Mapping[Words, tuple[Ingredient, ...]]:
    """The plants, and their juices, that a word may mean which leaves that open."""
    plants = [
        (name, item)
        for name, items in by_name.items()
        for item in items
        if any(map(item.is_kind, _PLANTS))
    ]

    def is_meant(each: str, name: Words, item: Ingredient) -> bool:
        part = any(map(item.is_kind, _FRUIT)) and within(words(each), name)
        return part or words(each) == name or item.is_kind(each)

    return {
        said: tuple(
            {i.key: i for name, i in plants if any(is_meant(e, name, i) for e in meant)}.values()
        )
        for said, meant in text_words().may_be.items()
    }


@dataclass(frozen=True)
class _Part:
    """Words of a text that belong together, in one form; the clause that they begin in, the word
    before them in it, what they tell, and whether they name something."""

    said: Words
    clause: int
    before: str
    told: Disclosure
    names: bool


@dataclass(frozen=True)
class Mentions:
    """Finds what texts name, among some ingredients; `told_of` is what one is to a guest.

    `may_be` has all that a word may mean which leaves that open.
    """

    by_name: Mapping[Words, tuple[Ingredient, ...]]
    told_of: Callable[[Ingredient], Disclosure]
    may_be: Mapping[Words, tuple[Ingredient, ...]]

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
        parts = self._named(text)
        found = [_hazards(text), self._left_open(parts, cut=True), *(each.told for each in parts)]
        found += [
            Disclosure(may_contain=text_words().may_contain.get(e.said, frozenset())) for e in parts
        ]
        unknown = [each.said for each in parts if not self._is_known(each, frozenset())]
        if not unknown and parts and not self._names_a_thing(parts):
            unknown = [each.said for each in parts]
        told = together((*found, _not_known("garnish", unknown)))
        return replace(told, alcohol=(), may_hold_alcohol=(*told.alcohol, *told.may_hold_alcohol))

    def unknown_in_steps(self, text: str) -> Disclosure:
        """What nobody can tell of a drink, for words of its steps that nobody knows, and for what
        they add and do not name."""
        parts = self._named(text)
        unknown = [each.said for each in parts if not self._is_known(each, text_words().method)]
        return _not_known("steps", [*unknown, *self._added_unnamed(parts)])

    def _is_known(self, part: _Part, also: Container[Words]) -> bool:
        """Whether words name something, or are plain, or `also` known."""
        said = part.said
        known = (text_words().plain, text_words().harmless, also, self.may_be)
        return said not in text_words().composite and (
            part.names
            or _is_of_the_drink(part)
            or any(said in each for each in known)
            or all(map(str.isdigit, said))
        )

    def _names_a_thing(self, parts: Iterable[_Part]) -> bool:
        """Whether a garnish says what it is: a seasonal leaf may be anything."""
        known = (text_words().plants, text_words().cuts, text_words().harmless, self.may_be)
        return any(each.names or any(each.said in names for names in known) for each in parts)

    def _added_unnamed(self, parts: Iterable[_Part]) -> Iterator[Words]:
        """Yield words of each clause of the steps that adds something and names nothing that it
        adds, nor what is at hand: a mix, the white of one, some of the red."""
        of = text_words()
        for _, each in groupby(parts, key=lambda part: part.clause):
            clause = tuple(each)
            said = {part.said for part in clause}
            plain = any(part.names or _is_of_the_drink(part) for part in clause)
            told = plain or any(not self._is_known(part, of.method) for part in clause)
            if told or said & of.plants or not said & of.adding:
                continue
            open_ = [part.said for part in clause if part.said in of.unnamed]
            if open_ or (said & of.points and not said & of.at_hand):
                yield from open_ or sorted(said & of.points)

    def notes(self, text: str, poured: Collection[str] = ()) -> Disclosure:
        """What may be in a drink, since its notes name it beside what is `poured`."""
        return self._possible(text, self._named(text, poured), poured)

    def steps(self, text: str, poured: Collection[str] = ()) -> Disclosure:
        """What is in a drink, since its steps put it there beside what is `poured`; how much
        alcohol that brings, nobody knows.
        """
        parts = self._named(text, poured)
        named = together(each.told for each in parts)
        return replace(
            self._possible(text, parts, poured),
            allergens=named.allergens,
            may_contain=named.may_contain,
            animal=named.animal,
            may_animal=named.may_animal,
        )

    def _possible(self, text: str, parts: Sequence[_Part], poured: Collection[str]) -> Disclosure:
        """What may be in a drink of which a text with these parts is written."""
        named = together(each.told for each in parts)
        return replace(
            _hazards(text),
            may_contain=named.allergens | named.may_contain,
            may_animal=named.animal | named.may_animal,
            declare=named.declare,
            may_hold_alcohol=(*named.alcohol, *named.may_hold_alcohol),
            holds=named.holds,
            says=named.says,
            may_hold=self._left_open(parts, poured).may_hold,
        )

    def _left_open(
        self, parts: Iterable[_Part], poured: Collection[str] = (), *, cut: bool = False
    ) -> Disclosure:
        """What a text may mean whose words leave that open, unless one of those is `poured` or
        named. If it is `cut`, and names nothing, it is some citrus.
        """
        parts = tuple(parts)
        named = frozenset(poured).union(*(each.told.holds for each in parts))
        said = {each.said for each in parts}
        if cut and said & text_words().cuts and said <= text_words().says_how:
            said = {("citrus",)}
        open_ = [self.may_be.get(part, ()) for part in said]
        may_be = [
            item for items in open_ if named.isdisjoint(i.key for i in items) for item in items
        ]
        all_told = together(map(self.told_of, may_be))
        return Disclosure(
            may_hold=frozenset(item.key for item in may_be),
            may_contain=all_told.allergens | all_told.may_contain,
        )

    def _named(self, text: str, but: Collection[str] = ()) -> tuple[_Part, ...]:
        """The words of a text, those of the longest name together, and what each tells; without
        what it says is not in it."""
        clauses = enumerate(_CLAUSES.split(text_words().vessels.sub("glass", text)))
        at_clause = [(word, clause) for clause, said in clauses for word in words(said)]
        said = tuple(word for word, _ in at_clause)
        found: list[_Part] = []
        at = 0
        while at < len(said):
            part, clause = self._longest(said[at : at + MOST_WORDS]), at_clause[at][1]
            end = at + len(part)
            before = [word for word, its in at_clause[:at] if its == clause]
            after = [word for word, its in at_clause[end:] if its == clause]
            if not (_is_denied(before, after) or _is_free(before, after)):
                told, names = self._told(part, but)
                found.append(_Part(part, clause, before[-1] if before else "", told, names))
            at = end
        return tuple(found)

    def _longest(self, said: Words) -> Words:
        """The longest name that words begin with; the first word where they begin with none."""
        known = (
            self.by_name,
            meanings(),
            text_words().composite,
            text_words().drinks,
            text_words().plain,
            text_words().unnamed,
            text_words().harmless,
        )
        for size in range(len(said), 1, -1):
            if any(said[:size] in names for names in known):
                return said[:size]
        return said[:1]

    def _told(self, said: Words, but: Collection[str]) -> tuple[Disclosure, bool]:
        """What words tell, and whether they name something; nothing of what is in `but`."""
        items, meant = self.by_name.get(said, ()), meanings().get(said, ())
        drink = text_words().drinks.get(said)
        if any(item.key in but for item in items):
            return Disclosure(), False
        also = [drink] if drink and not items else []
        every = (*map(self.told_of, items), *map(_meant, meant), *also)
        says = frozenset({said, said[-1:]} if not items else {said})
        return together((*every, Disclosure(says=says))), bool(every)


def _is_of_the_drink(part: _Part) -> bool:
    """Whether a word means what is mixed in the drink already."""
    return part.said in text_words().of_the_drink and part.before == "the"


def _is_denied(before: Sequence[str], after: Sequence[str]) -> bool:
    """Whether the words of a clause before and after a name say that it is not there: "or without"
    leaves that open, and "not without" says that it is."""
    around = [*before, *after]
    return (
        bool(before)
        and before[-1] in _NOT_IN_IT
        and not _OR.intersection(before[-2:])
        and sum(word in _NEGATES for word in around) == 1
        and _TURNS_IT.isdisjoint(around)
    )


def _is_free(before: Sequence[str], after: Sequence[str]) -> bool:
    """Whether a clause says that a drink is free of a name: what is free-poured, or free of it on
    request, is not."""
    return after[:1] == ["free"] and _OF_ALL.issuperset((*before, *after))


def _not_known(of: str, unknown: Sequence[Words]) -> Disclosure:
    """What nobody can tell of a text for words of it that nobody knows."""
    if not unknown:
        return Disclosure()
    name = (f"{of} ({' '.join(map(' '.join, unknown))})",)
    nobody_said = Disclosure(allergens_not_known=name, animal_not_known=name, unknown=name)
    if text_words().composite.issuperset(unknown):
        return nobody_said
    return replace(nobody_said, may_hold_alcohol=name)


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
        cautions=tuple(c for name, c in text_words().hazards.items() if within(name, said))
    )
