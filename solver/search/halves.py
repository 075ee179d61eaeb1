"""Look at every drink by halves: what a pair of boxes cannot hold need not be looked at one by one.

A drink is the sum of two halves, each a way to fill some of the parts. The ways of each half are
sorted into a tree of boxes. Every limit, and the distance from every aim, compares a sum of two
numbers, one from each half, with a bound; a box keeps the least of them. A pair of boxes whose
least sums break a limit, or lie too far from the aims, holds no drink worth looking at; other pairs
are split, down to single drinks, which are evaluated exactly. (Two halves: Horowitz & Sahni, J. ACM
21, 1974; boxes: branch and bound on two trees at once.)

This is complete: it ends with the best drink there is, or with the proof that there is none.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from solver.measures import Measure
from solver.search.boxes import LEAF, Tree
from solver.search.clock import Clock
from solver.search.exact import evaluate, total_holds
from solver.search.inequalities import Inequalities, inequalities
from solver.search.problem import AMOUNT_DIGITS, Drink, Floats, PartRule, Problem
from solver.search.totals import Ints, Picks, goal_of, measured
from solver.search.windows import windows

Bools = npt.NDArray[np.bool_]

MOST_WAYS = 1_000_000
"""Ways of a half that are kept in memory: a problem with more is left to the solvers of rows."""
BATCH = 1 << 15
"""Pairs of boxes that are compared in one sweep of array arithmetic."""
DIVE = 1 << 8
"""The same where any drink will do: the nearest boxes are opened before others are looked at."""
ROUNDS = 4
"""How often the ways of a half are compared with the best of the other, in turn."""
LEAF_BATCH = BATCH // LEAF
"""Pairs of leaves that are opened in one sweep."""


@dataclass(frozen=True, eq=False)
class Ways:
    """Ways to fill some parts: rows of picks, shape (n, most), -1 for none, and their totals."""

    picks: Ints
    totals: Floats

    def times(self, other: Ways) -> Ways:
        """Every way of these parts with every way of the others."""
        left = np.repeat(np.arange(len(self.picks)), len(other.picks))
        right = np.tile(np.arange(len(other.picks)), len(self.picks))
        picks = np.hstack([self.picks[left], other.picks[right]])
        return Ways(picks, self.totals[left] + other.totals[right])


@dataclass(frozen=True)
class Found:
    """The best drink seen, None if none is better than asked, and whether all were looked at."""

    drink: Drink | None
    value: float
    complete: bool


@dataclass(frozen=True, eq=False)
class Halves:
    """All drinks that a problem's candidates, parts and choices make, whatever limits and aims say.

    Each of the `pieces`, pairs of halves, has some of them; together they have every one once.
    There is one piece, or where pours must be equal one for each amount that they may have. `of`
    gives None where there are too many.
    """

    picks: Picks
    pieces: tuple[tuple[Ways, Ways], ...]

    @classmethod
    def of(cls, problem: Problem, picks: Picks) -> Halves | None:
        """The two halves that are most alike in size, of every piece."""
        pieces: list[tuple[Ways, Ways]] = []
        for allowed in _allowed(problem, picks):
            counts = [
                _count(picks, allowed, index, rule) for index, rule in enumerate(problem.parts)
            ]
            if 0 in counts:  # nothing fills a part
                continue
            chosen = _split(counts)
            if max(math.prod(counts[i] for i in half) for half in chosen) > MOST_WAYS:
                return None
            left, right = (_half(problem, picks, allowed, half) for half in chosen)
            pieces.append((left, right))
        return cls(picks, tuple(pieces))

    @property
    def drinks(self) -> int:
        """How many drinks there are."""
        return sum(len(left.picks) * len(right.picks) for left, right in self.pieces)

    def best(
        self, problem: Problem, goal: Measure | None, below: float, tolerance: float, clock: Clock
    ) -> Found:
        """The drink of `problem` with the least goal under `below`, to within `tolerance`.

        A `tolerance` of infinity asks for any drink under `below`. `problem` may differ in limits,
        aims and goal from the one that the halves were made of.
        """
        best = Found(None, math.inf, complete=True)
        if not self.drinks or below < 0:  # no goal is less than nothing
            return best
        cutoff = below if goal is None and below < math.inf else None
        within = windows(problem, cutoff)
        if within.empty:
            return best
        asked = inequalities(problem, within, goal)
        for piece in self.pieces:
            sweep = _Sweep(self.picks, piece, problem, goal, asked, below, tolerance)
            found = sweep.run(clock)
            if found.drink is not None:
                best, below = found, found.value - tolerance
            if not found.complete:
                return replace(best, complete=False)
            if below == -math.inf:
                break
        return best


def _allowed(problem: Problem, picks: Picks) -> list[Bools]:
    """For every piece, which picks it may have, shape (picks,)."""
    if not problem.equal:
        return [np.ones(len(picks.amount), dtype=bool)]
    free = ~np.isin(picks.part, sorted(problem.equal))
    rounded = picks.amount.round(AMOUNT_DIGITS)
    return [free | (rounded == level) for level in problem.levels]


class _Sweep:
    """One run over all pairs of boxes."""

    def __init__(
        self, picks: Picks, piece: tuple[Ways, Ways], problem: Problem, goal: Measure | None,
        asked: Inequalities, below: float, tolerance: float,
    ) -> None:  # fmt: skip
        self.problem = problem
        self.picks = picks
        self.goal = goal
        self.asked = asked
        self.below = below
        self.tolerance = tolerance
        self.batch = BATCH if tolerance < math.inf else DIVE
        self.drink: Drink | None = None
        self.value = math.inf
        self.trees = [
            Tree.of(half.picks, half.totals, sides, asked.places(half.totals))
            for half, sides in _hopeful(piece, asked, below)
        ]

    def run(self, clock: Clock) -> Found:
        """Look at all pairs, as long as there is time."""
        left, right = self.trees
        complete = not len(left.ways) or not len(right.ways) or self._descend(clock)
        return Found(self.drink, self.value, complete)

    def _descend(self, clock: Clock) -> bool:
        """From the largest boxes to single drinks, nearest first; whether there was time for it."""
        left, right = self.trees
        origin = np.zeros(1, dtype=np.int64)
        stack: list[tuple[int, Ints, Ints]] = [(0, origin, origin)]
        while stack:
            if clock.left == 0:
                return False
            depth, i, j = stack.pop()
            up, down = min(depth, left.depth), min(depth, right.depth)
            sums = left.least[up][i] + right.least[down][j]
            distance = self.asked.distance(sums)
            keep = np.flatnonzero(self.asked.hold(sums) & (distance < self.below))
            keep = keep[np.argsort(distance[keep], kind="stable")]
            i, j = i[keep], j[keep]
            if depth >= max(left.depth, right.depth):
                for at in range(0, len(i), LEAF_BATCH):
                    if self.below == -math.inf:
                        break
                    self._open(i[at : at + LEAF_BATCH], j[at : at + LEAF_BATCH])
                continue
            i, j = _children(i, j, split_left=depth < left.depth, split_right=depth < right.depth)
            pieces = [slice(at, at + self.batch) for at in range(0, len(i), self.batch)]
            stack += [(depth + 1, i[piece], j[piece]) for piece in reversed(pieces)]
        return True

    def _open(self, i: Ints, j: Ints) -> None:
        """Look at every pair of ways of the given leaves."""
        left, right = self.trees
        rows = (i[:, np.newaxis] * left.size + np.arange(left.size))[:, :, np.newaxis]
        columns = (j[:, np.newaxis] * right.size + np.arange(right.size))[:, np.newaxis, :]
        rows, columns = (each.ravel() for each in np.broadcast_arrays(rows, columns))
        sums = left.sides[rows] + right.sides[columns]
        hopeful = self.asked.hopeful(sums, self.below)
        rows, columns = rows[hopeful], columns[hopeful]
        totals = left.totals[rows] + right.totals[columns]
        values = goal_of(self.problem, self.goal, measured(self.problem, totals))
        better = np.flatnonzero(values < self.below)
        better = better[np.argsort(values[better], kind="stable")]
        for at in range(0, len(better), BATCH):
            self._evaluate(rows[better[at : at + BATCH]], columns[better[at : at + BATCH]])

    def _evaluate(self, rows: Ints, columns: Ints) -> None:
        """Evaluate drinks exactly, and keep the best."""
        left, right = self.trees
        picks = np.hstack([left.ways[rows], right.ways[columns]])
        amounts = np.zeros((len(picks), len(self.problem.candidates)))
        for column in picks.T:
            poured = np.flatnonzero(column >= 0)
            chosen = column[poured]
            amounts[poured, self.picks.candidate[chosen]] = self.picks.amount[chosen]
        found = evaluate(self.problem, amounts)
        values = np.where(found.feasible, found.of(self.goal), math.inf)
        best = int(values.argmin()) if len(values) else -1
        if best >= 0 and values[best] < self.below:
            self.drink = self.picks.drink(picks[best])
            self.value = float(values[best])
            self.below = self.value - self.tolerance


def _hopeful(
    halves: tuple[Ways, Ways], asked: Inequalities, below: float
) -> list[tuple[Ways, Floats]]:
    """The ways of each half that may do with the best of the other, and their sides.

    What leaves one half makes the best of it worse for the other, which then leaves more.
    """
    kept = [(half, asked.sides(half.totals)) for half in halves]
    for turn in range(ROUNDS):
        (half, sides), (_, others) = kept[turn % 2], kept[1 - turn % 2]
        best = others.min(axis=0, initial=math.inf)
        hopeful = np.flatnonzero(asked.hopeful(sides + best, below))
        if len(hopeful) < len(sides):
            fewer = Ways(half.picks[hopeful], half.totals[hopeful])
            kept[turn % 2] = fewer, sides[hopeful]
    return kept


def _children(i: Ints, j: Ints, *, split_left: bool, split_right: bool) -> tuple[Ints, Ints]:
    """The pairs of smaller boxes of each pair."""
    lefts = [2 * i, 2 * i + 1] if split_left else [i]
    rights = [2 * j, 2 * j + 1] if split_right else [j]
    pairs = list(itertools.product(lefts, rights))
    return (
        np.stack([left for left, _ in pairs], axis=1).ravel(),
        np.stack([right for _, right in pairs], axis=1).ravel(),
    )


def _split(counts: list[int]) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Parts in two halves, so that the larger has as few ways as possible."""
    everything = range(len(counts))

    def halves(chosen: tuple[int, ...]) -> tuple[tuple[int, ...], tuple[int, ...]]:
        return chosen, tuple(index for index in everything if index not in chosen)

    subsets = (s for size in everything for s in itertools.combinations(everything, size))
    return min(
        (halves(chosen) for chosen in subsets),
        key=lambda pair: sum(math.prod(counts[index] for index in half) for half in pair),
        default=((), ()),
    )


