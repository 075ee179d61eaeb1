"""Techniques: each states its melt, its spread and where both come from."""

from __future__ import annotations

import math

import pytest

from solver.mixture import TECHNIQUES, Curve

BASES = {"published", "definition", "computed", "practice", "memory", "estimate"}


@pytest.mark.parametrize("name", TECHNIQUES)
def test_every_technique_says_what_it_is_and_where_its_melt_comes_from(name: str) -> None:
    technique = TECHNIQUES[name]
    assert technique.name == name
    assert technique.says
    assert technique.basis in BASES
    assert technique.source


@pytest.mark.parametrize(
    ("name", "least", "usual", "most"),
    [
        ("build", 0.15, 0.24, 0.35),
        ("blend", 0.75, 0.90, 1.30),
        ("throw", 0.25, 0.30, 0.40),
        ("swizzle", 0.30, 0.40, 0.60),
        ("julep", 0.20, 0.30, 0.45),
        ("highball", 0.08, 0.12, 0.20),
        ("build-top", 0.08, 0.12, 0.20),
    ],
)
def test_spread_of_a_fixed_melt_ends_at_its_least_and_most(
    name: str, least: float, usual: float, most: float
) -> None:
    technique = TECHNIQUES[name]
    melt = float(technique.curve.fraction(0.2))
    ends = (technique.spread_low * melt, melt, technique.spread_high * melt)
    assert ends == pytest.approx((least, usual, most))


def test_a_short_shake_melts_three_quarters_of_a_shake() -> None:
    short, full = TECHNIQUES["shake-top"], TECHNIQUES["shake"]
    melts = [float(each.curve.fraction(0.25)) for each in (short, full)]
    assert melts[0] == pytest.approx(0.75 * melts[1])
    assert short.spread_low * 0.75 == pytest.approx(0.60)
    assert short.spread_high * 0.75 == pytest.approx(0.85)


@pytest.mark.parametrize("name", ["shake", "stir"])
def test_the_published_curves_bend_down(name: str) -> None:
    # With the sign of the square term dropped, shaking would more than double a spirit.
    curve = TECHNIQUES[name].curve
    assert curve.quadratic < 0
    assert curve.fraction(0.4) < 0.69


@pytest.mark.parametrize("name", ["hot", "none"])
def test_without_ice_there_is_no_melt(name: str) -> None:
    assert TECHNIQUES[name].curve == Curve(0.0)


@pytest.mark.parametrize("factor", [-0.1, math.inf, math.nan])
def test_a_curve_cannot_be_scaled_below_nothing(factor: float) -> None:
    with pytest.raises(ValueError, match="times what it was"):
        TECHNIQUES["stir"].curve.scaled(factor)
