"""Sinks for drinks that pass the inequalities: one keeps the best, one collects all."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from typing import Protocol

import numpy as np

from solver.clock import Clock
from solver.measures import Measure
from solver.search.enumeration.pour_vectors import (
    Bools,
    Ints,
    Picks,
    goal_of,
    measures_of_totals,
    with_zero_row,
)
from solver.search.exact_evaluator import evaluate
from solver.search.problem import Drink, Floats, Problem
from solver.search.tolerances import ROW_SLACK, ROW_SLACK_ABSOLUTE

FIRST_BATCH = 1 << 8
"""Drinks that are evaluated exactly at once, best first; twice as many each time after that."""
EVALUATED = 1 << 21
"""Amounts of candidates that are evaluated exactly in one sweep."""


TRUSTED = 16
"""Drinks of a sample from which on it tells how many there are."""
FAR_MORE = 4
"""So many times as many as there is room for are too many: a sample may be wrong by as much."""


class TooManyError(Exception):
    """There are more drinks, or more ways to make them, than can be looked at."""


class Sink(Protocol):
    """Takes drinks as picks, shape (drinks, most poured), -1 for no pour."""

    below: float
    """Only drinks with a goal under this are of use; -inf ends the search."""

    def take(self, picks: Ints) -> None:
        """Evaluate drinks and keep those that are wanted.

        Raises:
            TimeUpError: not all of them were looked at.
            TooManyError: more were found than may be kept.
        """
        ...

    def sample(self, picks: Ints, each: float) -> None:
        """The same of a sample, each drink of which stands for so many; all come again.

        Raises:
            TimeUpError, TooManyError: as for `take`.
        """
        ...


class Incumbent:
    """Offers each drink that is better than the last by more than `gap`.

    `least` is a lower bound on the goal of any drink: once it is reached, nothing is better.
    """

    def __init__(
        self, picks: Picks, problem: Problem, goal: Measure | None, below: float, gap: float,
        clock: Clock, offer: Callable[[Drink], None], least: float = 0.0,
    ) -> None:  # fmt: skip
        self.below = below
        self._picks = picks
        self._problem = problem
        self._goal = goal
        self._gap = gap
        self._clock = clock
        self._offer = offer
        self._least = least
        self._vectors = with_zero_row(picks.vectors)

    def take(self, picks: Ints) -> None:
        """Evaluate drinks exactly, the most promising first, and offer the best of each batch."""
        values, within = _measured(self._problem, self._goal, picks, self._vectors)
        better = np.flatnonzero((values < self.below) & within)
        better = better[np.argsort(values[better], kind="stable")]
        for batch in _batches(better, FIRST_BATCH, self._problem):
            if values[batch[0]] >= self.below:
                break
            self._clock.check()
            self._evaluate(picks[batch])

    def sample(self, picks: Ints, each: float) -> None:  # noqa: ARG002 - one may be enough
        """As `take`."""
        self.take(picks)

    def _evaluate(self, picks: Ints) -> None:
        found = evaluate(self._problem, self._picks.amounts_of(picks, self._problem))
        values = np.where(found.feasible, found.of(self._goal), math.inf)
        best = int(values.argmin())
        if values[best] < self.below:
            self.below = float(values[best]) - self._gap
            if self.below <= self._least:
                self.below = -math.inf
            self._offer(self._picks.drink(picks[best]))


class Collector:
    """Keeps every feasible drink in `found`, up to `most` of them."""

    below = math.inf

    def __init__(self, picks: Picks, problem: Problem, most: int, clock: Clock) -> None:
        self.found: list[Ints] = []
        self._picks = picks
        self._problem = problem
        self._room = most
        self._clock = clock
        self._vectors = with_zero_row(picks.vectors)

    def take(self, picks: Ints) -> None:
        """Keep the drinks that are within the limits."""
        for rows in self._feasible(picks):
            self.found.append(rows)
            self._room -= len(rows)
            if self._room < 0:
                raise TooManyError

    def sample(self, picks: Ints, each: float) -> None:
        """Keep nothing, but tell where there are far more drinks than there is room for."""
        found = sum(len(rows) for rows in self._feasible(picks))
        if found >= TRUSTED and found * each > FAR_MORE * self._room:
            raise TooManyError

    def _feasible(self, picks: Ints) -> Iterator[Ints]:
        """The drinks that are within the limits, batch by batch."""
        _, within = _measured(self._problem, None, picks, self._vectors)
        for batch in _batches(np.flatnonzero(within), EVALUATED, self._problem):
            self._clock.check()
            rows = picks[batch]
            kept = evaluate(self._problem, self._picks.amounts_of(rows, self._problem)).feasible
            yield rows[kept]


def _batches(rows: Ints, first: int, problem: Problem) -> Iterator[Ints]:
    """Consecutive batches of rows: `first` of them, then twice as many each time, as far as
    `EVALUATED` allows."""
    most = max(1, EVALUATED // len(problem.candidates))
    at, size = 0, min(first, most)
    while at < len(rows):
        yield rows[at : at + size]
        at, size = at + size, min(2 * size, most)


def _measured(
    problem: Problem, goal: Measure | None, picks: Ints, vectors: Floats
) -> tuple[Floats, Bools]:
    """The goal of drinks up to rounding, and whether they may keep the limits, each shape (n,)."""
    totals = np.zeros((len(picks), vectors.shape[1]))
    for column in picks.T:
        totals += vectors[column]
    found = measures_of_totals(problem, totals)
    return goal_of(problem, goal, found), _nearly_within(problem, found)


def _nearly_within(problem: Problem, values: dict[str, Floats]) -> Bools:
    """Whether values, each shape (n,), keep the limits up to rounding, shape (n,).

    Looser than the exact evaluator, which decides about what is left.
    """
    holds = np.ones(len(values["volume"]), dtype=bool)
    for limit in problem.limits:
        value = values[limit.measure.name]
        if limit.low is not None:
            holds &= value >= limit.low - ROW_SLACK * abs(limit.low) - ROW_SLACK_ABSOLUTE
        if limit.high is not None:
            holds &= value <= limit.high + ROW_SLACK * abs(limit.high) + ROW_SLACK_ABSOLUTE
    return holds
