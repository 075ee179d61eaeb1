"""A k-d tree whose boxes know the least left-hand sides of what they hold.

Split at the median of the widest dimension (Bentley, CACM 18, 1975); complete, and so without
pointers.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cached_property, reduce

import numpy as np

from solver.clock import Clock
from solver.search.enumeration.pour_vectors import Ints
from solver.search.problem import Floats

LEAF = 8
"""Ways in a box that is not split further, or fewer."""


@dataclass(frozen=True, eq=False)
class Tree:
    """Ways in boxes: level k has 2^k of them, each holding two of level k + 1.

    The boxes of the last level hold `size` consecutive ways each. `ways` are their numbers, shape
    (n,), and `sides` their left-hand sides, shape (n, rows); `least` has an array for each level,
    shape (boxes, rows). Where the ways don't fill the last level they are padded with ways of
    infinite left-hand sides, which nothing chooses.
    """

    ways: Ints
    sides: Floats
    least: tuple[Floats, ...]
    size: int

    @property
    def depth(self) -> int:
        """The last level."""
        return len(self.least) - 1

    @cached_property
    def leaves(self) -> Floats:
        """Left-hand sides by leaf, shape (rows, boxes of the last level, size)."""
        by_leaf = self.sides.reshape(-1, self.size, self.sides.shape[1])
        return np.ascontiguousarray(np.moveaxis(by_leaf, 2, 0))

    @classmethod
    def of(cls, ways: Ints, sides: Floats, places: Floats, clock: Clock) -> Tree:
        """Sort ways into boxes by their places, shape (n, dimensions): halved where they spread.

        Raises:
            TimeUpError: there was no time for it.
        """
        count = len(ways)
        depth = max(0, math.ceil(math.log2(count / LEAF))) if count else 0
        size = math.ceil(count / 2**depth)
        order = np.arange(size * 2**depth, dtype=np.int32).reshape(1, -1) % max(count, 1)
        padding = np.arange(size * 2**depth).reshape(1, -1) >= count
        # Reductions are fast along the last axis, and in numpy slow along short ones before it.
        axes = np.ascontiguousarray(places.T)
        for _ in range(depth):
            clock.check()
            spread = np.stack([axis[order].max(axis=1) - axis[order].min(axis=1) for axis in axes])
            along = axes[spread.argmax(axis=0)[:, np.newaxis], order]
            half = along.shape[1] // 2
            sorting = np.argpartition(along, half, axis=1)
            order = np.take_along_axis(order, sorting, axis=1).reshape(-1, half)
            padding = np.take_along_axis(padding, sorting, axis=1).reshape(-1, half)
        rows = order.ravel()
        ordered = sides[rows]
        ordered[padding.ravel()] = math.inf
        return cls(ways[rows], ordered, _least(ordered, depth, size), size)

    def seen_by(self, sides: Floats) -> Tree:
        """The same boxes with other left-hand sides of their ways; padding stays infinite."""
        padding = np.isinf(self.sides[:, :1])
        sides = np.where(padding, math.inf, sides)
        return replace(self, sides=sides, least=_least(sides, self.depth, self.size))


def _least(sides: Floats, depth: int, size: int) -> tuple[Floats, ...]:
    """The least left-hand side of each row in each box, level by level."""
    nothing = np.full((2**depth, sides.shape[1]), math.inf)
    levels = [reduce(np.minimum, (sides[way::size] for way in range(size)), nothing)]
    for _ in range(depth):
        levels.append(np.minimum(levels[-1][0::2], levels[-1][1::2]))
    return tuple(reversed(levels))
