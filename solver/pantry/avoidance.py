"""What a guest avoids, and what of an ingredient or a drink speaks against it."""

from __future__ import annotations

import enum
from collections.abc import Iterable
from dataclasses import dataclass

from solver.pantry.disclosure import Disclosure
from solver.pantry.ingredient import Ingredient
from solver.pantry.word_forms import Words


@enum.unique
class Against(enum.Enum):
    """What speaks against an ingredient for who avoids something."""

    HOLDS = "holds"
    MAY_HOLD = "may hold"
    NOT_KNOWN = "not known"
    """Nothing, but too little is known of it."""


@dataclass(frozen=True)
class Avoidance:
    """What one word, as typed, excludes.

    `keys` are ingredients that are it, and `called_so` what it is called where a text names it;
    `unsure` those of which nobody has said whether it is in
    them. `says` is what is left out where the word does not say all of it; `called` are ingredients
    left out for their name alone, and `alone` is what to type for the one bottle instead. What
    nobody here can say is in `not_known`. `thing` is what is avoided: dairy, where the word was
    "no dairy". `way` is what the guest is, like vegan, where the word names no thing.
    """

    word: str
    thing: str = ""
    way: str = ""
    allergens: frozenset[str] = frozenset()
    animal: frozenset[str] = frozenset()
    declare: frozenset[str] = frozenset()
    alcohol: bool = False
    keys: frozenset[str] = frozenset()
    called_so: frozenset[Words] = frozenset()
    unsure: frozenset[str] = frozenset()
    says: tuple[str, ...] = ()
    called: tuple[Ingredient, ...] = ()
    alone: str | None = None
    not_known: tuple[str, ...] = ()

    def against(self, told: Disclosure) -> Against | None:
        """What speaks against something of which a guest is told that; None where nothing does."""
        if (
            told.holds & self.keys
            or told.allergens & self.allergens
            or told.animal & self.animal
            or told.declare & self.declare
            or (self.alcohol and told.alcohol)
        ):
            return Against.HOLDS
        if (
            told.may_hold & self.keys
            or told.says & self.called_so
            or told.may_contain & self.allergens
            or told.may_animal & self.animal
            or (self.alcohol and told.may_hold_alcohol)
        ):
            return Against.MAY_HOLD
        guest = self.allergens or self.animal or self.declare
        if (
            told.holds & self.unsure
            or (self.unsure and told.unknown)
            or (guest and told.allergens_not_known)
            or (self.animal and told.animal_not_known)
        ):
            return Against.NOT_KNOWN
        return None

    def __or__(self, other: Avoidance) -> Avoidance:
        """What either excludes, in the words of the first."""
        return Avoidance(
            word=self.word,
            thing=", ".join(dict.fromkeys(filter(None, (self.thing, other.thing)))),
            way=self.way or other.way,
            allergens=self.allergens | other.allergens,
            animal=self.animal | other.animal,
            declare=self.declare | other.declare,
            alcohol=self.alcohol or other.alcohol,
            keys=self.keys | other.keys,
            called_so=self.called_so | other.called_so,
            unsure=self.unsure | other.unsure,
            says=tuple(dict.fromkeys((*self.says, *other.says))),
            called=tuple(dict.fromkeys((*self.called, *other.called))),
            alone=self.alone or other.alone,
            not_known=tuple(dict.fromkeys((*self.not_known, *other.not_known))),
        )


def all_against(told: Disclosure, avoided: Iterable[Avoidance]) -> frozenset[Against]:
    """All that speaks against something of which a guest is told that; empty where nothing does."""
    found = (each.against(told) for each in avoided)
    return frozenset(against for against in found if against is not None)
