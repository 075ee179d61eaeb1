"""Dual-tree branch and bound: every pair of fillings of two halves that may make a good drink.

The fillings of each half are sorted into a k-d tree. Every limit, and the lower bound on the goal,
is a sum of two numbers, one from each half; a box keeps the least of them. A pair of boxes whose
least sums break a limit or exceed the incumbent is pruned; other pairs are split, down to single
drinks, which go to a `Sink`. (Gray & Moore, NIPS 13, 2000.)
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from solver.clock import Clock, Work
from solver.measures import Measure
from solver.search.enumeration.bounds import Inequalities, inequalities
from solver.search.enumeration.fillings import Fillings
from solver.search.enumeration.kd_tree import LEAF, KdTree
from solver.search.enumeration.pour_vectors import Ints, Picks, with_zero_row
from solver.search.enumeration.sinks import Sink, TooManyError
from solver.search.problem import Floats, Problem, Wanted
from solver.search.windows import Window, Windows

MOST_NUMBERS = 40_000_000
"""Left-hand sides that are kept of both halves, 8 bytes each: with what is copied while they are
sorted, well under a gigabyte."""
BATCH = 1 << 15
"""Pairs of boxes that are compared in one sweep of array arithmetic."""
DIVE = 1 << 8
"""The same where any drink is wanted: the nearest boxes are opened before others are looked at."""
WIDER = 16
"""The batch of a dive grows by one in so many at each step."""
LEAF_BATCH = BATCH // LEAF
"""Pairs of leaves that are opened in one sweep."""
MOST_IN_ONE = 200_000
"""Drinks that may pass the inequalities before the window of strengths before ice is cut in pieces,
each with its own lines around the melt. Of the nonlinear terms it is the most curved: it is
enclosed to some 2 mL on the window of a usual sour."""
PIECES = 4
"""So many pieces; on each the melt is enclosed sixteen times as closely."""
TOLD_EVERY = 64
"""Steps between two reports of progress: tenths of a second, so that short runs make none."""
SAMPLED_FROM = 1 << 14
"""Fillings of both halves from which on a sample comes first: it costs less than to sort them."""
SAMPLE = 1 << 13
"""Pairs of a sample."""
PLASTIC = 1.32471795724474602596
"""The real root of x^3 = x + 1."""
ROUNDS = 4
"""How often the fillings of one half are pruned by the best of the other, in turn."""


class _TooLooseError(Exception):
    """The inequalities let too many drinks pass."""


class DualTreeSearch:
    """One search of all pairs of fillings; what passes goes to `sink`, whose `below` prunes.

    Raises:
        TooManyError: the left-hand sides of the two halves take too much memory.
    """

    def __init__(
        self, picks: Picks, halves: tuple[Fillings, Fillings], problem: Problem,
        goal: Measure | None, within: Windows, sink: Sink, clock: Clock,
        wanted: Wanted = Wanted.BEST,
    ) -> None:  # fmt: skip
        self._halves = halves
        self._problem = problem
        self._goal = goal
        self._within = within
        self._sink = sink
        self._clock = clock
        self._wanted = wanted
        self._batch = BATCH if wanted is Wanted.BEST else DIVE
        self._piece, self._of_pieces = 0, 1
        self._vectors = with_zero_row(picks.vectors)
        self._rows = self._inequalities(within)
        if sum(map(len, halves)) * self._rows.weights.shape[1] > MOST_NUMBERS:
            raise TooManyError

    def _inequalities(self, within: Windows) -> Inequalities:
        return inequalities(self._problem, within, self._goal, self._wanted)

    def run(self) -> None:
        """Search all pairs.

        Raises:
            TimeUpError: not everything was looked at.
            TooManyError: the sink had no room for more.
        """
        if self._sampled([np.arange(len(half)) for half in self._halves]):
            return
        pruned = self._pruned()
        if self._sampled([numbers for numbers, _ in pruned]):
            return
        greatest = [lhs.max(axis=0, initial=-math.inf) for _, lhs in pruned]
        self._rows, kept = self._rows.without_redundant(np.asarray(sum(greatest)))
        axes = self._rows.coordinates(self._vectors)
        trees: list[KdTree] = []
        for half in self._halves:
            numbers, lhs = pruned.pop(0)  # freed as soon as it is sorted
            coordinates = half.sums(axes, self._clock)[numbers]
            trees.append(KdTree.of(numbers, lhs[:, kept], coordinates, self._clock))
        left, right = trees
        if not len(left.fillings) or not len(right.fillings):
            return
        try:
            self._descend(left, right, MOST_IN_ONE)
        except _TooLooseError:
            for number, piece in enumerate(_pieces(self._within)):
                self._piece, self._of_pieces = number, PIECES
                self._rows = self._inequalities(piece)
                weights = self._rows.lhs(self._vectors)
                left, right = (
                    tree.with_lhs(half.sums(weights, self._clock)[tree.fillings])
                    for tree, half in zip(trees, self._halves, strict=True)
                )
                self._descend(left, right, math.inf)

    def _pruned(self) -> list[tuple[Ints, Floats]]:
        """For each half, the fillings that pass together with the other half's least left-hand
        sides; and their left-hand sides.

        Repeated in turn, as the least of a half may rise when fillings are pruned.
        """
        weights = self._rows.lhs(self._vectors)
        pruned: list[tuple[Ints, Floats]] = [
            (np.arange(len(half)), half.sums(weights, self._clock)) for half in self._halves
        ]
        for turn in range(ROUNDS):
            self._clock.check()
            (numbers, lhs), (_, others) = pruned[turn % 2], pruned[1 - turn % 2]
            best = others.min(axis=0, initial=math.inf)
            pieces = (lhs[at : at + BATCH] for at in range(0, len(lhs), BATCH))
            held = [self._rows.may_improve(piece + best, self._sink.below) for piece in pieces]
            kept = np.flatnonzero(np.concatenate([np.zeros(0, dtype=bool), *held]))
            if len(kept) < len(lhs):
                pruned[turn % 2] = numbers[kept], lhs[kept]
        return pruned

    def _sampled(self, numbers: Sequence[Ints]) -> bool:
        """Whether a few pairs of the given fillings are enough; the sink is shown what passes.

        Raises:
            TooManyError: the sink has no room for as many as that makes likely.
        """
        sizes = [len(each) for each in numbers]
        if self._wanted is Wanted.BEST or sum(sizes) < SAMPLED_FROM or not all(sizes):
            return False
        places = _spread(*sizes)
        picks = np.hstack(
            [
                half.picks(each[at])
                for half, each, at in zip(self._halves, numbers, places, strict=True)
            ]
        )
        totals = np.zeros((SAMPLE, self._vectors.shape[1]))
        for column in picks.T:
            totals += self._vectors[column]
        passed = self._rows.may_improve(self._rows.lhs(totals), self._sink.below)
        self._sink.sample(picks[passed], math.prod(sizes) / SAMPLE)
        return self._sink.below == -math.inf

    def _descend(self, left: KdTree, right: KdTree, most: float) -> None:
        """From the largest boxes to single drinks, least bound first.

        Raises:
            TimeUpError: not everything was looked at.
            _TooLooseError: melt is nonlinear, and the inequalities let more than `most` drinks
                pass.
        """
        nonlinear = self._problem.curve.linear != 0 or self._problem.curve.quadratic != 0
        passed = steps = 0
        origin = np.zeros(1, dtype=np.int64)
        stack: list[tuple[int, Ints, Ints]] = [(0, origin, origin)]
        while stack and self._sink.below > -math.inf:
            self._clock.check()
            steps += 1
            if self._clock.watch is not None and steps % TOLD_EVERY == 0:
                unsettled = sum(len(i) * _share(depth, left, right) for depth, i, _ in stack)
                settled = (self._piece + 1 - unsettled) / self._of_pieces
                self._clock.tell(Work.BOXES, settled, 1)
            if nonlinear and passed > most:
                raise _TooLooseError
            depth, i, j = stack.pop()
            self._batch = min(BATCH, self._batch + self._batch // WIDER)
            up, down = min(depth, left.depth), min(depth, right.depth)
            lhs = left.least[up][i] + right.least[down][j]
            bound = self._rows.goal_bound(lhs)
            keep = np.flatnonzero(self._rows.hold(lhs) & (bound < self._sink.below))
            keep = keep[np.argsort(bound[keep], kind="stable")]
            i, j = i[keep], j[keep]
            if depth >= max(left.depth, right.depth):
                for at in range(0, len(i), LEAF_BATCH):
                    self._clock.check()
                    leaves = slice(at, at + LEAF_BATCH)
                    passed += self._open(left, right, i[leaves], j[leaves])
                    if self._sink.below == -math.inf:
                        return
                continue
            i, j = _children(i, j, split_left=depth < left.depth, split_right=depth < right.depth)
            pieces = [slice(at, at + self._batch) for at in range(0, len(i), self._batch)]
            stack += [(depth + 1, i[piece], j[piece]) for piece in reversed(pieces)]

    def _open(self, left: KdTree, right: KdTree, i: Ints, j: Ints) -> int:
        """Take every pair of fillings of the given leaves that passes; how many did."""

        def lhs(row: int) -> Floats:
            lefts, rights = left.leaves[row, i], right.leaves[row, j]
            return np.asarray(lefts[:, :, np.newaxis] + rights[:, np.newaxis, :])

        shape = (len(i), left.size, right.size)
        near = self._rows.goal_bound_by_row(lhs, shape) < self._sink.below
        pair, one, other = np.nonzero(self._rows.hold_by_row(lhs, shape) & near)
        picks = np.hstack(
            [
                self._halves[0].picks(left.fillings[i[pair] * left.size + one]),
                self._halves[1].picks(right.fillings[j[pair] * right.size + other]),
            ]
        )
        self._sink.take(picks)
        return len(picks)


def _pieces(within: Windows) -> list[Windows]:
    """Windows that differ in the strength before ice and together cover `within`.

    Neighbours share an edge.
    """
    edges = np.linspace(within.strength.low, within.strength.high, PIECES + 1).tolist()
    return [replace(within, strength=Window(*ends)) for ends in itertools.pairwise(edges)]


def _spread(lefts: int, rights: int) -> tuple[Ints, Ints]:
    """`SAMPLE` pairs of numbers below `lefts` and `rights`, evenly spread over all.

    Additive recurrence by the powers of the plastic number (Roberts 2018), of low discrepancy, and
    the same each time.
    """
    steps = np.arange(1, SAMPLE + 1)
    left, right = steps / PLASTIC % 1.0 * lefts, steps / PLASTIC**2 % 1.0 * rights
    return left.astype(np.int64), right.astype(np.int64)


def _share(depth: int, left: KdTree, right: KdTree) -> float:
    """What share of all pairs of fillings a pair of boxes at some depth has."""
    return float(0.5 ** (min(depth, left.depth) + min(depth, right.depth)))


def _children(i: Ints, j: Ints, *, split_left: bool, split_right: bool) -> tuple[Ints, Ints]:
    """The pairs of smaller boxes of each pair."""
    lefts = [2 * i, 2 * i + 1] if split_left else [i]
    rights = [2 * j, 2 * j + 1] if split_right else [j]
    pairs = list(itertools.product(lefts, rights))
    return (
        np.stack([left for left, _ in pairs], axis=1).ravel(),
        np.stack([right for _, right in pairs], axis=1).ravel(),
    )
