"""Local search for an incumbent: exchange pours, one or two at a time, as long as that helps.

A good incumbent makes a proof cheap, and MILP solvers are slow to find one. This search proves
nothing and may miss the best drink.
"""

from __future__ import annotations

import random
from collections.abc import Iterator

import numpy as np

from solver.clock import Clock
from solver.measures import Measure
from solver.search.enumeration.pour_vectors import (
    UNPRICED,
    Ints,
    Picks,
    choices_at,
    goal_of,
    measures_of_totals,
)
from solver.search.problem import Drink, Floats, Problem
from solver.search.tolerances import LEAST_LIMIT, LIMIT_SLACK

MOST_MOVES = 300
"""Exchanges that are tried in pairs; where there are more, a random sample."""
MOST_PASSES = 60
SAMPLES = 3
"""Samples without a better drink after which a descent ends."""
BREACH = 10.0
"""What breaking a limit by one noticeable difference, or a count by one, weighs against the goal:
enough that no limit is traded away."""
BREACH_TOTAL_ML = 5.0
"""A part's total that is off by so much counts as one breach."""


class Descent:
    """Local search on one problem; `goal` None is the distance from the aims.

    Where the time is up, a descent ends where it is.
    """

    def __init__(
        self, problem: Problem, goal: Measure | None, picks: Picks, clock: Clock, seed: int = 1
    ) -> None:
        self.problem = problem
        self.goal = goal
        self.picks = picks
        self.clock = clock
        # Not numpy's, which takes 13 ms to import.
        self.random = random.Random(seed)  # noqa: S311 - chance is only for variety
        structure, self.low, self.high, self.unit = _structure(problem, picks)
        self.structure_at = choices_at(problem)
        vectors = np.hstack([picks.vectors[:, : self.structure_at], structure])
        # One more row, of zeros, stands for no pour.
        self.vectors = np.vstack([vectors, np.zeros(vectors.shape[1])])
        self.none = len(picks.pairs)
        rows = (np.flatnonzero(picks.part == index) for index in range(len(problem.parts)))
        self.of_part = tuple((each, picks.ingredient[each]) for each in rows)
        self.ingredients = int(picks.ingredient.max(initial=-1)) + 1

    def drinks(self) -> Iterator[Drink]:
        """Yield local optima from random starts, indefinitely."""
        while True:
            yield self._descend(self._random())

    def descend(self, drink: Drink) -> Drink:
        """A drink reached from `drink` that no exchange seen betters."""
        rows = {pair: row for row, pair in enumerate(self.picks.pairs)}
        return self._descend([rows[pair] for pair in drink])

    def _descend(self, poured: list[int]) -> Drink:
        total = self.vectors[poured].sum(axis=0)
        score = float(self._score(total[np.newaxis])[0])
        idle = 0
        for _ in range(MOST_PASSES):
            if self.clock.left == 0:
                break
            removed, added, complete = self._moves(poured)
            change = self.vectors[added] - self.vectors[removed]
            left, right = self._pairs(removed, added)
            scores = self._score(total + change[left] + change[right])
            best = int(scores.argmin()) if scores.size else 0
            if not scores.size or scores[best] >= score - 1e-12:
                idle += 1
                if complete or idle == SAMPLES:
                    break
                continue
            idle = 0
            for move in (left[best], right[best]):
                if removed[move] != self.none:
                    poured.remove(int(removed[move]))
                if added[move] != self.none:
                    poured.append(int(added[move]))
            total = self.vectors[poured].sum(axis=0)
            score = float(scores[best])
        return self.picks.drink(np.array(poured, dtype=np.int64))

    def _random(self) -> list[int]:
        """Picks of a random drink with the least count of every part."""
        chosen: list[int] = []
        taken: set[int] = set()
        for index, part in enumerate(self.problem.parts):
            count = 0
            rows = np.flatnonzero(self.picks.part == index).tolist()
            self.random.shuffle(rows)
            for row in rows:
                if count == part.count_low:
                    break
                if int(self.picks.ingredient[row]) not in taken:
                    taken.add(int(self.picks.ingredient[row]))
                    chosen.append(row)
                    count += 1
        return chosen

    def _moves(self, poured: list[int]) -> tuple[Ints, Ints, bool]:
        """Moves within one part: picks taken away, picks poured instead, and whether these are all.

        The first move changes nothing, so that pairs with it are single exchanges.
        """
        removed, added = [self.none], [self.none]
        for index, (rows, kinds) in enumerate(self.of_part):
            for gone in (*(row for row in poured if self.picks.part[row] == index), self.none):
                free = np.ones(self.ingredients, dtype=bool)
                free[self.picks.ingredient[[row for row in poured if row != gone]]] = False
                fresh = rows[free[kinds] & (rows != gone)].tolist()
                fresh += [self.none] if gone != self.none else []
                removed += [gone] * len(fresh)
                added += fresh
        complete = len(added) <= MOST_MOVES
        away: Ints = np.array(removed, dtype=np.int64)
        instead: Ints = np.array(added, dtype=np.int64)
        if not complete:
            sample = [0, *sorted(self.random.sample(range(1, len(added)), MOST_MOVES))]
            away, instead = away[sample], instead[sample]
        return away, instead, complete

    def _pairs(self, removed: Ints, added: Ints) -> tuple[Ints, Ints]:
        """Pairs of moves that can be made together."""
        left, right = np.triu_indices(len(removed), 1)
        same_gone = (removed[left] == removed[right]) & (removed[left] != self.none)
        kinds = np.append(self.picks.ingredient, -1)[added]
        same_new = (kinds[left] == kinds[right]) & (kinds[left] >= 0)
        able = ~same_gone & ~same_new
        return left[able], right[able]

    def _score(self, totals: Floats) -> Floats:
        """Goal plus penalties for broken limits, shape (n,); lower is better."""
        values = measures_of_totals(self.problem, totals)
        structure = totals[:, self.structure_at :]
        short = np.maximum(self.low - structure, structure - self.high)
        broken = np.asarray((short.clip(min=0.0) / self.unit).sum(axis=1))
        for limit in self.problem.limits:
            value = values[limit.measure.name]
            for sign, bound in ((1.0, limit.high), (-1.0, limit.low)):
                if bound is not None:
                    over = np.maximum(sign * (value - bound), 0.0)
                    over[over <= LIMIT_SLACK * max(abs(bound), LEAST_LIMIT)] = 0.0
                    broken = broken + over / limit.measure.tolerance(abs(bound))
        unit = 1.0 if self.goal is None else self.goal.noticeable
        goal = goal_of(self.problem, self.goal, values)
        return np.asarray(goal / unit + BREACH * broken + (broken > 0))


