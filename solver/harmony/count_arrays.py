"""The counts of published drinks as arrays, on three levels, and what meeting is worth.

    worth = ln((met + K · e^prior) / (expected + K))

Pointwise mutual information, shrunk: `expected` is how many of the drinks would pour both if chance
had mixed them, from how many pour each. `prior` is the same one level up: of two ingredients that
of their kinds, of two kinds that of their families, of two families nothing. So a few drinks move
a worth a little, and many settle it.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np
import numpy.typing as npt

from solver.harmony.counts import Counts, family

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]

SHRINKAGE = 5.0
"""K: so many drinks weigh as much as what is known one level up. Any value from 1 to 20 did as well
on published drinks."""


@dataclass(frozen=True)
class Tally:
    """How many of `drinks` published drinks pour two of something, and how many by chance."""

    met: int
    expected: float
    drinks: int


@dataclass(frozen=True, eq=False)
class CountArrays:
    """The counts as arrays: what was met and what chance would have had, on three levels.

    Ingredients, kinds and families each have their position in `ingredients`, `kinds`, `families`.
    """

    counts: Counts

    @cached_property
    def ingredients(self) -> dict[str, int]:
        """The position of every ingredient that was looked for."""
        return {name: i for i, name in enumerate(sorted(self.counts.poured))}

    @cached_property
    def kinds(self) -> dict[str, int]:
        """The position of every kind."""
        return {kind: i for i, kind in enumerate(sorted(set(self.counts.kind.values())))}

    @cached_property
    def families(self) -> dict[str, int]:
        """The position of every family of kinds."""
        return {name: i for i, name in enumerate(sorted(set(map(family, self.kinds))))}

    @cached_property
    def poured(self) -> Floats:
        """How many drinks pour each ingredient, shape (ingredients,)."""
        return np.array([self.counts.poured[name] for name in self.ingredients], dtype=float)

    @cached_property
    def met(self) -> Floats:
        """How many drinks pour both of two ingredients, shape (ingredients, ingredients)."""
        table = np.zeros((len(self.ingredients),) * 2)
        for (one, other), count in self.counts.met.items():
            i, j = self.ingredients[one], self.ingredients[other]
            table[i, j] = table[j, i] = count
        return table

    @cached_property
    def expected(self) -> Floats:
        """How many drinks would pour both by chance, shape (ingredients, ingredients)."""
        table = np.outer(self.poured, self.poured) / self.counts.drinks
        np.fill_diagonal(table, 0.0)
        return table

    @cached_property
    def kind_of(self) -> Ints:
        """The position of every ingredient's kind, shape (ingredients,)."""
        kinds = [self.kinds[self.counts.kind[name]] for name in self.ingredients]
        return np.array(kinds, dtype=np.int64)

    @cached_property
    def family_of(self) -> Ints:
        """The position of every kind's family, shape (kinds,)."""
        return np.array([self.families[family(kind)] for kind in self.kinds], dtype=np.int64)

    @cached_property
    def of_kinds(self) -> tuple[Floats, Floats]:
        """Met and expected of two different ingredients of two kinds, by kinds."""
        return self._grouped(self.kind_of, len(self.kinds))

    @cached_property
    def of_families(self) -> tuple[Floats, Floats]:
        """Met and expected of two different ingredients of two families, by families."""
        return self._grouped(self.family_of[self.kind_of], len(self.families))

    @cached_property
    def kind_worths(self) -> Floats:
        """What two kinds are worth together, shape (kinds, kinds)."""
        of_families = worth(*self.of_families)
        return worth(*self.of_kinds, prior=of_families[np.ix_(self.family_of, self.family_of)])

    def tallies(self, one: str, other: str) -> tuple[Tally, Tally, Tally]:
        """Of two ingredients, of their kinds, of their families."""
        at = self.ingredients[one], self.ingredients[other]
        kinds = int(self.kind_of[at[0]]), int(self.kind_of[at[1]])
        families = int(self.family_of[kinds[0]]), int(self.family_of[kinds[1]])
        levels = (
            (self.met, self.expected, at),
            (*self.of_kinds, kinds),
            (*self.of_families, families),
        )
        first, second, third = (
            Tally(int(met[where]), float(expected[where]), self.counts.drinks)
            for met, expected, where in levels
        )
        return first, second, third

    def _grouped(self, group: Ints, groups: int) -> tuple[Floats, Floats]:
        """Met and expected summed over groups of ingredients; a pair within one counts once."""
        at = group[:, np.newaxis], group
        sums = np.zeros((2, groups, groups))
        for table, total in zip((self.met, self.expected), sums, strict=True):
            np.add.at(total, at, table)
        # A sum may end otherwise in another order: the same for both ways round.
        sums = (sums + sums.transpose(0, 2, 1)) / 2
        sums[:, np.arange(groups), np.arange(groups)] /= 2
        return sums[0], sums[1]


@lru_cache(maxsize=2)
def arrays_of(counts: Counts) -> CountArrays:
    """The counts as arrays, made once: every question asks about the same counts."""
    return CountArrays(counts)


def worth(met: Floats, expected: Floats, prior: Floats | float = 0.0) -> Floats:
    """What meeting so often is worth, against chance; of the arrays' shape."""
    return np.asarray(np.log((met + SHRINKAGE * np.exp(prior)) / (expected + SHRINKAGE)))
