"""Ethanol and water: the polynomial is evaluated right, and its inverse is one."""

from __future__ import annotations

from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver import measures
from solver.mixture import ethanol

TERMS = (11, 10, 9, 4, 2)
"""Cross terms of each power of temperature, OIML R 22 (1975), p. 5."""


def exact_density_kg_m3(share: Fraction, step: Fraction) -> Fraction:
    """The general formula of OIML R 22, p. 5, term by term in exact arithmetic."""
    density = Fraction(0)
    for k, a in enumerate(ethanol._A):
        density += Fraction(a) * share**k
    for k, b in enumerate(ethanol._B, start=1):
        density += Fraction(b) * step**k
    for i, coefficients in enumerate(ethanol._C, start=1):
        for k, c in enumerate(coefficients, start=1):
            density += Fraction(c) * share**k * step**i
    return density


def test_all_54_coefficients_are_there() -> None:
    assert len(ethanol._A) + len(ethanol._B) + sum(map(len, ethanol._C)) == 54
    assert tuple(map(len, ethanol._C)) == TERMS


@given(st.integers(0, 1000), st.integers(-40, 20))
def test_density_is_the_formula_to_rounding_error(thousandths: int, step: int) -> None:
    share = thousandths / 1000
    exact = exact_density_kg_m3(Fraction(share), Fraction(step))
    assert float(ethanol.density_kg_m3(share, 20.0 + step)) == pytest.approx(
        float(exact), rel=1e-12
    )


@given(st.floats(0, 1))
def test_mass_fraction_is_the_inverse_of_strength(share: float) -> None:
    strength = min(100.0, float(ethanol.abv_pct(share)))
    assert float(ethanol.mass_fraction(strength)) == pytest.approx(share, abs=1e-12)


@given(st.floats(0, 99.9998))
def test_strength_is_the_inverse_of_mass_fraction(abv_pct: float) -> None:
    share = ethanol.mass_fraction(abv_pct)
    assert float(ethanol.abv_pct(share)) == pytest.approx(abv_pct, abs=1e-10)


@given(st.floats(0, 99.9), st.floats(1e-9, 0.09))
def test_more_strength_is_more_ethanol_by_mass(abv_pct: float, more: float) -> None:
    lower, higher = ethanol.mass_fraction([abv_pct, abv_pct + more])
    assert lower < higher


def test_strength_runs_from_water_to_pure_ethanol() -> None:
    assert ethanol.mass_fraction([0.0, 100.0]).tolist() == [0.0, 1.0]
    assert float(ethanol.abv_pct(1.0)) == pytest.approx(100, abs=2e-4)


def test_arrays_of_any_shape_give_what_each_number_gives() -> None:
    strengths = np.linspace(0, 100, 12).reshape(3, 4)
    together = ethanol.mass_fraction(strengths)
    alone = [[float(ethanol.mass_fraction(each)) for each in row] for row in strengths]
    assert together.tolist() == alone


@pytest.mark.parametrize("abv_pct", [-0.1, 100.1, float("nan"), [40.0, 101.0]])
def test_a_strength_that_cannot_be_is_refused(abv_pct: float) -> None:
    with pytest.raises(ValueError, match="between 0 and 100"):
        ethanol.mass_fraction(abv_pct)


@pytest.mark.parametrize("celsius", [-20.5, 40.5, float("nan")])
def test_the_formula_is_not_used_outside_its_range_of_temperature(celsius: float) -> None:
    with pytest.raises(ValueError, match="from -20 to 40"):
        ethanol.density_kg_m3(0.4, celsius)


def test_the_measures_count_ethanol_with_the_same_density() -> None:
    assert measures.ETHANOL_G_ML == ethanol.ETHANOL_G_ML
    assert float(ethanol.density_kg_m3(0.0)) == pytest.approx(1000 * ethanol.WATER_G_ML, rel=1e-15)
