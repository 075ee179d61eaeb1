"""Numerical tools that the physics needs: polynomials, inverses, roots.

Only sums, products, quotients and comparisons are used, one at a time, so that a result is the
same on every machine to the last bit.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]

CELLS: Final = 1024
"""Cells of the grid of an inverse; a power of two, so that its nodes are exact."""

ROUNDS: Final = 6
"""Corrections within a cell. The functions inverted here are so nearly linear within one that each
correction takes away all but a hundredth of the error: six leave rounding alone."""


def horner(coefficients: tuple[float, ...], x: Floats) -> Floats:
    """c0 + c1·x + c2·x² + ..., of the shape of `x`."""
    if x.ndim == 0:  # one drink: plain numbers are ten times faster here, and equal to the last bit
        level, at = coefficients[-1], float(x)
        for coefficient in coefficients[-2::-1]:
            level = level * at + coefficient
        return np.asarray(level)
    total = np.full(x.shape, coefficients[-1])
    for coefficient in coefficients[-2::-1]:
        total *= x
        total += coefficient
    return total


def ratio(above: Floats, below: Floats) -> Floats:
    """above / below, and 0 where `below` is not positive."""
    if np.ndim(below) == 0 and np.ndim(above) == 0:  # one drink, as in `horner`
        single = float(below)
        return np.asarray(float(above) / single if single > 0 else 0.0)
    return np.divide(above, below, out=np.zeros(np.shape(below)), where=below > 0)


@dataclass(frozen=True, eq=False)
class Inverse:
    """The inverse of a smooth increasing function on 0..1, for whole arrays.

    The cell of the grid that holds the answer brackets it; corrections along the cell's chord,
    kept inside the cell, find it.
    """

    function: Callable[[Floats], Floats]
    nodes: Floats
    levels: Floats

    @classmethod
    def of(cls, function: Callable[[Floats], Floats]) -> Inverse:
        """Tabulate `function`, which must increase on 0..1."""
        nodes = np.arange(CELLS + 1) / CELLS
        return cls(function, nodes, function(nodes))

    def __call__(self, level: npt.ArrayLike) -> Floats:
        """Where the function has `level`; the nearer end of 0..1 where it is nowhere reached."""
        asked = np.asarray(level, dtype=float)
        cell = np.clip(np.searchsorted(self.levels, asked, side="right") - 1, 0, CELLS - 1)
        left, right = self.nodes[cell], self.nodes[cell + 1]
        below, above = self.levels[cell], self.levels[cell + 1]
        step = (right - left) / (above - below)
        x = np.clip(left + (asked - below) * step, left, right)
        for _ in range(ROUNDS):
            x = np.clip(x + (asked - self.function(x)) * step, left, right)
        return x


def root(function: Callable[[float], float], low: float, high: float) -> float:
    """Where an increasing function crosses zero between `low` and `high`.

    The Illinois variant of false position (Dowell and Jarratt, BIT 11, 1971): it never leaves the
    bracket and ends at rounding error. The crossing must lie between the ends.
    """
    at_low, at_high = function(low), function(high)
    side = 0
    middle = low if at_low == 0 else high
    while at_low < 0 < at_high and high - low > 4e-16 * max(abs(low), abs(high)):
        middle = (low * at_high - high * at_low) / (at_high - at_low)
        if not low < middle < high:
            break
        level = function(middle)
        if level == 0:
            break
        if level < 0:
            low, at_low = middle, level
            at_high = at_high / 2 if side < 0 else at_high
            side = -1
        else:
            high, at_high = middle, level
            at_low = at_low / 2 if side > 0 else at_low
            side = 1
    return middle
