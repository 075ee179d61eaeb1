"""What encloses a bending quantity encloses it between the points where it is looked at too."""

from __future__ import annotations

import math

import numpy as np

from solver.search.bend import SAMPLES, Bend
from solver.search.problem import Floats


def test_a_function_is_enclosed_between_the_points_where_it_is_compared_too() -> None:
    """It bends as much as its curvature allows, and is level wherever it is looked at."""
    turns = math.pi * (SAMPLES - 1)

    def waves(ratio: Floats) -> Floats:
        return np.asarray(np.sin(turns * ratio) ** 2)

    line = Bend("waves", waves, 2 * turns**2).enclose(0.0, 1.0)
    ratio = np.linspace(0.0, 1.0, 10_001)
    assert (line.low + line.slope * ratio <= waves(ratio)).all()
    assert (line.high + line.slope * ratio >= waves(ratio)).all()
