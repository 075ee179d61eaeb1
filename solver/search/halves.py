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

import enum
import itertools
import math
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from solver.measures import Measure
from solver.search.boxes import LEAF, Tree
from solver.search.clock import Clock
from solver.search.exact import evaluate, total_holds
from solver.search.inequalities import LOOSER, SLACK, Inequalities, inequalities
from solver.search.problem import Drink, Floats, PartRule, Problem
from solver.search.totals import Ints, Picks, goal_of, measured
from solver.search.windows import Window, Windows, least_goal, windows

MOST_WAYS = 1_000_000
"""Ways of a half that are kept in memory: a problem with more is left to the solvers of rows."""
BATCH = 1 << 15
"""Pairs of boxes that are compared in one sweep of array arithmetic."""
DIVE = 1 << 8
"""The same where any drink will do: the nearest boxes are opened before others are looked at."""
MOST_IN_ONE = 200_000
"""Drinks that the inequalities may let pass, of which few are any good, before finer ones are made:
the window of strengths before ice is cut in pieces, each with its own lines around the melt. Of all
that bends it bends most: it is enclosed to some 2 mL on the window of a usual sour."""
PIECES = 4
"""So many pieces; on each the melt is enclosed sixteen times as closely."""
WIDER = 16
"""A dive that finds nothing at once takes a share of one in so many more at each step."""
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

    `of` gives None where there are too many.
    """

    picks: Picks
    left: Ways
    right: Ways

    @classmethod
    def of(cls, problem: Problem, picks: Picks) -> Halves | None:
        """The two halves that are most alike in size."""
        counts = [_count(problem, index) for index in range(len(problem.parts))]
        if 0 in counts:  # nothing fills a part
            none = _nothing(picks, 0)
            return cls(picks, none, none)
        chosen = _split(counts)
        sizes = [math.prod(counts[i] for i in half) for half in chosen]
        if max(sizes) > MOST_WAYS:
            return None
        return cls(picks, *(_half(problem, picks, half) for half in chosen))

    @property
    def drinks(self) -> int:
        """How many drinks there are."""
        return len(self.left.picks) * len(self.right.picks)

    def best(
        self, problem: Problem, goal: Measure | None, below: float, tolerance: float, clock: Clock
    ) -> Found:
        """The drink of `problem` with the least goal under `below`, to within `tolerance`.

        A `tolerance` of infinity asks for any drink under `below`. `problem` may differ in limits,
        aims and goal from the one that the halves were made of.
        """
        if not self.drinks:
            return Found(None, math.inf, complete=True)
        cutoff = below if goal is None and below < math.inf else None
        within = windows(problem, cutoff)
        if within.empty or below <= least_goal(problem, within, goal):
            return Found(None, math.inf, complete=True)
        return _Sweep(self, problem, goal, within, below, tolerance).run(clock)


@enum.unique
class _Went(enum.Enum):
    """How a descent ended."""

    THROUGH = "through"
    OUT_OF_TIME = "out of time"
    TOO_FAR = "too far"
    """The inequalities let too many drinks pass."""


class _Sweep:
    """One run over all pairs of boxes."""

    def __init__(
        self, halves: Halves, problem: Problem, goal: Measure | None, within: Windows,
        below: float, tolerance: float,
    ) -> None:  # fmt: skip
        self.problem = problem
        self.picks = halves.picks
        self.goal = goal
        self.within = within
        self.below = below
        self.tolerance = tolerance
        self.batch = BATCH if tolerance < math.inf else DIVE
        self.least = least_goal(problem, within, goal)
        self.passed = 0
        self.drink: Drink | None = None
        self.value = math.inf
        asked = self._asked(within)
        kept = _hopeful((halves.left, halves.right), asked, below)
        self.asked, cutting = asked.cutting(_greatest(*(sides for _, sides in kept)))
        self.trees = [
            Tree.of(half.picks, half.totals, sides[:, cutting], self.asked.places(half.totals))
            for half, sides in kept
        ]

    def _asked(self, within: Windows) -> Inequalities:
        any_will_do = self.tolerance == math.inf
        return inequalities(self.problem, within, self.goal, any_will_do=any_will_do)

    def run(self, clock: Clock) -> Found:
        """Look at all pairs, as long as there is time."""
        whole = tuple(self.trees)
        if not all(len(tree.ways) for tree in whole):
            return Found(self.drink, self.value, complete=True)
        went = self._descend(clock, MOST_IN_ONE)
        if went is _Went.TOO_FAR:
            for piece in _pieces(self.within):
                if self.below == -math.inf:
                    break
                self.asked = self._asked(piece)
                self.trees = [tree.seen_by(self.asked.sides(tree.totals)) for tree in whole]
                went = self._descend(clock, math.inf)
                if went is _Went.OUT_OF_TIME:
                    break
        return Found(self.drink, self.value, complete=went is _Went.THROUGH)

    def _descend(self, clock: Clock, most: float) -> _Went:
        """From the largest boxes to single drinks, nearest first.

        Where melt may bend, it goes no further than `most` drinks that the inequalities let pass.
        """
        left, right = self.trees
        bends = self.problem.curve.linear != 0 or self.problem.curve.quadratic != 0
        self.passed = 0
        origin = np.zeros(1, dtype=np.int64)
        stack: list[tuple[int, Ints, Ints]] = [(0, origin, origin)]
        while stack:
            if clock.left == 0:
                return _Went.OUT_OF_TIME
            if bends and self.passed > most:
                return _Went.TOO_FAR
            depth, i, j = stack.pop()
            self.batch = min(BATCH, self.batch + self.batch // WIDER)
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
        return _Went.THROUGH

    def _open(self, i: Ints, j: Ints) -> None:
        """Look at every pair of ways of the given leaves."""
        left, right = self.trees

        def side(column: int) -> Floats:
            lefts, rights = left.leaves[column, i], right.leaves[column, j]
            return np.asarray(lefts[:, :, np.newaxis] + rights[:, np.newaxis, :])

        shape = (len(i), left.size, right.size)
        near = self.asked.distance_of(side, shape) < self.below
        pair, one, other = np.nonzero(self.asked.hold_of(side, shape) & near)
        rows, columns = i[pair] * left.size + one, j[pair] * right.size + other
        self.passed += len(rows)
        totals = left.totals[rows] + right.totals[columns]
        found = measured(self.problem, totals)
        values = goal_of(self.problem, self.goal, found)
        better = np.flatnonzero((values < self.below) & _nearly_within(self.problem, found))
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
            if self.below <= self.least:  # nothing is better, or any drink will do
                self.below = -math.inf


def _nearly_within(problem: Problem, values: dict[str, Floats]) -> npt.NDArray[np.bool_]:
    """Whether drinks may keep the limits, by values that are right but for rounding, shape (n,).

    Looser than the exact evaluator, which is asked about what is left.
    """
    holds = np.ones(len(values["volume"]), dtype=bool)
    for limit in problem.limits:
        value = values[limit.measure.name]
        if limit.low is not None:
            holds &= value >= limit.low - LOOSER * abs(limit.low) - SLACK
        if limit.high is not None:
            holds &= value <= limit.high + LOOSER * abs(limit.high) + SLACK
    return holds


def _greatest(left: Floats, right: Floats) -> Floats:
    """The most that each side of any pair can be, shape (functions,)."""
    return np.asarray(left.max(axis=0, initial=-math.inf) + right.max(axis=0, initial=-math.inf))


def _pieces(within: Windows) -> list[Windows]:
    """Windows that differ in the strength before ice and together hold all there is.

    Neighbours share an edge.
    """
    edges = np.linspace(within.strength.low, within.strength.high, PIECES + 1).tolist()
    return [replace(within, strength=Window(*ends)) for ends in itertools.pairwise(edges)]


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


def _count(problem: Problem, index: int) -> int:
    """How many ways there are to fill a part, whatever its total."""
    rule = problem.parts[index]
    ways = [1] + [0] * rule.count_high
    for candidate in problem.candidates:
        if candidate.part == index:
            for count in range(rule.count_high, 0, -1):
                ways[count] += ways[count - 1] * len(candidate.amounts)
    return sum(ways[rule.count_low :])


def _half(problem: Problem, picks: Picks, parts: tuple[int, ...]) -> Ways:
    """Every way to fill some parts."""
    together = _nothing(picks, 1)
    for index in parts:
        together = together.times(_ways(picks, index, problem.parts[index]))
    return together


def _nothing(picks: Picks, count: int) -> Ways:
    """One way to pour nothing, or none."""
    return Ways(np.zeros((count, 0), dtype=np.int64), np.zeros((count, picks.vectors.shape[1])))


def _ways(picks: Picks, index: int, rule: PartRule) -> Ways:
    """Every way to fill a part: so many different ingredients, and so much of them together."""
    mine = np.flatnonzero(picks.part == index)
    chosen = np.zeros((1, 0), dtype=np.int64)
    filled: list[Ints] = []
    for count in range(rule.count_high + 1):
        if count >= rule.count_low:
            filled.append(
                np.pad(chosen, ((0, 0), (0, rule.count_high - count)), constant_values=-1)
            )
        last = picks.candidate[chosen[:, -1]] if count else np.full(1, -1)
        more, which = np.nonzero(picks.candidate[mine] > last[:, np.newaxis])
        chosen = np.hstack([chosen[more], mine[which][:, np.newaxis]])
    rows = np.vstack(filled)
    amount = np.append(picks.amount, 0.0)[rows].sum(axis=1)
    rows = rows[total_holds(rule, amount, (rows >= 0).sum(axis=1))]
    vectors = np.vstack([picks.vectors, np.zeros(picks.vectors.shape[1])])
    return Ways(rows, vectors[rows].sum(axis=1))