def _structure(problem: Problem, picks: Picks) -> tuple[Floats, Floats, Floats, Floats]:
    """Weights of the linear structural constraints, shape (picks, m), and of each its least, its
    most and the size of one breach, shape (m,).

    In order: count and total of each part; pours without a price, where the cost is asked about;
    choices.
    """
    columns: list[Floats] = []
    ranges: list[tuple[float, float, float]] = []
    for index, part in enumerate(problem.parts):
        mine = (picks.part == index).astype(float)
        columns.append(mine)
        ranges.append((part.count_low, part.count_high, 1.0))
        low = part.total_low if part.total_low is not None and part.count_low > 0 else 0.0
        high = np.inf if part.total_high is None else part.total_high
        if low > 0.0 or high < np.inf:
            columns.append(mine * picks.amount)
            slack = LIMIT_SLACK
            ranges.append((low * (1 - slack), high * (1 + slack), BREACH_TOTAL_ML))
    if problem.about_cost:
        columns.append(picks.vectors[:, UNPRICED])
        ranges.append((0.0, 0.0, 1.0))
    for index, choice in enumerate(problem.choices):
        columns.append(picks.vectors[:, choices_at(problem) + index])
        ranges.append((choice.low, np.inf if choice.high is None else choice.high, 1.0))
    low, high, unit = np.array(ranges, dtype=float).T
    return np.column_stack(columns), low, high, unit
