"""What encloses a bending quantity encloses it between the points where it is looked at too."""

from __future__ import annotations

import math

import numpy as np
import pytest

from solver.mixture.melt import TECHNIQUES
from solver.search.enclosure import ETHANOL_WATER, SAMPLES, SUGAR, RatioTerm, melt_term
from solver.search.problem import Floats


def test_a_function_is_enclosed_between_the_points_where_it_is_compared_too() -> None:
    """It bends as much as its curvature allows, and is level wherever it is looked at."""
    turns = math.pi * (SAMPLES - 1)

    def waves(ratio: Floats) -> Floats:
        return np.asarray(np.sin(turns * ratio) ** 2)

    line = RatioTerm("waves", waves, 2 * turns**2).enclose(0.0, 1.0)
    ratio = np.linspace(0.0, 1.0, 10_001)
    assert (line.low + line.slope * ratio <= waves(ratio)).all()
    assert (line.high + line.slope * ratio >= waves(ratio)).all()


@pytest.mark.parametrize("steps", [500, 5_000, 20_000])
@pytest.mark.parametrize(
    "term",
    [ETHANOL_WATER, SUGAR, *(melt_term(each.curve) for each in TECHNIQUES.values())],
    ids=lambda term: term.name,
)
def test_nothing_bends_more_than_is_said(term: RatioTerm, steps: int) -> None:
    """Second differences, which tend to the second derivative, from nothing to pure."""
    ratio = np.linspace(0.0, 1.0, steps + 1)
    level = term.function(ratio)
    bent = np.abs(level[2:] - 2 * level[1:-1] + level[:-2]) * steps**2
    rounding = 16 * np.finfo(float).eps * np.abs(level).max() * steps**2
    assert bent.max() <= term.curvature + rounding
    if term in {ETHANOL_WATER, SUGAR}:  # and the bound is not loose without need
        assert bent.max() >= 0.8 * term.curvature
