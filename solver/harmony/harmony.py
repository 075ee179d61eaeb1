"""How much the drinks of a profile are in keeping: worths for the search, reasons for people.

    worth of a set = dial · Σ ln(share of each ingredient in its part)
                   + Σ ln(share of so many in the part)
                   + Σ over pairs of what two are worth together

A part that stays empty has its share too, so what is optional has to be worth more than leaving it
out. How many fill a part is the profile's shape: the dial leaves it alone.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from solver.harmony.count_arrays import arrays_of
from solver.harmony.counts import Counts
from solver.harmony.dial import Dial
from solver.harmony.evidence import Evidence, PartEvidence
from solver.harmony.flavours import Flavour, flavours_of
from solver.harmony.pairs import PairTable
from solver.harmony.profile_parts import usual_parts
from solver.harmony.stated_pairs import pairs_in_shares
from solver.harmony.taste import BarTaste
from solver.pantry.ingredient import Ingredient
from solver.pantry.profile import Profile
from solver.search.sets.set_question import NEVER, IngredientSet, SetPart, SetQuestion, SetWish

SCALE = 1_000_000
"""Worths are whole millionths in the search: sums are exact, and the same on every machine."""


@dataclass(frozen=True)
class BottleWish:
    """A bound on how many of some bottles are poured, by their keys."""

    bottles: frozenset[str]
    low: int = 0
    high: int | None = None


class Known:
    """What is in keeping for a profile of everything that is known, whatever is in stock.

    `parts` are filled with all of it; `pairs` are of all flavours that may fill them. It takes
    milliseconds, so questions that differ in stock alone share it.
    """

    def __init__(
        self,
        profile: Profile,
        library: Iterable[Ingredient],
        counts: Counts,
        taste: BarTaste | None = None,
    ) -> None:
        """`library` is everything that is known: shares are of what of it may fill a part."""
        taste = taste or BarTaste()
        known = {each.key: each for each in library}
        words = {word for part in profile.parts for word in part.usual}
        flavours = flavours_of(known.values(), counts, taste, words)
        self.parts = usual_parts(profile, known.values(), flavours, counts, taste)
        self.named = {flavour.name: flavour for flavour in flavours.values()}
        may_fill = sorted({name for part in self.parts for name in part.shares})
        self.pairs = PairTable(
            [self.named[name] for name in may_fill],
            arrays_of(counts),
            taste,
            [_names((key for _, key in drink.poured), flavours) for drink in taste.drinks],
            [(_names(note.poured, flavours), note.score) for note in taste.tasted],
            profile.usual.together if profile.usual else (),
        )
        self.settled = pairs_in_shares(self.parts, self.pairs.index, self.pairs.worths)


class Harmony:
    """What is in keeping for a profile, of what a bar has in stock.

    `flavours` are what the stock can fill its parts with, ascending by name; sets number them so.
    `pairs` are of all flavours that anything known can fill them with.
    """

    def __init__(
        self,
        known: Known,
        stock: Iterable[Ingredient] | None = None,
        *,
        dial: Dial = Dial.FAMILIAR,
    ) -> None:
        """`stock` is part of what is known; None: all of it."""
        self.dial = dial
        self.parts = known.parts
        if stock is not None:
            keys = frozenset(each.key for each in stock)
            self.parts = tuple(part.in_stock(keys) for part in known.parts)
        self.pairs = known.pairs
        self._settled = known.settled
        at_hand = sorted({name for part in self.parts for name in part.bottles})
        self.flavours = tuple(known.named[name] for name in at_hand)
        self.number = {name: i for i, name in enumerate(at_hand)}
        self._row = [self.pairs.index[name] for name in at_hand]
        self._filling = {
            (part.name, key): (index, self.number[name])
            for index, part in enumerate(self.parts)
            for name, keys in part.bottles.items()
            for key in keys
        }

    def question(self, wishes: Sequence[BottleWish] = ()) -> SetQuestion:
        """The sets of ingredients that keep the profile, with their worths in millionths."""
        rows = np.ix_(self._row, self._row)
        together = np.rint(SCALE * self.pairs.worths[rows]).astype(np.int64)
        together[self.pairs.never[rows]] = NEVER
        parts = tuple(self._part(index) for index in range(len(self.parts)))
        asked = [wish for each in wishes for wish in self._wishes(each)]
        names = tuple(flavour.name for flavour in self.flavours)
        return SetQuestion(names, parts, together, (*asked, *self._alternatives()))

    def _part(self, index: int) -> SetPart:
        part = self.parts[index]
        members = tuple(sorted(self.number[name] for name in part.bottles))
        worths = tuple(whole(self._worth(index, self.flavours[i].name)) for i in members)
        room = max(0, len(members) - part.least) + 1
        counts = [whole(worth) for worth in self._count_worths(index)[:room]]
        return SetPart(members, worths, part.least, tuple(counts))

    def _worth(self, index: int, name: str) -> float:
        """What a flavour is worth in a part by itself."""
        share = self.parts[index].shares[name].share
        return self.dial.weight * (math.log(share) - self._settled[index].get(name, 0.0))

    def _count_worths(self, index: int) -> list[float]:
        """What it is worth that so many fill a part, from the least on.

        Of parts that are poured one instead of another, the first says what it is worth that all
        stay empty, and the others what it is worth that they are filled instead.
        """
        part = self.parts[index]
        if part.none is None:
            return [math.log(share) for share in part.counts]
        empty = math.log(part.none)
        first = next(each for each in self.parts if each.one_of == part.one_of)
        occupied = math.log(part.counts[1])
        return [empty, occupied] if part is first else [0.0, occupied - empty]

    def _alternatives(self) -> list[SetWish]:
        """Of parts that are poured one instead of another, at most one."""
        groups = dict.fromkeys(part.one_of for part in self.parts if part.one_of)
        return [
            SetWish(
                frozenset(
                    (index, self.number[name])
                    for index, part in enumerate(self.parts)
                    if part.one_of == group
                    for name in part.bottles
                ),
                high=1,
            )
            for group in groups
        ]

    def _wishes(self, wish: BottleWish) -> list[SetWish]:
        """A wish for bottles as one for flavours: a flavour counts for what is wanted where one of
        its bottles does, and for what is bounded where all of them do.
        """
        some, every = (
            frozenset(
                (index, self.number[name])
                for index, part in enumerate(self.parts)
                for name, bottles in part.bottles.items()
                if test(bottle in wish.bottles for bottle in bottles)
            )
            for test in (any, all)
        )
        asked = [SetWish(some, low=wish.low)] if wish.low else []
        return asked if wish.high is None else [*asked, SetWish(every, high=wish.high)]

    def ingredient_set(self, poured: Iterable[tuple[str, str]]) -> IngredientSet | None:
        """The set of a drink, given as (part, ingredient); None where a part can't be filled so."""
        held: list[set[int]] = [set() for _ in self.parts]
        for pour in poured:
            if pour not in self._filling:
                return None
            index, number = self._filling[pour]
            held[index].add(number)
        return tuple(tuple(sorted(each)) for each in held)

    def bottles(self, ingredients: IngredientSet) -> tuple[tuple[tuple[str, ...], ...], ...]:
        """The keys of what is in stock of each flavour of each part of a set."""
        return tuple(
            tuple(part.bottles[self.flavours[i].name] for i in held)
            for part, held in zip(self.parts, ingredients, strict=True)
        )

    def evidence(self, ingredients: IngredientSet) -> Evidence:
        """Why a set is worth what it is worth."""
        parts = tuple(self._of_part(index, ingredients) for index in range(len(self.parts)))
        poured = [i for held in ingredients for i in held]
        pairs = tuple(
            self.pairs.evidence(*two) for two in combinations([self._row[i] for i in poured], 2)
        )
        worth = sum(each.worth for each in parts) + sum(each.worth for each in pairs)
        unknown = tuple(
            self.flavours[i]
            for i in poured
            if self.flavours[i].counted_as is None and not self.pairs.heard(self._row[i])
        )
        tasted = self.pairs.tasted_as_it_is({self.flavours[i].name for i in poured})
        return Evidence(worth, self.dial, parts, pairs, unknown, tasted)

    def _of_part(self, index: int, ingredients: IngredientSet) -> PartEvidence:
        part, held = self.parts[index], ingredients[index]
        known = [(self.flavours[i], part.shares[self.flavours[i].name]) for i in held]
        counted = self._count_share(index, ingredients)
        worth = math.log(counted) + sum(self._worth(index, flavour.name) for flavour, _ in known)
        settled = sum(self._settled[index].get(flavour.name, 0.0) for flavour, _ in known)
        return PartEvidence(part.name, tuple(known), counted, settled, worth)

    def _count_share(self, index: int, ingredients: IngredientSet) -> float:
        """How usual it is that so many fill a part of a set."""
        part, held = self.parts[index], ingredients[index]
        if part.none is None:
            return part.counts[len(held) - part.least]
        if held:
            return part.counts[1]
        group = [i for i, each in enumerate(self.parts) if each.one_of == part.one_of]
        return 1.0 if index != group[0] or any(ingredients[i] for i in group) else part.none


def whole(worth: float) -> int:
    """A worth in whole millionths."""
    return round(SCALE * worth)


def worth_of(millionths: int) -> float:
    """A worth from whole millionths."""
    return millionths / SCALE


def _names(keys: Iterable[str], flavours: Mapping[str, Flavour]) -> frozenset[str]:
    """The names of the flavours of some ingredients; what is not known is left out."""
    return frozenset(flavours[key].name for key in keys if key in flavours)
