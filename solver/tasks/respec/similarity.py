"""Which ingredients can stand in for which: by composition and kind, never by name."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

import numpy as np

from solver.drinks.assess import Assessment
from solver.measures import Form, Measure
from solver.mixture import COLUMNS
from solver.pantry.ingredient import Ingredient
from solver.search.problem import Floats
from solver.tasks.respec.held_ranges import HeldRanges

ALIKE = 1 / 3
"""Share of what a pour brings to a drink by which another may bring something else, at the amount
that is like for like: our own choice."""

BRINGS_NOTHING = 0.25
"""Noticeable differences below which a pour counts for its volume alone: our own choice."""

MOST_TIMES = 2.0
"""How many times as much, or as little, may be like for like: our own choice."""

MORE_THAN_ITS_FIGURES = (
    "bitters", "seasoning", "egg", "dairy", "foam", "coconut", "raw", "garnish", "mixer", "brew",
    "beer", "wine", "spirit/anise", "liqueur/cream", "liqueur/egg",
)  # fmt: skip
"""Kinds that strength, sugar and acid say little about: only their own kind stands in for them."""


class Contributions:
    """The contribution of pours to the measures of one drink, in its noticeable differences.

    `tolerances` are those of the drink, by measure; `volume_ml` is its volume in the glass.
    """

    def __init__(self, tolerances: Mapping[Measure, float], volume_ml: float) -> None:
        self.measures = [m for m in tolerances if m.form is Form.CONCENTRATION]
        self.columns = [COLUMNS.index(m.column) for m in self.measures]
        units = [100 * m.factor / (volume_ml * tolerances[m]) for m in self.measures]
        self.units = np.array(units)

    @classmethod
    def to(cls, made: Assessment, kept: HeldRanges) -> Contributions:
        """The contributions to a spec with its ranges."""
        return cls(kept.tolerances, made.values["volume"] or 1.0)

    def of(self, item: Ingredient) -> Floats:
        """The contribution of one mL (or g), shape (measures,)."""
        return np.asarray(item.composition()[self.columns] * self.units)

    def mainly(self, item: Ingredient, amount: float) -> Measure | None:
        """The measure that a pour contributes most to; None if it contributes to none."""
        brings = self.of(item) * amount
        most = int(brings.argmax())
        return self.measures[most] if brings[most] >= BRINGS_NOTHING else None

    def like_for_like(self, item: Ingredient, amount: float, other: Ingredient) -> float | None:
        """The amount of `other` with the same main contribution; the same amount if a pour
        contributes to none.

        None if `other` does not contribute to it, or is measured in another unit.
        """
        measure = self.mainly(item, amount)
        if measure is None:
            return amount if item.per == other.per else None
        at = self.measures.index(measure)
        there = self.of(other)[at]
        return float(amount * self.of(item)[at] / there) if there > 0 else None

    def alike(self, item: Ingredient, amount: float, other: Ingredient) -> bool:
        """Whether `other` contributes about the same as a pour, at the like-for-like amount."""
        instead = self.like_for_like(item, amount, other)
        if instead is None or not amount / MOST_TIMES <= instead <= amount * MOST_TIMES:
            return False
        brings, others = self.of(item) * amount, self.of(other) * instead
        most = max(ALIKE * float(np.abs(brings).max()), BRINGS_NOTHING)
        return bool((np.abs(brings - others) <= most).all())


DOES_THE_SAME = frozenset({("egg/white", "foam"), ("foam", "egg/white")})
"""Kinds that do in a drink what the other does, whatever their figures: common practice, no
source."""


def stand_ins(
    item: Ingredient, amount: float, stock: Iterable[Ingredient], contributions: Contributions
) -> tuple[Ingredient, ...]:
    """The stock that can stand in for a pour, the most closely related first. Empty if none can.

    That is: its own kind, kinds with the same function, and what contributes the same to the drink.
    """
    found = [
        other
        for other in stock
        if other.key != item.key
        and (
            other.kind == item.kind
            or (item.kind, other.kind) in DOES_THE_SAME
            or _brings_the_same(item, amount, other, contributions)
        )
    ]
    return tuple(sorted(found, key=lambda other: (strangeness(item, other), other.key)))


def strangeness(item: Ingredient, other: Ingredient) -> float:
    """How unrelated two ingredients are: 0 for the same kind and characters, up to 3."""
    family = item.kind.partition("/")[0] == other.kind.partition("/")[0]
    kind = 0 if item.kind == other.kind else 1 if family else 2
    tastes, others = set(item.character), set(other.character)
    shared = len(tastes & others) / len(tastes | others) if tastes | others else 1.0
    return kind + 1 - shared


def _brings_the_same(
    item: Ingredient, amount: float, other: Ingredient, contributions: Contributions
) -> bool:
    if _is_more(item) or _is_more(other):
        return False
    return contributions.alike(item, amount, other)


def _is_more(item: Ingredient) -> bool:
    return any(map(item.is_kind, MORE_THAN_ITS_FIGURES))
