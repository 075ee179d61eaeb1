"""Meet in the middle: every drink by dual-tree branch and bound on two halves.

A drink is the sum of two halves, each a way to fill some of the parts. The ways of each half are
sorted into a tree of boxes. Every limit, and the distance from every aim, compares a sum of two
numbers, one from each half, with a bound; a box keeps the least of them. A pair of boxes whose
least sums break a limit, or lie too far from the aims, holds no drink worth looking at; other pairs
are split, down to single drinks, which are evaluated exactly. (Two halves: Horowitz & Sahni, J. ACM
21, 1974; pairs of boxes: dual-tree algorithms, Gray & Moore, NIPS 13, 2000.)

This is complete: it ends with the best drink there is, or with the proof that there is none.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from solver.clock import Clock
from solver.measures import Measure
from solver.search.enumeration.box_tree import LEAF, Tree
from solver.search.enumeration.fillings import Ways, allowed_picks, count_of_ways, ways_of_part
from solver.search.enumeration.inequalities import LOOSER, SLACK, Inequalities, inequalities
from solver.search.enumeration.pour_vectors import Ints, Picks, goal_of, measured
from solver.search.exact import evaluate
from solver.search.intervals import Window, Windows, least_goal, windows
from solver.search.problem import Drink, Floats, Problem

MOST_WAYS = 1_000_000
"""Ways of a half that are looked at: a problem with more is left to the solvers of rows."""
MOST_NUMBERS = 40_000_000
"""Sides that are kept of the ways of both halves, 8 bytes each: with what is copied while they are
sorted, well under a gigabyte."""
BATCH = 1 << 15
"""Pairs of boxes that are compared in one sweep of array arithmetic."""
DIVE = 1 << 8
"""The same where any drink will do: the nearest boxes are opened before others are looked at."""
EVALUATED = 1 << 21
"""Amounts of candidates that are evaluated exactly in one sweep."""
MOST_IN_ONE = 200_000
"""Drinks that the inequalities may let pass, of which few are any good, before finer ones are made:
the window of strengths before ice is cut in pieces, each with its own lines around the melt. Of the
nonlinear terms it is the most curved: it is enclosed to some 2 mL on the window of a usual sour."""
PIECES = 4
"""So many pieces; on each the melt is enclosed sixteen times as closely."""
WIDER = 16
"""A dive that finds nothing at once takes a share of one in so many more at each step."""
ROUNDS = 4
"""How often the ways of a half are compared with the best of the other, in turn."""
LEAF_BATCH = BATCH // LEAF
"""Pairs of leaves that are opened in one sweep."""
FEW = 4096
"""Drinks that are measured one and all: bounds would take longer."""
MOST_SPLIT = 12
"""Parts of which every split in two is tried; of more, one that is found by size."""


class TooManyError(Exception):
    """There are too many ways to look at them by halves."""


@dataclass(frozen=True, eq=False)
class Halves:
    """All drinks that a problem's candidates, parts and choices make, whatever limits and aims say.

    Where pours must be equal, there is a piece for each amount that they may have. `of` gives None
    where there are too many.
    """

    picks: Picks
    pieces: tuple[tuple[Ways, Ways], ...]

    @classmethod
    def of(cls, problem: Problem, picks: Picks, clock: Clock) -> Halves | None:
        """The two halves that are most alike in size. They are counted before they are made.

        Raises:
            TimeUpError: there was no time for it.
        """
        pieces: list[tuple[Ways, Ways]] = []
        for allowed in allowed_picks(problem, picks):
            counts = [
                count_of_ways(picks, allowed, index, rule)
                for index, rule in enumerate(problem.parts)
            ]
            if any(count.filled == 0 for count in counts):
                continue
            chosen = _split([count.filled for count in counts])
            sizes = [math.prod(counts[i].filled for i in half) for half in chosen]
            if max(*sizes, *(count.most for count in counts)) > MOST_WAYS:
                return None
            made = [
                ways_of_part(picks, allowed, index, rule, clock)
                for index, rule in enumerate(problem.parts)
            ]
            left, right = (Ways(tuple(made[index] for index in half)) for half in chosen)
            pieces.append((left, right))
        return cls(picks, tuple(pieces))

    @property
    def empty(self) -> bool:
        """Whether there is no drink at all."""
        return not any(len(left) and len(right) for left, right in self.pieces)

    def look(
        self, problem: Problem, goal: Measure | None, below: float, tolerance: float, clock: Clock,
        offer: Callable[[Drink], None],
    ) -> None:  # fmt: skip
        """Offer drinks of `problem`, each with a lesser goal than the last, all under `below`.

        The last one offered is the best, to within `tolerance`, once this returns; where none was
        offered there is none. A `tolerance` of infinity asks for any drink under `below`. `problem`
        may differ in limits, aims and goal from the one that the halves were made of.

        Raises:
            TimeUpError: not everything was looked at.
            TooManyError: nothing was, as what is asked takes too much memory.
        """
        clock.check()
        if self.empty or below <= 0:  # no goal is less than nothing
            return
        if sum(len(left) * len(right) for left, right in self.pieces) <= FEW:
            self._look_at_all(problem, goal, below, tolerance, offer)
            return
        within = windows(problem, below if goal is None and below < math.inf else None)
        if within.empty or below <= least_goal(problem, within, goal):
            return
        for piece in self.pieces:
            sweep = _Sweep(self.picks, piece, problem, goal, within, below, tolerance, clock, offer)
            sweep.run()
            below = sweep.below
            if below == -math.inf:
                return

    def _look_at_all(
        self, problem: Problem, goal: Measure | None, below: float, tolerance: float,
        offer: Callable[[Drink], None],
    ) -> None:  # fmt: skip
        """As `look`, of so few drinks that each is measured."""
        vectors = _with_nothing(self.picks.vectors)
        for left, right in self.pieces:
            pairs = np.arange(len(left) * len(right))
            one, other = np.divmod(pairs, max(1, len(right)))
            picks = np.hstack([left.picks(one), right.picks(other)])
            values, within = _measured(problem, goal, picks, vectors)
            hopeful = np.flatnonzero((values < below) & within)
            hopeful = hopeful[np.argsort(values[hopeful], kind="stable")]
            for at in range(0, len(hopeful), DIVE):
                rows = picks[hopeful[at : at + DIVE]]
                if values[hopeful[at]] >= below:
                    break
                found = evaluate(problem, self.picks.amounts_of(rows, problem))
                exact = np.where(found.feasible, found.of(goal), math.inf)
                best = int(exact.argmin())
                if exact[best] < below:
                    below = float(exact[best]) - tolerance
                    offer(self.picks.drink(rows[best]))

    def every(self, problem: Problem, most: int, clock: Clock) -> Ints | None:
        """Every drink within the limits of `problem`: picks, shape (drinks, most poured), -1 for
        none; None where there may be more than `most`.

        Raises:
            TimeUpError: not everything was looked at.
        """
        clock.check()
        aimless = replace(problem, aims=())
        found: list[Ints] = []
        within = windows(aimless)
        for piece in self.pieces if not within.empty else ():
            try:
                gather = _Gather(self.picks, piece, aimless, within, most, clock)
                gather.run()
            except TooManyError:
                return None
            found += gather.found
            most = gather.most
        width = max((rows.shape[1] for rows in found), default=0)
        padded = [
            np.pad(rows, ((0, 0), (0, width - rows.shape[1])), constant_values=-1) for rows in found
        ]
        return np.vstack([np.zeros((0, width), dtype=np.int64), *padded])


class _TooFarError(Exception):
    """The inequalities let too many drinks pass."""


class _Sweep:
    """One run over all pairs of boxes."""

    def __init__(
        self, picks: Picks, halves: tuple[Ways, Ways], problem: Problem, goal: Measure | None,
        within: Windows, below: float, tolerance: float, clock: Clock,
        offer: Callable[[Drink], None],
    ) -> None:  # fmt: skip
        self.left, self.right = halves
        self.problem = problem
        self.picks = picks
        self.goal = goal
        self.within = within
        self.below = below
        self.tolerance = tolerance
        self.clock = clock
        self.offer = offer
        self.batch = BATCH if tolerance < math.inf else DIVE
        self.least = least_goal(problem, within, goal)
        self.vectors = _with_nothing(self.picks.vectors)
        self.asked = self._inequalities(within)
        ways = len(self.left) + len(self.right)
        if ways * self.asked.weights.shape[1] > MOST_NUMBERS:
            raise TooManyError

    def _inequalities(self, within: Windows) -> Inequalities:
        any_will_do = self.tolerance == math.inf
        return inequalities(self.problem, within, self.goal, any_will_do=any_will_do)

    def run(self) -> None:
        """Look at all pairs."""
        kept = self._hopeful()
        self.asked, cutting = self.asked.cutting(_greatest(*(sides for _, sides in kept)))
        axes = self.asked.places(self.vectors)
        trees: list[Tree] = []
        for half in (self.left, self.right):
            ways, sides = kept.pop(0)
            places = half.sums(axes, self.clock)[ways]
            trees.append(Tree.of(ways, sides[:, cutting], places, self.clock))
        left, right = trees
        if not len(left.ways) or not len(right.ways):
            return
        try:
            self._descend(left, right, MOST_IN_ONE)
        except _TooFarError:
            for piece in _pieces(self.within):
                self.asked = self._inequalities(piece)
                functions = self.asked.sides(self.vectors)
                one = self.left.sums(functions, self.clock)[left.ways]
                other = self.right.sums(functions, self.clock)[right.ways]
                self._descend(left.seen_by(one), right.seen_by(other), math.inf)

    def _hopeful(self) -> list[tuple[Ints, Floats]]:
        """The ways of each half that may do with the best of the other, and their sides.

        What leaves one half makes the best of it worse for the other, which then leaves more.
        """
        functions = self.asked.sides(self.vectors)
        kept: list[tuple[Ints, Floats]] = [
            (np.arange(len(half)), half.sums(functions, self.clock))
            for half in (self.left, self.right)
        ]
        for turn in range(ROUNDS):
            self.clock.check()
            (ways, sides), (_, others) = kept[turn % 2], kept[1 - turn % 2]
            best = others.min(axis=0, initial=math.inf)
            pieces = (sides[at : at + BATCH] for at in range(0, len(sides), BATCH))
            held = [self.asked.hopeful(piece + best, self.below) for piece in pieces]
            hopeful = np.flatnonzero(np.concatenate([np.zeros(0, dtype=bool), *held]))
            if len(hopeful) < len(sides):
                kept[turn % 2] = ways[hopeful], sides[hopeful]
        return kept

    def _descend(self, left: Tree, right: Tree, most: float) -> None:
        """From the largest boxes to single drinks, nearest first.

        Raises:
            TimeUpError: not everything was looked at.
            _TooFarError: melt is nonlinear, and the inequalities let more than `most` drinks pass.
        """
        nonlinear = self.problem.curve.linear != 0 or self.problem.curve.quadratic != 0
        passed = 0
        origin = np.zeros(1, dtype=np.int64)
        stack: list[tuple[int, Ints, Ints]] = [(0, origin, origin)]
        while stack and self.below > -math.inf:
            self.clock.check()
            if nonlinear and passed > most:
                raise _TooFarError
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
                    self.clock.check()
                    leaves = slice(at, at + LEAF_BATCH)
                    passed += self._open(left, right, i[leaves], j[leaves])
                    if self.below == -math.inf:
                        return
                continue
            i, j = _children(i, j, split_left=depth < left.depth, split_right=depth < right.depth)
            pieces = [slice(at, at + self.batch) for at in range(0, len(i), self.batch)]
            stack += [(depth + 1, i[piece], j[piece]) for piece in reversed(pieces)]

    def _open(self, left: Tree, right: Tree, i: Ints, j: Ints) -> int:
        """Look at every pair of ways of the given leaves; how many the inequalities let pass."""

        def side(column: int) -> Floats:
            lefts, rights = left.leaves[column, i], right.leaves[column, j]
            return np.asarray(lefts[:, :, np.newaxis] + rights[:, np.newaxis, :])

        shape = (len(i), left.size, right.size)
        near = self.asked.distance_of(side, shape) < self.below
        pair, one, other = np.nonzero(self.asked.hold_of(side, shape) & near)
        picks = np.hstack(
            [
                self.left.picks(left.ways[i[pair] * left.size + one]),
                self.right.picks(right.ways[j[pair] * right.size + other]),
            ]
        )
        self._take(picks)
        return len(picks)

    def _take(self, picks: Ints) -> None:
        """Look at drinks that the inequalities let pass, and offer the best of them."""
        values, within = _measured(self.problem, self.goal, picks, self.vectors)
        better = np.flatnonzero((values < self.below) & within)
        better = better[np.argsort(values[better], kind="stable")]
        batch = max(1, EVALUATED // len(self.problem.candidates))
        for at in range(0, len(better), batch):
            if values[better[at]] >= self.below:
                break
            self.clock.check()
            self._evaluate(picks[better[at : at + batch]])

    def _evaluate(self, picks: Ints) -> None:
        """Evaluate drinks exactly, and offer the best if it is better than asked."""
        found = evaluate(self.problem, self.picks.amounts_of(picks, self.problem))
        values = np.where(found.feasible, found.of(self.goal), math.inf)
        best = int(values.argmin())
        if values[best] < self.below:
            self.below = float(values[best]) - self.tolerance
            if self.below <= self.least:  # nothing is better, or any drink will do
                self.below = -math.inf
            self.offer(self.picks.drink(picks[best]))


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


class _Gather(_Sweep):
    """A run that keeps every drink."""

    def __init__(
        self, picks: Picks, halves: tuple[Ways, Ways], problem: Problem, within: Windows,
        most: int, clock: Clock,
    ) -> None:  # fmt: skip
        super().__init__(
            picks, halves, problem, None, within, math.inf, math.inf, clock, lambda _: None
        )
        self.most = most
        self.found: list[Ints] = []

    def _take(self, picks: Ints) -> None:
        """Keep the drinks that are within the limits."""
        _, within = _measured(self.problem, None, picks, self.vectors)
        hopeful = picks[within]
        batch = max(1, EVALUATED // len(self.problem.candidates))
        for at in range(0, len(hopeful), batch):
            self.clock.check()
            rows = hopeful[at : at + batch]
            kept = evaluate(self.problem, self.picks.amounts_of(rows, self.problem)).feasible
            self.found.append(rows[kept])
            self.most -= int(kept.sum())
            if self.most < 0:
                raise TooManyError


def _measured(
    problem: Problem, goal: Measure | None, picks: Ints, vectors: Floats
) -> tuple[Floats, npt.NDArray[np.bool_]]:
    """The goal of drinks, right but for rounding, and whether they may keep the limits."""
    totals = np.zeros((len(picks), vectors.shape[1]))
    for column in picks.T:
        totals += vectors[column]
    found = measured(problem, totals)
    return goal_of(problem, goal, found), _nearly_within(problem, found)


def _with_nothing(vectors: Floats) -> Floats:
    """A row of zeros below, which is where -1, no pick, points to."""
    return np.vstack([vectors, np.zeros(vectors.shape[1])])


def _children(i: Ints, j: Ints, *, split_left: bool, split_right: bool) -> tuple[Ints, Ints]:
    """The pairs of smaller boxes of each pair."""
    lefts = [2 * i, 2 * i + 1] if split_left else [i]
    rights = [2 * j, 2 * j + 1] if split_right else [j]
    pairs = list(itertools.product(lefts, rights))
    return (
        np.stack([left for left, _ in pairs], axis=1).ravel(),
        np.stack([right for _, right in pairs], axis=1).ravel(),
    )


def _split(counts: Sequence[int]) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Parts in two halves, so that together they have as few ways as possible.

    Of more than `MOST_SPLIT` parts nearly so: the larger come first, each to the smaller half.
    """
    several = sorted((i for i, count in enumerate(counts) if count > 1), key=lambda i: -counts[i])
    alone = tuple(i for i, count in enumerate(counts) if count == 1)

    def ways(half: tuple[int, ...]) -> int:
        return math.prod(counts[index] for index in half)

    if len(several) > MOST_SPLIT:
        halves: list[tuple[int, ...]] = [alone, ()]
        for index in several:
            halves.sort(key=ways)
            halves[0] = (*halves[0], index)
        return halves[0], halves[1]
    subsets = (s for n in range(len(several)) for s in itertools.combinations(several, n))
    pairs = ((s, tuple(i for i in several if i not in s)) for s in subsets)
    first, second = min(pairs, key=lambda pair: sum(map(ways, pair)), default=((), ()))
    return (*alone, *first), second
