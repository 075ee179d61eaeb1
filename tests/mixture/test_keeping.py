"""Water activity, Delle units, boiling, saturation: their shapes and their ends."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.mixture import from_label, sucrose
from solver.mixture.boiling import boiling_celsius
from solver.mixture.keeping import (
    SOLUTES,
    delle_units,
    ethanol_activity,
    norrish,
    spirit_against_yeast_ml,
    water_activity,
)

shares = st.floats(0, 0.9)


@given(st.sampled_from(sorted(SOLUTES)), shares, st.floats(1e-4, 0.05))
def test_more_of_a_solute_leaves_less_active_water(solute: str, share: float, more: float) -> None:
    assert float(norrish(solute, share + more)) < float(norrish(solute, share)) <= 1


@given(st.floats(0, 0.36), st.floats(0, 0.36))
def test_stronger_alcohol_has_less_active_water(one: float, other: float) -> None:
    weak, strong = sorted((one, other))
    assert float(ethanol_activity(strong)) <= float(ethanol_activity(weak))


def test_plain_water_is_fully_active_and_dry_sugar_has_none() -> None:
    assert float(water_activity(from_label())) == 1
    assert float(water_activity(np.array([0.0, 0, 1, 0, 0, 0, 1]))) == 0


def test_whole_arrays_of_compositions_are_measured_at_once() -> None:
    syrups = np.array([from_label(sugar_g_100ml=s) for s in (10.0, 40.0, 80.0)])
    together = water_activity(syrups)
    assert together == pytest.approx([float(water_activity(s)) for s in syrups])
    assert list(together) == sorted(together, reverse=True)


@given(st.floats(0, 120), st.floats(20, 96))
def test_the_spirit_against_yeast_brings_exactly_the_units(delle: float, spirit: float) -> None:
    added = float(spirit_against_yeast_ml(delle, spirit))
    mixed = (1000 * delle + added * float(delle_units(0, spirit))) / (1000 + added)
    assert mixed == pytest.approx(max(78, delle))


def test_wine_cannot_stop_yeast_in_a_weak_syrup() -> None:
    with pytest.raises(ValueError, match="fewer units"):
        spirit_against_yeast_ml(40, 12)


@given(st.floats(0, 89), st.floats(0.05, 1))
def test_stronger_syrup_boils_hotter(brix: float, more: float) -> None:
    assert boiling_celsius(brix + more) > boiling_celsius(brix)


@pytest.mark.parametrize("brix", [-1, 91, float("nan")])
def test_no_boiling_point_is_made_up_outside_the_range(brix: float) -> None:
    with pytest.raises(ValueError, match="0 to 90 Brix"):
        boiling_celsius(brix)


@given(st.floats(1, 99))
def test_saturation_is_the_inverse_of_solubility(celsius: float) -> None:
    brix = float(sucrose.solubility_mass_pct(celsius))
    assert float(sucrose.saturation_celsius(brix)) == pytest.approx(celsius, abs=1e-6)
