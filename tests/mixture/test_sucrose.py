"""Sugar and water: room, Brix and back, ranges."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.mixture import sucrose


@given(st.floats(0, 1))
def test_sugar_takes_what_the_solution_has_beyond_its_water(share: float) -> None:
    solution_ml = 1000 / float(sucrose.density_kg_m3(share))
    water_ml = (1 - share) * 1000 / float(sucrose.density_kg_m3(0.0))
    assert float(sucrose.volume_share_ml_g(share)) == pytest.approx(
        solution_ml - water_ml, abs=1e-14
    )


@given(st.floats(0.001, 1))
def test_room_of_a_gram_of_sugar_is_its_share_over_its_mass(share: float) -> None:
    room = float(sucrose.apparent_volume_ml_g(share))
    assert room == pytest.approx(float(sucrose.volume_share_ml_g(share)) / share, rel=1e-13)


def test_room_of_sugar_has_its_limit_in_water_and_grows_with_strength() -> None:
    assert float(sucrose.apparent_volume_ml_g(0.0)) == pytest.approx(
        float(sucrose.apparent_volume_ml_g(1e-9)), rel=1e-8
    )
    rooms = [float(sucrose.apparent_volume_ml_g(share)) for share in (0.0, 0.2, 0.5, 0.67)]
    assert rooms == sorted(rooms)


@given(st.floats(0, 100))
def test_brix_to_grams_and_back_is_the_same_brix(brix: float) -> None:
    assert float(sucrose.brix(sucrose.grams_per_100ml(brix))) == pytest.approx(brix, abs=1e-10)


@given(st.floats(0, 99), st.floats(1e-6, 1))
def test_more_brix_is_more_sugar_in_the_same_volume(brix: float, more: float) -> None:
    assert sucrose.grams_per_100ml(brix + more) > sucrose.grams_per_100ml(brix)


@pytest.mark.parametrize("grams", [-1.0, 200.0, float("nan")])
def test_sugar_that_cannot_be_in_100_ml_is_refused(grams: float) -> None:
    with pytest.raises(ValueError, match="g/100 mL"):
        sucrose.brix(grams)


@pytest.mark.parametrize("celsius", [-0.5, 100.5, float("nan")])
def test_the_polynomials_are_not_used_outside_their_range_of_temperature(celsius: float) -> None:
    with pytest.raises(ValueError, match="from 0 to 100"):
        sucrose.density_kg_m3(0.5, celsius)
    with pytest.raises(ValueError, match="from 0 to 100"):
        sucrose.solubility_mass_pct(celsius)
