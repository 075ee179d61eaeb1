"""The most and the least that mixtures come to, proven over their whole range.

Each claim is a polynomial of the share that is nowhere below 0. On a piece of the range it is no
lower than its lowest Bernstein coefficient there, so that nothing between two points is missed.
"""

from __future__ import annotations

from math import comb

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.polynomial import Polynomial

from solver.mixture import ethanol, sucrose
from tests.each import each

PIECES = 64
ROUNDING = 1e-6
"""Of polynomials that are about a thousand, which some claims make 0 at an end of the range."""

SHARE = Polynomial([0.0, 1.0])
WET = Polynomial(ethanol._A)
"""Density in kg/m³ of ethanol and water, of the share of ethanol by mass: OIML R 22."""
GAIN = Polynomial(sucrose._B[0])
WATER = sucrose.water_kg_m3()
SWEET = WATER + SHARE * GAIN
"""Density in kg/m³ of sugar and water, of the share of sugar by mass: ICUMSA."""
TOUCHING = 1e-6
"""Share by which a line is taken lower that touches what it must be under."""
TANGENT = 0.2328
"""Share of ethanol up to which its volume is replaced by a line from water, beyond which it bends
up: together they are the largest convex function below it, or nearly."""


def least(claim: Polynomial, start: float = 0.0, end: float = 1.0) -> float:
    """No value of a polynomial from `start` to `end` is below this."""
    edges = np.linspace(start, end, PIECES + 1)
    pieces = zip(edges[:-1].tolist(), edges[1:].tolist(), strict=True)
    return min(_lowest_coefficient(claim, left, right) for left, right in pieces)


def _lowest_coefficient(claim: Polynomial, left: float, right: float) -> float:
    powers: list[float] = claim(Polynomial([left, right - left])).coef.tolist()
    degree = len(powers) - 1
    return min(
        sum(comb(i, j) / comb(degree, j) * powers[j] for j in range(i + 1))
        for i in range(degree + 1)
    )


def bends_up(density: Polynomial) -> Polynomial:
    """What has the sign of the second derivative of one over a density."""
    return 2.0 * density.deriv() ** 2 - density * density.deriv(2)


def holds(claim: Polynomial, start: float = 0.0, end: float = 1.0) -> bool:
    return least(claim, start, end) >= -ROUNDING


def test_a_polynomial_is_nowhere_below_what_is_said_and_not_far_above() -> None:
    dip = (SHARE - 0.3712) ** 2 - 1e-3
    assert -1.1e-3 <= least(dip) <= -1e-3
    assert not holds(dip)


@each([(WET, ethanol.density_kg_m3), (SWEET, sucrose.density_kg_m3)])
def test_the_polynomials_are_those_of_the_physics(density: Polynomial, known: object) -> None:
    share = np.linspace(0.0, 1.0, 101)
    assert density(share) == pytest.approx(known(share), rel=1e-12)  # type: ignore[operator]


def test_no_gram_takes_less_room() -> None:
    assert holds(1000 - ethanol.LEAST_WET_ML_G * WET)
    assert holds(1000 - sucrose.LEAST_SWEET_ML_G * SWEET)
    assert not holds(1000 - 1.0005 * ethanol.LEAST_WET_ML_G * WET)
    assert not holds(1000 - 1.001 * sucrose.LEAST_SWEET_ML_G * SWEET)


def test_ethanol_and_water_lose_no_more_and_gain_nothing_by_themselves() -> None:
    apart = (1 - SHARE) * (1000 / WET(0.0)) + SHARE * (1000 / WET(1.0))
    assert holds(1000 - (1 - ethanol.MOST_CONTRACTION) * apart * WET)
    assert holds(apart * WET - 1000)
    assert not holds(1000 - (1 - 0.998 * ethanol.MOST_CONTRACTION) * apart * WET)


def test_below_the_volume_of_ethanol_and_water_lies_a_convex_one_that_is_hardly_less() -> None:
    """What is convex and of degree one is no more for a mix than for its parts together."""
    water_ml, tangent_ml = 1000 / WET(0.0), 1000 / WET(TANGENT)
    slope = (tangent_ml - water_ml) / TANGENT
    line = water_ml + slope * SHARE
    assert slope <= -1000 * WET.deriv()(TANGENT) / WET(TANGENT) ** 2
    assert holds(bends_up(WET), start=TANGENT)
    line *= 1 - TOUCHING
    assert holds(1000 - line * WET, end=TANGENT)
    assert holds((1 + ethanol.MOST_SWELLING) * line * WET - 1000, end=TANGENT)
    assert not holds((1 + 0.9 * ethanol.MOST_SWELLING) * line * WET - 1000, end=TANGENT)


def test_sugar_takes_no_more_and_no_less_room_and_less_the_more_water_there_is() -> None:
    room, unit = 1000 * (SWEET - GAIN), WATER * SWEET
    assert holds((sucrose.MOST_ROOM_ML_G * unit - room) / 1000)
    assert holds((room - sucrose.LEAST_ROOM_ML_G * unit) / 1000)
    assert not holds((0.998 * sucrose.MOST_ROOM_ML_G * unit - room) / 1000)
    assert not holds((room - 1.001 * sucrose.LEAST_ROOM_ML_G * unit) / 1000)
    assert holds(bends_up(SWEET))


@given(st.tuples(*[st.floats(0, 1)] * 2), st.floats(0, 1))
def test_two_mixtures_of_ethanol_and_water_lose_and_gain_no_more(
    shares: tuple[float, float], of_first: float
) -> None:
    parts = np.array([of_first, 1 - of_first])
    apart = float(parts @ ethanol.specific_volume_ml_g(shares))
    mixed = float(ethanol.specific_volume_ml_g(parts @ np.array(shares)))
    assert 1 - ethanol.MOST_CONTRACTION <= mixed / apart <= 1 + ethanol.MOST_SWELLING
