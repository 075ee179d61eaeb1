"""Nonlinear terms of the form den · g(num/den), enclosed by two lines on each bin of num/den.

Three things about a drink are not linear in its pours: the water that melts into it, the volume
that ethanol and water lose on mixing, and the room that sugar takes. Each is homogeneous of degree
one, so each is the denominator times a function of a single ratio, and a chord of that function,
moved down and up until it touches, encloses it. On a bin of width w the enclosure is about
|g''| w²/8 wide: halving the bins makes it four times tighter.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from solver.mixture.ethanol import specific_volume_ml_g
from solver.mixture.melt import Curve
from solver.mixture.sucrose import volume_share_ml_g
from solver.search.problem import Floats

SAMPLES = 33
"""Points of a bin at which the function is compared with its chord."""

MOST_BINS = 64


@dataclass(frozen=True)
class Line:
    """On the bin [left, right]: low + slope·t <= g(t) <= high + slope·t."""

    left: float
    right: float
    slope: float
    low: float
    high: float


@dataclass(frozen=True)
class RatioTerm:
    """A function of one ratio, with a bound on its second derivative over the ratios in use."""

    name: str
    function: Callable[[Floats], Floats]
    curvature: float

    def enclose(self, left: float, right: float) -> Line:
        """The chord of [left, right], moved down and up until it encloses the function.

        Between samples the function leaves their chord by at most curvature · spacing² / 8, which
        is added on both sides.
        """
        ratio = np.linspace(left, right, SAMPLES)
        level = self.function(ratio)
        width = right - left
        slope = float((level[-1] - level[0]) / width) if width > 0 else 0.0
        offset = level - slope * ratio
        margin = self.curvature * (width / (SAMPLES - 1)) ** 2 / 8
        return Line(left, right, slope, float(offset.min()) - margin, float(offset.max()) + margin)

    def bins(self, left: float, right: float, band: float) -> tuple[Line, ...]:
        """Enclosures over [left, right], none wider than `band` unless that takes too many."""
        count = 1
        while True:
            edges = np.linspace(left, right, count + 1)
            lines = tuple(self.enclose(float(a), float(b)) for a, b in pairwise(edges))
            if count >= MOST_BINS or max(line.high - line.low for line in lines) <= band:
                return lines
            count *= 2


ETHANOL_WATER = RatioTerm("ethanol and water", specific_volume_ml_g, curvature=2.0)
"""Of the mass fraction of ethanol in ethanol and water; per gram of both.

Its second derivative is 1.73 at most, in pure ethanol: second differences of the table's formula on
20,000 steps, which a test takes again. The rest is to spare.
"""
SUGAR = RatioTerm("sugar", volume_share_ml_g, curvature=0.2)
"""Of the mass fraction of sugar in sugar and water; per gram of both. Likewise, 0.192 at most."""


def melt_term(curve: Curve) -> RatioTerm:
    """Of the label strength before ice; per millilitre of label volume."""
    return RatioTerm("melt", curve.fraction, curvature=2 * abs(curve.quadratic))
