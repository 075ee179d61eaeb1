"""The Pareto front of two goals, less of each being better, by the epsilon-constraint method.

A point is efficient if no other has less of one goal and no more of the other. Each is found by
asking for the least of the second goal among what has less of the first than a bound (Haimes,
Lasdon & Wismer, IEEE Trans. Syst. Man Cybern. 1, 1971, 296-297). The bounds are put where least is
known, so that a search which is cut short has points all along the curve.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from typing import Generic, Protocol, TypeVar

from solver.clock import TimeUpError

Found = TypeVar("Found")

SAME_VALUE = 1e-6
"""Values that differ by less, of 1 or of themselves where they are larger, are the same."""


def under(value: float) -> float:
    """The greatest number that counts as less than `value`; an infinite one is given back."""
    return value - SAME_VALUE * max(1.0, abs(value)) if math.isfinite(value) else value


def over(value: float) -> float:
    """The greatest number that counts as the same as `value`; an infinite one is given back."""
    return value + SAME_VALUE * max(1.0, abs(value)) if math.isfinite(value) else value


@dataclass(frozen=True)
class FrontPoint(Generic[Found]):
    """Both goals of something found."""

    first: float
    second: float
    found: Found


@dataclass(frozen=True)
class Gap:
    """Where further efficient points may lie: from `low` to `high` in both goals, (first, second).

    Its ends may be infinite.
    """

    low: tuple[float, float]
    high: tuple[float, float]


@dataclass(frozen=True)
class Frontier(Generic[Found]):
    """Efficient points, by their first goal; all there are if `complete`, else but for the gaps.

    `undecided` says that there was no time for more. Without points and not undecided, there is
    nothing to be found at all.
    """

    points: tuple[FrontPoint[Found], ...]
    gaps: tuple[Gap, ...] = ()
    undecided: bool = False

    @property
    def complete(self) -> bool:
        """Whether these are all efficient points."""
        return not self.gaps and not self.undecided


class FrontOracle(Protocol[Found]):
    """What is asked for points. Both may raise TimeUpError."""

    def least_first(self) -> FrontPoint[Found] | None:
        """The least of the first goal, and of those with it the least of the second."""
        ...

    def least(self, first_below: float, second_below: float) -> FrontPoint[Found] | None:
        """The least of the second goal, and of those with it the least of the first.

        Only what has less of both than the bounds counts, None where there is no such thing.
        """
        ...


@dataclass(frozen=True)
class _Stretch(Generic[Found]):
    """Two neighbours on the curve; what lies between has a first goal from `low` to `high`."""

    left: FrontPoint[Found]
    right: FrontPoint[Found]
    low: float
    high: float
    halve: bool = True
    """Whether to look in the middle next, else at the upper end."""

    @property
    def empty(self) -> bool:
        """Whether nothing can lie in it."""
        return under(self.high) < over(self.low) or under(self.left.second) < self.right.second

    @property
    def unknown(self) -> float:
        """The area in which points may lie."""
        return (self.high - self.low) * (self.left.second - self.right.second)

    @property
    def gap(self) -> Gap:
        """The stretch as a part of the result."""
        return Gap((self.low, self.right.second), (self.high, self.left.second))


@dataclass
class _Tracing(Generic[Found]):
    """The curve as far as it is known."""

    oracle: FrontOracle[Found]
    points: list[FrontPoint[Found]] = field(default_factory=list)
    stretches: list[_Stretch[Found]] = field(default_factory=list)

    def run(self, most: int, told: Callable[[int], None]) -> None:
        """Find points where least is known, until there are `most`; may raise TimeUpError."""
        while self.stretches and len(self.points) < most:
            told(len(self.points))
            stretch = max(self.stretches, key=lambda each: each.unknown)
            parts = [part for part in self._searched(stretch) if not part.empty]
            self.stretches.remove(stretch)
            self.stretches += parts

    def _searched(self, stretch: _Stretch[Found]) -> Iterator[_Stretch[Found]]:
        """Look for a point in a stretch; what is left to be searched of it."""
        left, right, low, high = stretch.left, stretch.right, stretch.low, stretch.high
        bound = (low + high) / 2 if stretch.halve else high
        found = self.oracle.least(bound, left.second)
        if found is None:
            if stretch.halve:
                yield replace(stretch, low=under(bound), halve=False)
            return
        self.points.append(found)
        yield _Stretch(left, found, low, found.first)
        if stretch.halve:
            yield _Stretch(found, right, under(bound), high, halve=False)


def _untold(points: int) -> None:
    """Nobody asks how many there are."""


def frontier(
    oracle: FrontOracle[Found], most: int, told: Callable[[int], None] = _untold
) -> Frontier[Found]:
    """The efficient points that an oracle knows of: all of them, or `most`, at least two.

    `told` hears how many are found.
    """
    try:
        right = oracle.least(math.inf, math.inf)
    except TimeUpError:
        return Frontier((), undecided=True)
    if right is None:
        return Frontier(())
    try:
        left = oracle.least_first()
    except TimeUpError:
        beyond = Gap((-math.inf, right.second), (right.first, math.inf))
        return Frontier((right,), (beyond,), undecided=True)
    if left is None or under(right.first) < left.first or under(left.second) < right.second:
        return Frontier((right,))
    tracing = _Tracing(oracle, [left, right])
    whole = _Stretch(left, right, left.first, right.first)
    tracing.stretches += [] if whole.empty else [whole]
    undecided = False
    try:
        tracing.run(most, told)
    except TimeUpError:
        undecided = True
    gaps = sorted((stretch.gap for stretch in tracing.stretches), key=lambda gap: gap.low)
    return Frontier(_efficient(tracing.points), tuple(gaps), undecided)


def _efficient(points: list[FrontPoint[Found]]) -> tuple[FrontPoint[Found], ...]:
    """The points that no other dominates; an inexact oracle may give dominated ones too."""
    kept: list[FrontPoint[Found]] = []
    for point in sorted(points, key=lambda each: (each.first, each.second)):
        if not kept or point.second < kept[-1].second:
            kept.append(point)
    return tuple(kept)
