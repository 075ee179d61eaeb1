"""Ice in mixtures: what balances with it, and what it leaves."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.mixture import from_label, sucrose
from solver.mixture.blend import ETHANOL, SOLIDS_ML, SUGAR, WATER, mass_g, volume_ml
from solver.mixture.ethanol import density_kg_m3
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


def test_ice_takes_more_room_than_the_water_it_was() -> None:
    """IAPWS R10-06: 0.9167 g/mL at 0 °C, 0.9193 at -18 °C."""
    frozen = chilled(from_label(), -10)
    assert frozen.ice_g / frozen.volume_ml == pytest.approx(0.918, abs=0.0015)


@given(st.floats(20, 60), st.floats(-20, 0))
def test_spirit_shrinks_in_the_cold_as_the_alcohol_tables_say(abv: float, celsius: float) -> None:
    """OIML R 22: nothing freezes here, and nothing but ethanol and water is in it."""
    mixture = from_label(abv_pct=abv)
    found = chilled(mixture, celsius)
    if found.ice_g == 0:
        share = float(mixture[ETHANOL] / (mixture[ETHANOL] + mixture[WATER]))
        expected = 1000 * float(mass_g(mixture)) / float(density_kg_m3(share, celsius))
        assert found.volume_ml == pytest.approx(expected)
        assert found.volume_ml < float(volume_ml(mixture))


@given(st.floats(5, 40), st.floats(0, 20))
def test_a_cold_syrup_shrinks_as_the_sugar_tables_say(sugar: float, celsius: float) -> None:
    """Bubník and others 1995, the polynomial behind ICUMSA SPS-4."""
    mixture = from_label(sugar_g_100ml=sugar)
    share = float(mixture[SUGAR] / (mixture[SUGAR] + mixture[WATER]))
    expected = 1000 * float(mass_g(mixture)) / float(sucrose.density_kg_m3(share, celsius))
    assert chilled(mixture, celsius).volume_ml == pytest.approx(expected, rel=2e-5)


def test_other_matter_keeps_its_room_in_the_cold() -> None:
    sour, plain = from_label(acid_g_100ml=6, abv_pct=40), from_label(abv_pct=40)
    sour[WATER], sour[ETHANOL] = plain[WATER], plain[ETHANOL]
    more = chilled(sour, -5).volume_ml - chilled(plain, -5).volume_ml
    assert more == pytest.approx(float(sour[SOLIDS_ML]))
