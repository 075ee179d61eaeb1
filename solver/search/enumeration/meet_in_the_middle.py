"""Meet in the middle: every drink is a sum of two halves, and pairs of halves are searched.

A half is a filling of some of the parts, so that there are far fewer halves than drinks. (Horowitz
& Sahni, J. ACM 21, 1974.) Pairs are searched by dual-tree branch and bound (`dual_tree`), which is
complete: it ends with the best drink there is, or with the proof that there is none.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from solver.clock import Clock
from solver.measures import Measure
from solver.search.enumeration.dual_tree import DualTreeSearch
from solver.search.enumeration.fillings import (
    Fillings,
    allowed_picks,
    count_of_fillings,
    fillings_of_part,
)
from solver.search.enumeration.pour_vectors import Ints, Picks
from solver.search.enumeration.sinks import Collector, Incumbent, TooManyError
from solver.search.problem import Drink, Problem, Wanted
from solver.search.tolerances import SAME_GOAL
from solver.search.windows import least_goal, windows

MOST_FILLINGS = 1_000_000
"""Fillings of a half that are looked at: a problem with more is left to the MILP solvers."""
FEW = 4096
"""Drinks that are measured one and all: bounds would take longer."""
MOST_LISTED = 100_000
"""Drinks that are listed at most, to compare their sets or values. Where there are more, sets are
tried in order, as one of the first is then likely to have a drink."""
MOST_SPLIT = 12
"""Parts of which every split in two is tried; of more, one that is found by size."""


@dataclass(frozen=True, eq=False)
class Halves:
    """All drinks that a problem's candidates, parts and choices make, whatever limits and aims say.

    Where pours must be equal, there is a piece for each amount that they may have. `of` gives None
    where there are too many.
    """

    picks: Picks
    pieces: tuple[tuple[Fillings, Fillings], ...]

    @classmethod
    def of(cls, problem: Problem, picks: Picks, clock: Clock) -> Halves | None:
        """The two halves that are most alike in size. They are counted before they are made.

        Raises:
            TimeUpError: there was no time for it.
        """
        pieces: list[tuple[Fillings, Fillings]] = []
        for allowed in allowed_picks(problem, picks):
            counts = [
                count_of_fillings(picks, allowed, index, rule)
                for index, rule in enumerate(problem.parts)
            ]
            if any(count.filled == 0 for count in counts):
                continue
            chosen = _split([count.filled for count in counts])
            sizes = [math.prod(counts[i].filled for i in half) for half in chosen]
            if max(*sizes, *(count.most for count in counts)) > MOST_FILLINGS:
                return None
            made = [
                fillings_of_part(picks, allowed, index, rule, clock)
                for index, rule in enumerate(problem.parts)
            ]
            left, right = (Fillings(tuple(made[index] for index in half)) for half in chosen)
            pieces.append((left, right))
        return cls(picks, tuple(pieces))

    @property
    def empty(self) -> bool:
        """Whether there is no drink at all."""
        return not any(len(left) and len(right) for left, right in self.pieces)

    def look(
        self, problem: Problem, goal: Measure | None, below: float, clock: Clock,
        offer: Callable[[Drink], None], *, wanted: Wanted = Wanted.BEST, gap: float = SAME_GOAL,
    ) -> None:  # fmt: skip
        """Offer drinks of `problem`, each with a lesser goal than the last, all under `below`.

        Once this returns, the last one offered is the best to within `gap`, or where any is wanted
        the only one; where none was offered there is none. `problem` may differ in limits, aims and
        goal from the one that the halves were made of.

        Raises:
            TimeUpError: not everything was looked at.
            TooManyError: nothing was, as what is asked takes too much memory.
        """
        clock.check()
        gap = math.inf if wanted is Wanted.ANY else gap
        if self.empty or below <= 0:  # no goal is less than nothing
            return
        if sum(len(left) * len(right) for left, right in self.pieces) <= FEW:
            every = Incumbent(self.picks, problem, goal, below, gap, clock, offer)
            for left, right in self.pieces:
                one, other = np.divmod(np.arange(len(left) * len(right)), max(1, len(right)))
                every.take(np.hstack([left.picks(one), right.picks(other)]))
            return
        within = windows(problem, below if goal is None and below < math.inf else None)
        least = math.inf if within.empty else least_goal(problem, within, goal)
        if below <= least:
            return
        incumbent = Incumbent(self.picks, problem, goal, below, gap, clock, offer, least)
        for piece in self.pieces:
            DualTreeSearch(self.picks, piece, problem, goal, within, incumbent, clock, wanted).run()
            if incumbent.below == -math.inf:
                return

    def every(self, problem: Problem, most: int, clock: Clock) -> Ints | None:
        """Every drink within the limits of `problem`: picks, shape (drinks, most poured), -1 for
        none; None where there may be more than `most`.

        Raises:
            TimeUpError: not everything was looked at.
        """
        clock.check()
        aimless = replace(problem, aims=())
        within = windows(aimless)
        collector = Collector(self.picks, aimless, most, clock)
        try:
            for piece in self.pieces if not within.empty else ():
                DualTreeSearch(
                    self.picks, piece, aimless, None, within, collector, clock, Wanted.EVERY
                ).run()
        except TooManyError:
            return None
        width = max((rows.shape[1] for rows in collector.found), default=0)
        padded = [
            np.pad(rows, ((0, 0), (0, width - rows.shape[1])), constant_values=-1)
            for rows in collector.found
        ]
        return np.vstack([np.zeros((0, width), dtype=np.int64), *padded])


def _split(counts: Sequence[int]) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Split parts in two halves that have as few fillings together as possible.

    Of more than `MOST_SPLIT` parts nearly so: the larger come first, each to the smaller half.
    """
    several = sorted((i for i, count in enumerate(counts) if count > 1), key=lambda i: -counts[i])
    alone = tuple(i for i, count in enumerate(counts) if count == 1)

    def fillings(half: tuple[int, ...]) -> int:
        return math.prod(counts[index] for index in half)

    if len(several) > MOST_SPLIT:
        halves: list[tuple[int, ...]] = [alone, ()]
        for index in several:
            halves.sort(key=fillings)
            halves[0] = (*halves[0], index)
        return halves[0], halves[1]
    subsets = (s for n in range(len(several)) for s in itertools.combinations(several, n))
    pairs = ((s, tuple(i for i in several if i not in s)) for s in subsets)
    first, second = min(pairs, key=lambda pair: sum(map(fillings, pair)), default=((), ()))
    return (*alone, *first), second
