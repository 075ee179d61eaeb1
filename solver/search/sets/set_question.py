"""Which ingredients to pour, never how much of each, as a quadratic objective over sets.

A set is worth the sum of what each ingredient is worth in its part, of what the number of
ingredients in each part is worth, and of what each two of them are worth together. All are whole
numbers, so that sums are exact and equal sets are equal.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations

import numpy as np
import numpy.typing as npt

Ints = npt.NDArray[np.int64]

IngredientSet = tuple[tuple[int, ...], ...]
"""A set: the ingredients of each part, by their numbers, ascending."""

NEVER = -(2**50)
"""The worth of a forbidden pair: far below any sum of worths, far above integer overflow."""


@dataclass(frozen=True)
class SetPart:
    """What may fill a part: its ingredients by their numbers, ascending, and what each is worth.

    `counts[k]` is what it is worth that `least + k` of them do.
    """

    members: tuple[int, ...]
    worths: tuple[int, ...]
    least: int
    counts: tuple[int, ...]

    @property
    def most(self) -> int:
        """How many fill it at most."""
        return self.least + len(self.counts) - 1

    @cached_property
    def worth_of(self) -> Mapping[int, int]:
        """What each of its ingredients is worth."""
        return dict(zip(self.members, self.worths, strict=True))


@dataclass(frozen=True)
class SetWish:
    """A bound on how many of some ingredients are poured; members are (part, ingredient)."""

    members: frozenset[tuple[int, int]]
    low: int = 0
    high: int | None = None

    def kept_by(self, count: int) -> bool:
        """Whether so many are neither too few nor too many."""
        return self.low <= count and (self.high is None or count <= self.high)


@dataclass(frozen=True)
class SetQuestion:
    """Which sets there are, and what they are worth.

    Ingredients are numbered in the order of their `names`, which ascend; `together` is what two of
    them are worth, shape (names, names), symmetric. Its diagonal is not read: nothing is poured in
    two places.
    """

    names: tuple[str, ...]
    parts: tuple[SetPart, ...]
    together: Ints
    wishes: tuple[SetWish, ...] = ()

    def worth(self, ingredients: IngredientSet) -> int | None:
        """What a set is worth; None where it is none of this question's sets."""
        poured = [one for held in ingredients for one in held]
        if not poured or len(set(poured)) < len(poured):
            return None
        total = sum(int(self.together[pair]) for pair in combinations(poured, 2))
        for part, held in zip(self.parts, ingredients, strict=True):
            worths = part.worth_of
            if not part.least <= len(held) <= part.most or any(one not in worths for one in held):
                return None
            total += part.counts[len(held) - part.least] + sum(worths[one] for one in held)
        where = {(index, one) for index, held in enumerate(ingredients) for one in held}
        wished = all(wish.kept_by(len(where & wish.members)) for wish in self.wishes)
        return total if wished and total > NEVER // 2 else None


@dataclass(frozen=True)
class FoundSet:
    """A set and what it is worth."""

    worth: int
    ingredients: IngredientSet

    @property
    def poured(self) -> tuple[int, ...]:
        """Its ingredients, part by part."""
        return tuple(one for held in self.ingredients for one in held)
