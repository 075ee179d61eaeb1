"""Laws of blending: what volumes do when liquids meet."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.mixture import ACIDS, COLUMNS, from_label, measure, volume_error_pct
from solver.mixture.blend import LABEL, SOLIDS_ML, volume_ml
from solver.mixture.numeric import Floats

WATER_ML = from_label()


@st.composite
def labels(draw: st.DrawFn) -> Floats:
    """One millilitre of a liquid that a bar could hold."""
    return from_label(
        abv_pct=draw(st.floats(0, 60)),
        sugar_g_100ml=draw(st.floats(0, 40)),
        acid_g_100ml=draw(st.floats(0, 6)),
    )


def grown_by(mix: Floats) -> float:
    """Volume of a mix over the sum of the poured volumes, minus 1."""
    return float(volume_ml(mix) / mix[LABEL]) - 1


def pure(ethanol_g: float, water_g: float) -> Floats:
    return np.array([ethanol_g, water_g, 0, 0, 0, 0, 0])


@given(st.floats(0.01, 1000), st.floats(0.01, 1000))
def test_ethanol_and_water_shrink_when_they_meet(ethanol_g: float, water_g: float) -> None:
    apart = volume_ml(pure(ethanol_g, 0)) + volume_ml(pure(0, water_g))
    assert volume_ml(pure(ethanol_g, water_g)) < apart


@given(st.floats(45, 95), st.floats(0.1, 2))
def test_a_spirit_shrinks_when_water_comes_to_it(abv_pct: float, water: float) -> None:
    assert grown_by(from_label(abv_pct=abv_pct) + water * WATER_ML) < 0


@given(st.floats(1, 20), st.floats(0.1, 3))
def test_a_weak_drink_swells_a_little_when_water_comes_to_it(abv_pct: float, water: float) -> None:
    # Ethanol's apparent volume falls with strength up to some 20 % vol (CRC and OIML densities).
    assert 0 < grown_by(from_label(abv_pct=abv_pct) + water * WATER_ML) < 0.0013


@given(st.floats(5, 88), st.floats(0.2, 2))
def test_a_syrup_shrinks_when_water_comes_to_it(sugar_g_100ml: float, water: float) -> None:
    grown = grown_by(from_label(sugar_g_100ml=sugar_g_100ml) + water * WATER_ML)
    assert -0.01 < grown < 0


@given(labels(), labels(), st.floats(0.05, 20))
def test_adding_volumes_is_never_off_by_more_than_four_percent(
    one: Floats, other: Floats, times: float
) -> None:
    assert -0.04 < grown_by(one + times * other) < 0.01


@given(labels(), st.floats(0.01, 1000))
def test_more_of_the_same_is_the_same(liquid: Floats, times: float) -> None:
    once, more = measure(liquid), measure(times * liquid)
    assert more.volume_ml == pytest.approx(times * once.volume_ml, rel=1e-12)
    assert more.abv_pct == pytest.approx(once.abv_pct, rel=1e-12, abs=1e-300)
    assert more.density_g_ml == pytest.approx(once.mass_g / once.volume_ml, rel=1e-12)


def test_rows_without_water_ethanol_or_anything_measure_without_a_warning() -> None:
    rows = np.zeros((4, len(COLUMNS)))
    rows[1, COLUMNS.index("ethanol_g")] = 78.924
    rows[2, COLUMNS.index("sugar_g")] = 10.0
    rows[3, SOLIDS_ML] = 5.0
    measured = measure(rows)
    assert measured.volume_ml.tolist() == pytest.approx([0, 100.0001, 6.44, 5], abs=0.01)
    assert measured.abv_pct.tolist() == pytest.approx([0, 100, 0, 0], abs=2e-4)
    assert measured.density_g_ml[0] == 0


def test_a_measurement_does_not_change_with_the_array_that_it_came_from() -> None:
    drinks = np.array([40 * from_label(abv_pct=40)])
    measured = measure(drinks)
    before = float(measured.ethanol_g[0])
    drinks[:] = 0
    assert measured.ethanol_g[0] == before


@pytest.mark.parametrize(
    ("abv_pct", "sugar_g_100ml", "error_pct"),
    [(20, 5, 0.11), (20, 10, 0.20), (25, 25, 0.58), (30, 30, 0.83), (40, 30, 1.10), (0, 40, 0.02)],
)
def test_error_bound_grows_with_strength_and_sugar(
    abv_pct: float, sugar_g_100ml: float, error_pct: float
) -> None:
    assert float(volume_error_pct(abv_pct, sugar_g_100ml, 0.0)) == pytest.approx(
        error_pct, abs=0.006
    )


@pytest.mark.parametrize(
    ("abv_pct", "sugar_g_100ml", "error_pct"), [(5, 10, 0.08), (10, 10, 0.14), (40, 10, 0.38)]
)
def test_error_bound_of_sugar_grows_to_ten_per_cent_and_again_from_thirteen(
    abv_pct: float, sugar_g_100ml: float, error_pct: float
) -> None:
    assert float(volume_error_pct(abv_pct, sugar_g_100ml, 0)) == pytest.approx(error_pct)


def test_each_gram_of_acid_may_be_six_hundredths_of_a_millilitre_off() -> None:
    assert volume_error_pct(0, 0, [0, 1, 2]).tolist() == pytest.approx([0.02, 0.08, 0.14])


def test_error_bound_is_stated_for_whole_arrays() -> None:
    assert volume_error_pct([20, 40], [5, 30], 0.0).tolist() == pytest.approx([0.11, 1.10])


@pytest.mark.parametrize(
    ("acid", "percent", "density_g_ml"),
    [
        # CRC Handbook of Chemistry and Physics, densities of aqueous solutions at 20 °C: citric
        # acid from its 102nd edition; tartaric acid from memory.
        ("citric", 5, 1.0189), ("citric", 10, 1.0402), ("citric", 20, 1.0858),
        ("citric", 30, 1.1346), ("tartaric", 10, 1.0450), ("tartaric", 20, 1.0963),
    ],
)  # fmt: skip
def test_the_room_of_an_acid_is_within_the_stated_error(
    acid: str, percent: float, density_g_ml: float
) -> None:
    volume = 100 / density_g_ml
    counted = percent * ACIDS[acid].citric_equivalent
    room = percent * ACIDS[acid].apparent_volume_ml_g
    modelled = (100 - percent) / 0.99821 + room
    bound = float(volume_error_pct(0.0, 0.0, 100 * counted / volume))
    assert abs(modelled - volume) <= bound / 100 * volume
    if acid == "tartaric":  # without the acids' room it would lie outside
        assert abs(modelled - volume) > float(volume_error_pct(0.0, 0.0, 0.0)) / 100 * volume
