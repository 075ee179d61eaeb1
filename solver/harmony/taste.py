"""What a bar says of its own ingredients and drinks: it counts for more than books."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from solver.pantry.spec import BEST, WORST

OWN_DRINK = 5.0
"""A spec of the bar counts like so many printed drinks: our own choice."""
TASTED = 5.0
"""A tasting with the best score counts like so many printed drinks, one with the worst like so many
that should have been printed and were not, and one in the middle for nothing: our own choice."""
SAID = 10.0
"""What the bar says goes together, or does not, counts like so many printed drinks that do, or that
should have been printed and were not: our own choice."""
NEUTRAL = (WORST + BEST) / 2
"""The score that speaks neither for a drink nor against it."""


@dataclass(frozen=True)
class OwnDrink:
    """A spec of the bar: the profile that it keeps to and what it pours, (part, ingredient)."""

    profile: str
    poured: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Tasted:
    """A tasting of a drink of these ingredients, from 1, never again, to 5, on the card."""

    poured: frozenset[str]
    score: int


def counted_for(score: int) -> float:
    """Like how many printed drinks a score counts; below nothing, for how many that were missed."""
    return TASTED * (score - NEUTRAL) / (BEST - NEUTRAL)


@dataclass(frozen=True)
class Tastings:
    """Several tastings: how many, and their mean score."""

    count: int
    mean: float

    @classmethod
    def of(cls, scores: Sequence[float]) -> Tastings | None:
        """The tastings with these scores; None for none."""
        return cls(len(scores), sum(scores) / len(scores)) if scores else None


@dataclass(frozen=True)
class SaidOfIngredient:
    """What the bar says of one ingredient.

    `goes_with`, `not_with` and `never` name ingredients, kinds or characters; never is a ban, the
    others are opinions. `like` is the ingredient whose counts it takes; `usual_ml` what is usually
    poured of it.
    """

    goes_with: tuple[str, ...] = ()
    not_with: tuple[str, ...] = ()
    never: tuple[str, ...] = ()
    like: str | None = None
    usual_ml: float | None = None

    @property
    def has_words(self) -> bool:
        """Whether it says what goes with the ingredient, or does not."""
        return bool(self.goes_with or self.not_with or self.never)


@dataclass(frozen=True)
class BarTaste:
    """Everything that a bar says: its specs, its tastings, and of each ingredient by its key."""

    drinks: tuple[OwnDrink, ...] = ()
    tasted: tuple[Tasted, ...] = ()
    said: Mapping[str, SaidOfIngredient] = field(default_factory=dict)

    def of(self, ingredient: str) -> SaidOfIngredient:
        """What it says of an ingredient."""
        return self.said.get(ingredient, _NOTHING)

    @cached_property
    def mentions(self) -> frozenset[str]:
        """Every ingredient of which it says anything, or which it pours."""
        poured = {key for drink in self.drinks for _, key in drink.poured}
        return frozenset(
            {*self.said, *poured, *(key for each in self.tasted for key in each.poured)}
        )


_NOTHING = SaidOfIngredient()