def _count(picks: Picks, allowed: Bools, index: int, rule: PartRule) -> int:
    """How many ways there are to fill a part, whatever its total."""
    mine = picks.candidate[allowed & (picks.part == index)]
    ways = [1] + [0] * rule.count_high
    for amounts in np.unique(mine, return_counts=True)[1].tolist():
        for count in range(rule.count_high, 0, -1):
            ways[count] += ways[count - 1] * amounts
    return sum(ways[rule.count_low :])


def _half(problem: Problem, picks: Picks, allowed: Bools, parts: tuple[int, ...]) -> Ways:
    """Every way to fill some parts."""
    together = Ways(np.zeros((1, 0), dtype=np.int64), np.zeros((1, picks.vectors.shape[1])))
    for index in parts:
        mine = np.flatnonzero(allowed & (picks.part == index))
        together = together.times(_ways(picks, mine, problem.parts[index]))
    return together


def _ways(picks: Picks, mine: Ints, rule: PartRule) -> Ways:
    """Every way to fill a part: so many different ingredients, and so much of them together."""
    chosen = np.zeros((1, 0), dtype=np.int64)
    filled: list[Ints] = []
    for count in range(rule.count_high + 1):
        if count >= rule.count_low:
            filled.append(
                np.pad(chosen, ((0, 0), (0, rule.count_high - count)), constant_values=-1)
            )
        if count == rule.count_high:
            break
        last = picks.candidate[chosen[:, -1]] if count else np.full(1, -1)
        more, which = np.nonzero(picks.candidate[mine] > last[:, np.newaxis])
        chosen = np.hstack([chosen[more], mine[which][:, np.newaxis]])
    rows = np.vstack(filled)
    amount = np.append(picks.amount, 0.0)[rows].sum(axis=1)
    rows = rows[total_holds(rule, amount, (rows >= 0).sum(axis=1))]
    vectors = np.vstack([picks.vectors, np.zeros(picks.vectors.shape[1])])
    return Ways(rows, vectors[rows].sum(axis=1))
