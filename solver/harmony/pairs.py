"""What two flavours are worth together: by counts, by what the bar says, and why.

What has no counts has no kind either: measured on 46 ingredients whose drinks were hidden, placing
one by its kind was no better than ignoring it.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from solver.harmony.count_arrays import CountArrays, Floats, Ints, Tally, worth
from solver.harmony.flavours import LOUD, Flavour
from solver.harmony.taste import OWN_DRINK, SAID, BarTaste, Tastings, counted_for

Bools = npt.NDArray[np.bool_]

PRACTICE = 10.0
"""What the trade says of what has no counts counts like so many printed drinks, as much as what a
profile says: our own choice."""
STATED = 10.0
"""What a profile says goes together counts like so many printed drinks: our own choice."""


@dataclass(frozen=True)
class PairEvidence:
    """Why two flavours are worth what they are worth together.

    `printed` counts drinks with both, `kinds` and `families` drinks with two such; None where one
    of them has no counts. `own` is how many specs of the bar pour both. `tasted` are
    the bar's tastings of drinks with both, None where there are none;
    `said` what it says: 1 that they go together, -1 that they don't, 0 nothing. `stated` says that
    the profile calls them usual together. `practice` is the trade's word.
    """

    one: Flavour
    other: Flavour
    worth: float
    printed: Tally | None = None
    kinds: Tally | None = None
    families: Tally | None = None
    own: int = 0
    tasted: Tastings | None = None
    said: int = 0
    stated: bool = False
    practice: str = ""


class PairTable:
    """What every two of some flavours are worth together; arrays have shape (flavours, flavours).

    `worths` has the worths, `never` the pairs that the bar bans.
    """

    def __init__(
        self,
        flavours: Sequence[Flavour],
        printed: CountArrays,
        taste: BarTaste,
        own: Sequence[frozenset[str]] = (),
        tasted: Sequence[tuple[frozenset[str], int]] = (),
        stated: Sequence[tuple[str, str]] = (),
    ) -> None:
        """`own` are the bar's specs, `tasted` its tastings with their scores, as the names of their
        flavours; `stated` what the profile calls usual together.
        """
        self.flavours = tuple(flavours)
        self.index = {flavour.name: i for i, flavour in enumerate(flavours)}
        self._meaning: dict[str, list[int]] = {}
        for i, each in enumerate(flavours):
            for word in each.words:
                self._meaning.setdefault(word, []).append(i)
        self.printed = printed
        self._known = np.array([each.counted_as is not None for each in flavours], dtype=bool)
        counted = [each.counted_as for each in flavours if each.counted_as is not None]
        self._rows: Ints = np.array([printed.ingredients[name] for name in counted], dtype=np.int64)
        self._kinds = printed.kind_of[self._rows]
        poured = self._poured(own)
        notes = self._poured([drink for drink, _ in tasted])
        weights = np.array([counted_for(score) for _, score in tasted])
        self._notes = tuple(tasted)
        self._own = _both(poured, np.ones(len(own)))
        self._tasted = _both(notes, weights)
        self._liked = _both(notes, weights.clip(min=0.0))
        self._said = self._words(taste, "goes_with") - self._words(taste, "not_with")
        self._stated = self._pairs_of(stated)
        self._ruled = self._practice()
        self.never: Bools = self._words(taste, "never") > 0
        self.worths = worth(self._met(), self._expected(poured), self._prior())

    def _met(self) -> Floats:
        met = self._of_known(self.printed.met, self._rows) + OWN_DRINK * self._own + self._liked
        met += SAID * (self._said > 0) + STATED * self._stated + PRACTICE * (self._ruled > 0)
        return np.asarray(met)

    def _expected(self, own: Floats) -> Floats:
        """What chance would have, by how many drinks pour each, the bar's own among them."""
        pours = OWN_DRINK * own.sum(axis=0)
        pours[self._known] += self.printed.poured[self._rows]
        drinks = self.printed.counts.drinks + OWN_DRINK * len(own)
        expected = np.outer(pours, pours) / drinks + (self._liked - self._tasted)
        against = SAID * (self._said < 0) + PRACTICE * (self._ruled < 0)
        return np.asarray(expected + against)

    def _prior(self) -> Floats:
        return self._of_known(self.printed.kind_worths, self._kinds)

    def _of_known(self, table: Floats, rows: Ints) -> Floats:
        """A table's values for every two flavours that have counts, nothing for others."""
        found = np.zeros((len(self.flavours),) * 2)
        found[np.ix_(self._known, self._known)] = table[np.ix_(rows, rows)]
        return found

    def _poured(self, drinks: Sequence[frozenset[str]]) -> Floats:
        """1 where a drink pours a flavour, shape (drinks, flavours)."""
        rows = [[each.name in drink for each in self.flavours] for drink in drinks]
        return np.array(rows, dtype=float).reshape(len(drinks), len(self.flavours))

    def _words(self, taste: BarTaste, field: str) -> Ints:
        """1 where the bar says it of one of two flavours, in words that fit the other."""
        found = np.zeros((len(self.flavours),) * 2, dtype=np.int64)
        for i, each in enumerate(self.flavours):
            for bottle in each.bottles:
                for word in getattr(taste.of(bottle), field):
                    fits = self._answering(word)
                    found[i, fits] = found[fits, i] = 1
        np.fill_diagonal(found, 0)
        return found

    def _pairs_of(self, stated: Sequence[tuple[str, str]]) -> Bools:
        """Which two are pairs of words."""
        found = np.zeros((len(self.flavours),) * 2, dtype=bool)
        for words in stated:
            found |= np.outer(*map(self._answering, words))
        np.fill_diagonal(found, val=False)
        return found | found.T

    def _practice(self) -> Ints:
        """What the trade says of what has no counts and of which the bar says nothing: by its
        number, from 1, the rule that two go together; below 0, that they do not.
        """
        found = np.zeros((len(self.flavours),) * 2, dtype=np.int64)
        silent = ~self._known & ~self._said.any(axis=1) & ~self._answering(LOUD)
        for number, rule in enumerate(self.printed.counts.practice, start=1):
            both = np.outer(silent & self._answering(rule.one), self._answering(rule.other))
            found[(both | both.T) & (found == 0)] = number if rule.goes else -number
        np.fill_diagonal(found, 0)
        return found

    def _answering(self, word: str) -> Bools:
        """Which flavours a word means, shape (flavours,)."""
        found = np.zeros(len(self.flavours), dtype=bool)
        found[self._meaning.get(word, [])] = True
        return found

    def evidence(self, one: int, other: int) -> PairEvidence:
        """Why two flavours, by their positions, are worth what they are worth."""
        first, second = self.flavours[one], self.flavours[other]
        ruled = int(self._ruled[one, other])
        printed = kinds = families = None
        if first.counted_as is not None and second.counted_as is not None:
            printed, kinds, families = self.printed.tallies(first.counted_as, second.counted_as)
        return PairEvidence(
            first,
            second,
            worth=float(self.worths[one, other]),
            printed=printed,
            kinds=kinds,
            families=families,
            own=int(self._own[one, other]),
            tasted=self._tastings(first.name, second.name),
            said=int(self._said[one, other]),
            stated=bool(self._stated[one, other]),
            practice=self.printed.counts.practice[abs(ruled) - 1].says if ruled else "",
        )

    def _tastings(self, *names: str) -> Tastings | None:
        """The tastings of drinks with all of some flavours."""
        return Tastings.of([score for poured, score in self._notes if poured.issuperset(names)])

    def tasted_as_it_is(self, names: Collection[str]) -> Tastings | None:
        """The tastings of drinks of just these flavours."""
        return Tastings.of([score for poured, score in self._notes if poured == set(names)])

    def heard(self, one: int) -> bool:
        """Whether the bar pours, tasted or says anything of a flavour, by its position."""
        tables = (self._own, self._tasted, self._said, self.never)
        return any(table[one].any() for table in tables)


def _both(poured: Floats, weights: Floats) -> Floats:
    """The weights of the drinks that pour both of two flavours, summed, but for one with itself."""
    sums = poured.T @ (weights[:, np.newaxis] * poured)
    np.fill_diagonal(sums, 0.0)
    return np.asarray(sums)
