"""The drinks nearest to suiting a guest who finds none, and what speaks against each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from solver.pantry.avoidance import Against, Avoidance
from solver.pantry.bar import Bar
from solver.tasks.menu.candidates import MenuCandidate

MOST_NEARLY: Final = 3
"""Drinks that are told for a guest: our own choice."""
NEARLY_SOBER_G: Final = 1.0
"""Alcohol up to which a drink is nearly without, g: a dash or two of bitters, our own choice."""
AROUND: Final = "what its garnish, notes or steps name"


@dataclass(frozen=True)
class SpeaksAgainst:
    """What of a drink speaks against it for one thing that a guest avoids, by name."""

    avoided: Avoidance
    against: Against
    names: tuple[str, ...]


@dataclass(frozen=True)
class Nearly:
    """A drink that nearly suits a guest, and all that speaks against it."""

    guest: Avoidance
    drink: str
    reasons: tuple[SpeaksAgainst, ...]

    @property
    def far(self) -> tuple[int, int]:
        """How far it is from suiting: what it holds for certain, then all that is in the way."""
        certain = sum(each.against is Against.HOLDS for each in self.reasons)
        return certain, sum(len(each.names) for each in self.reasons)


def nearly_for_guest(
    guests: Sequence[Avoidance], drinks: Sequence[MenuCandidate], bar: Bar
) -> tuple[Nearly, ...]:
    """For each guest whom no drink suits, the nearest drinks of the book."""
    found: list[Nearly] = []
    for guest in guests:
        if not any(drink.suits(guest) for drink in drinks):
            words = bar.avoidable.each_word(guest.word)
            near = (_of(drink, guest, words, bar) for drink in drinks if drink.new is None)
            ranked = sorted((each for each in near if each is not None), key=lambda each: each.far)
            found += ranked[:MOST_NEARLY]
    return tuple(found)


def _of(
    drink: MenuCandidate, guest: Avoidance, words: Sequence[Avoidance], bar: Bar
) -> Nearly | None:
    """What in a drink speaks against it for a guest.

    None for a drink plainly with alcohol, if the guest avoids that.
    """
    made, reasons = drink.cost.made, []
    strong = (made.values["ethanol"] or 0.0) > NEARLY_SOBER_G
    for word in words:
        against = word.against(made.guest.told)
        if against is Against.HOLDS and word.alcohol and strong:
            return None
        if against is not None:
            reasons.append(SpeaksAgainst(word, against, _names(drink, word, bar)))
    return Nearly(guest, drink.spec.name, tuple(reasons)) if reasons else None


def _names(drink: MenuCandidate, word: Avoidance, bar: Bar) -> tuple[str, ...]:
    """What a guest avoids, of a drink: of a shrub that may hold alcohol, its vinegar."""
    names: list[str] = []
    for line in drink.cost.made.lines:
        told = bar.told_of(line.ingredient)
        against = word.against(told)
        if against is Against.MAY_HOLD and word.alcohol and told.may_hold_alcohol:
            names += told.may_hold_alcohol
        elif against is not None:
            names.append(line.ingredient.name)
    return tuple(dict.fromkeys(names)) or (AROUND,)
