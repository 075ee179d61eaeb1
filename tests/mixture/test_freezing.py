"""Ice in mixtures: what balances with it, and what it leaves."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.mixture import from_label
from solver.mixture.blend import WATER, mass_g, volume_ml
from solver.mixture.freezing import chilled, onset_celsius

strengths = st.floats(0, 60)
sugars = st.floats(0, 25)
colds = st.floats(-20, -0.05)


@given(strengths, sugars, colds)
def test_what_stays_liquid_begins_to_freeze_right_there(
    abv: float, sugar: float, celsius: float
) -> None:
    mixture = from_label(abv_pct=abv, sugar_g_100ml=sugar)
    found = chilled(mixture, celsius)
    left = mixture.copy()
    left[WATER] -= found.ice_g
    if found.ice_g == 0:
        assert onset_celsius(mixture) <= celsius + 1e-9
    elif left[WATER] > 1e-6:
        assert onset_celsius(left) == pytest.approx(celsius, abs=1e-6)
    assert 0 <= found.ice_share <= 1
    assert found.ice_g == pytest.approx(found.ice_share * float(mass_g(mixture)))


@given(strengths, sugars, colds, st.floats(0.01, 5))
def test_colder_has_no_less_ice(abv: float, sugar: float, celsius: float, more: float) -> None:
    mixture = from_label(abv_pct=abv, sugar_g_100ml=sugar)
    colder = max(celsius - more, -20.0)
    assert chilled(mixture, colder).ice_g >= chilled(mixture, celsius).ice_g - 1e-9


@given(strengths, sugars, st.floats(0.5, 5))
def test_sugar_and_alcohol_keep_it_liquid_longer(abv: float, sugar: float, more: float) -> None:
    onset = onset_celsius(from_label(abv_pct=abv, sugar_g_100ml=sugar))
    assert onset_celsius(from_label(abv_pct=abv + more, sugar_g_100ml=sugar)) < onset
    assert onset_celsius(from_label(abv_pct=abv, sugar_g_100ml=sugar + more)) < onset


@given(strengths, sugars)
def test_at_twenty_degrees_it_takes_the_room_that_it_always_does(abv: float, sugar: float) -> None:
    mixture = from_label(abv_pct=abv, sugar_g_100ml=sugar)
    assert chilled(mixture, 20).volume_ml == pytest.approx(float(volume_ml(mixture)))


def test_plain_water_freezes_at_zero_and_all_of_it() -> None:
    water = from_label()
    assert onset_celsius(water) == 0
    assert chilled(water, -1).ice_share == pytest.approx(1, abs=1e-6)
    assert chilled(water, 0).ice_g == 0


@pytest.mark.parametrize("celsius", [-20.1, 20.1, float("nan")])
def test_no_cold_is_made_up_outside_the_range(celsius: float) -> None:
    with pytest.raises(ValueError, match="-20 to 20"):
        chilled(np.array(from_label(abv_pct=40)), celsius)
