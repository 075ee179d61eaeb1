"""Polynomials, quotients, inverses and roots."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.mixture.numeric import Inverse, horner, ratio, root

coefficients = st.lists(st.floats(-1e6, 1e6), min_size=1, max_size=12).map(tuple)


@given(coefficients, st.lists(st.floats(-2, 2), min_size=1, max_size=5))
def test_one_number_and_many_give_the_same_to_the_last_bit(
    polynomial: tuple[float, ...], points: list[float]
) -> None:
    together = horner(polynomial, np.array(points))
    assert together.tolist() == [float(horner(polynomial, np.array(x))) for x in points]


def test_a_polynomial_is_summed_from_its_constant_up() -> None:
    assert float(horner((1.0, -2.0, 3.0), np.array(10.0))) == 281.0


def test_nothing_over_nothing_is_nothing() -> None:
    assert ratio(np.array([1.0, 2.0, 0.0]), np.array([2.0, 0.0, 0.0])).tolist() == [0.5, 0.0, 0.0]


@given(st.floats(0, 1))
def test_an_inverse_finds_where_a_function_has_its_level(x: float) -> None:
    inverse = Inverse.of(lambda t: t + t * t / 2)
    assert float(inverse(x + x * x / 2)) == pytest.approx(x, abs=1e-15)


def test_beyond_its_levels_an_inverse_stays_at_its_ends() -> None:
    inverse = Inverse.of(lambda t: 3 * t)
    assert inverse([-1.0, 0.0, 3.0, 9.0]).tolist() == [0.0, 0.0, 1.0, 1.0]


@given(st.floats(0.001, 1.9))
def test_a_root_is_found_to_rounding_error(x: float) -> None:
    assert root(lambda t: t**3 + t - (x**3 + x), 0.0, 2.0) == pytest.approx(x, rel=1e-14)


@pytest.mark.parametrize("x", [0.0, 2.0])
def test_a_root_at_an_end_is_found(x: float) -> None:
    assert root(lambda t: t - x, 0.0, 2.0) == x
