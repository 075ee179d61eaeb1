"""Best-first branch and bound on sets of ingredients, yielded in the order of their worth.

Seats are taken one after the other. What the seats that are taken are worth, and the best of every
other seat, whatever the rest hold, bounds from above what a set that is begun can come to. The one
with the highest bound is gone on with, so that the first set to be complete is the best, and so on.
Of options for the same seat only the next best is begun: what is in memory grows with the sets that
were asked for, not with those that there are.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import combinations

import numpy as np
import numpy.typing as npt

from solver.clock import Clock, TimeUpError
from solver.search.sets.seats import Seats
from solver.search.sets.set_question import NEVER, FoundSet, IngredientSet, Ints, SetQuestion

MOST_BEGUN = 200_000
"""Sets that may be begun and not complete at once: some hundred megabytes."""


def best_first(
    question: SetQuestion, clock: Clock, most_begun: int = MOST_BEGUN
) -> Iterator[FoundSet]:
    """Every set, the best first; of equal worth, that of fewest ingredients, then by name.

    Names are compared part by part; where all are the same, what fills the parts.

    Raises:
        TimeUpError: the clock ran out, or more than `most_begun` sets were begun and not complete.
    """
    seats = Seats.of(question)
    if not seats.can_be_taken:
        return
    search = _Search(seats)
    while (found := search.next(clock, most_begun)) is not None:
        if found.poured:
            yield found


@dataclass(frozen=True)
class _Siblings:
    """The options of a seat after the same options for the seats before, by falling bound."""

    before: tuple[int, ...]
    options: Ints
    bounds: Ints


@dataclass(frozen=True, order=True)
class _Begun:
    """Options for the first seats, in the order in which they are gone on with.

    What is complete waits for what is not and may become as good, then for what has fewer
    ingredients, then for names.
    """

    least_loss: int
    complete: bool
    poured: tuple[int, tuple[int, ...], IngredientSet]
    number: int
    taken: tuple[int, ...] = field(compare=False)
    siblings: _Siblings = field(compare=False)
    turn: int = field(compare=False)


class _Search:
    """The sets that are begun, and those that were asked for."""

    def __init__(self, seats: Seats) -> None:
        self.seats = seats
        self.reparametrised = seats.reparametrised()
        self.slack = _slack(self.reparametrised)
        self.covered = _covered(seats)
        self.begun: list[_Begun] = []
        self.number = 0
        self._go_on(())

    def next(self, clock: Clock, most_begun: int) -> FoundSet | None:
        """The next set, None where there is none left.

        Raises:
            TimeUpError: as `best_first`.
        """
        steps = 0
        while self.begun:
            if len(self.begun) > most_begun or (steps % 64 == 0 and not clock.left):
                raise TimeUpError
            steps += 1
            now = heapq.heappop(self.begun)
            self._begin(now.siblings, now.turn + 1)
            if now.complete:
                return FoundSet(-now.least_loss, self.seats.ingredient_set(now.taken))
            self._go_on(now.taken)
        return None

    def _begin(self, siblings: _Siblings, turn: int) -> None:
        """Begin the next of some siblings, if there is one."""
        if turn == len(siblings.options):
            return
        taken = (*siblings.before, int(siblings.options[turn]))
        complete = len(taken) == self.seats.count
        ingredients = self.seats.ingredient_set(taken) if complete else ()
        poured = tuple(one for held in ingredients for one in held)
        self.number += 1
        begun = _Begun(
            -int(siblings.bounds[turn]),
            complete,
            (len(poured), poured, ingredients),
            self.number,
            taken,
            siblings,
            turn,
        )
        heapq.heappush(self.begun, begun)

    def _go_on(self, taken: tuple[int, ...]) -> None:
        """Take the next seat in every way that may become a set."""
        given, seat = self.reparametrised, len(taken)
        chosen = list(taken)
        mine, after = given.spans[seat], int(given.starts[seat + 1])
        gained = given.worth + given.together[chosen].sum(axis=0)
        bounds = given.whole + _worth(given, chosen) + self.slack[seat + 1] + gained[mine]
        if seat + 1 < given.count:
            later = gained[after:] + given.together[mine, after:]
            best = np.maximum.reduceat(later, given.starts[seat + 1 : -1] - after, axis=1)
            bounds = bounds + best.sum(axis=1)
        bounds = np.where(self._within_reach(chosen, seat), bounds, NEVER)
        order = np.argsort(-bounds, kind="stable")
        order = order[bounds[order] > NEVER // 2]
        self._begin(_Siblings(taken, order + mine.start, bounds[order]), 0)

    def _within_reach(self, chosen: Sequence[int], seat: int) -> npt.NDArray[np.bool_]:
        """Which options of a seat leave every wish within reach."""
        covers = self.seats.covers
        counts = covers[:, chosen].sum(axis=1, keepdims=True) + covers[:, self.seats.spans[seat]]
        can = np.ones(counts.shape[1], dtype=bool)
        wishes = self.seats.question.wishes
        for wish, count, more in zip(wishes, counts, self.covered[:, seat + 1], strict=True):
            can &= count + more >= wish.low
            if wish.high is not None:
                can &= count <= wish.high
        return can


def _worth(seats: Seats, chosen: Sequence[int]) -> int:
    """What some options are worth, by themselves and together."""
    pairs = sum(int(seats.together[pair]) for pair in combinations(chosen, 2))
    return int(seats.worth[chosen].sum()) + pairs


def _slack(seats: Seats) -> list[int]:
    """For each seat, the most that pairs of it and later seats can add."""
    spans = seats.spans
    best = {pair: int(seats.together[spans[pair[0]], spans[pair[1]]].max()) for pair in
            combinations(range(seats.count), 2)}  # fmt: skip
    return [
        sum(most for (first, _), most in best.items() if first >= seat)
        for seat in range(seats.count + 1)
    ]


def _covered(seats: Seats) -> Ints:
    """How much of each wish the seats from one on can hold, shape (wishes, seats + 1)."""
    most = np.zeros((len(seats.covers), seats.count + 1), dtype=np.int64)
    for seat in reversed(range(seats.count)):
        mine = seats.covers[:, seats.spans[seat]].max(axis=1, initial=0)
        most[:, seat] = most[:, seat + 1] + mine
    return most
