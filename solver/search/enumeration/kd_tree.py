"""A k-d tree whose boxes know the least left-hand sides of what they hold.

Split at the median of the widest dimension (Bentley, CACM 18, 1975); complete, and so without
pointers.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property, reduce

import numpy as np

from solver.clock import Clock
from solver.search.enumeration.pour_vectors import Ints
from solver.search.problem import Floats

LEAF = 8
"""Fillings in a box that is not split further, at most."""


@dataclass(frozen=True, eq=False)
class KdTree:
    """Fillings in boxes: level k has 2^k of them, each holding two of level k + 1.

    The boxes of the last level hold `size` consecutive fillings each. `fillings` are their numbers,
    shape (n,), and `lhs` their left-hand sides, shape (n, rows); `least` has an array for each
    level, shape (boxes, rows). Where there are too few for the last level it is padded with
    infinite left-hand sides, which no comparison lets pass.
    """

    fillings: Ints
    lhs: Floats
    least: tuple[Floats, ...]
    size: int

    @property
    def depth(self) -> int:
        """The last level."""
        return len(self.least) - 1

    @cached_property
    def leaves(self) -> Floats:
        """Left-hand sides by leaf, shape (rows, boxes of the last level, size)."""
        by_leaf = self.lhs.reshape(-1, self.size, self.lhs.shape[1])
        return np.ascontiguousarray(np.moveaxis(by_leaf, 2, 0))

    @classmethod
    def of(cls, fillings: Ints, lhs: Floats, coordinates: Floats, clock: Clock) -> KdTree:
        """Split fillings at the median of the widest dimension of `coordinates`, shape (n,
        dimensions), level by level.

        Raises:
            TimeUpError: there was no time for it.
        """
        count = len(fillings)
        depth = max(0, math.ceil(math.log2(count / LEAF))) if count else 0
        size = math.ceil(count / 2**depth)
        order = np.arange(size * 2**depth, dtype=np.int32).reshape(1, -1) % max(count, 1)
        padding = np.arange(size * 2**depth).reshape(1, -1) >= count
        # One array for each axis, in the order of the boxes: what is read lies together then.
        axes = [np.ascontiguousarray(axis[order]) for axis in coordinates.T]
        for _ in range(depth):
            clock.check()
            along = _widest(axes)
            boxes, held = along.shape
            sorting = np.argpartition(along, held // 2, axis=1)
            sorting += np.arange(boxes)[:, np.newaxis] * held
            sorting = sorting.reshape(-1, held // 2)
            order, padding, *axes = (each.ravel()[sorting] for each in (order, padding, *axes))
        rows = order.ravel()
        ordered = lhs[rows]
        ordered[padding.ravel()] = math.inf
        return cls(fillings[rows], ordered, _least(ordered, depth, size), size)

    def with_lhs(self, lhs: Floats) -> KdTree:
        """The same boxes with other left-hand sides, shape (n, rows); padding stays infinite."""
        padding = np.isinf(self.lhs[:, :1])
        lhs = np.where(padding, math.inf, lhs)
        return replace(self, lhs=lhs, least=_least(lhs, self.depth, self.size))


def _widest(axes: Sequence[Floats]) -> Floats:
    """Of every box the coordinates along its widest axis; all have the shape (boxes, fillings)."""
    spread = np.stack([axis.max(axis=1) - axis.min(axis=1) for axis in axes])
    widest = spread.argmax(axis=0)
    along = axes[0].copy()
    for number, axis in enumerate(axes[1:], start=1):
        boxes = np.flatnonzero(widest == number)
        along[boxes] = axis[boxes]
    return along


def _least(lhs: Floats, depth: int, size: int) -> tuple[Floats, ...]:
    """The least left-hand side of each row in each box, level by level."""
    nothing = np.full((2**depth, lhs.shape[1]), math.inf)
    levels = [reduce(np.minimum, (lhs[at::size] for at in range(size)), nothing)]
    for _ in range(depth):
        levels.append(np.minimum(levels[-1][0::2], levels[-1][1::2]))
    return tuple(reversed(levels))
