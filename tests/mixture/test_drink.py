"""Laws that a finished drink obeys, whatever is poured."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from solver.mixture import COLUMNS, TECHNIQUES, Curve, Drink, Finished, finish, from_label, measure
from solver.mixture.blend import ACID, ETHANOL, LABEL, SOLIDS, SUGAR, WATER
from solver.mixture.drink import finished_volume_ml
from solver.mixture.ethanol import WATER_G_ML
from solver.mixture.melt import calibrated
from solver.mixture.numeric import Floats

curves = st.sampled_from([technique.curve for technique in TECHNIQUES.values()])
amounts = st.floats(5, 120)


@st.composite
def liquids(draw: st.DrawFn) -> Floats:
    """One millilitre of a liquid that a bar could hold."""
    return from_label(
        abv_pct=draw(st.floats(0, 60)),
        sugar_g_100ml=draw(st.floats(0, 40)),
        acid_g_100ml=draw(st.floats(0, 6)),
    )


@st.composite
def stages(draw: st.DrawFn) -> Floats:
    """A stage of one to three pours."""
    pours = draw(st.lists(st.tuples(amounts, liquids()), min_size=1, max_size=3))
    total: Floats = np.sum([millilitres * liquid for millilitres, liquid in pours], axis=0)
    return total


def fields(finished: Finished) -> Floats:
    """Volume, strength, sugar, acid, ethanol and mass of one drink."""
    return np.array(
        [
            finished.volume_ml,
            finished.abv_pct,
            finished.sugar_g_100ml,
            finished.acid_g_100ml,
            finished.ethanol_g,
            finished.mass_g,
        ]
    )


@given(stages(), st.none() | stages(), curves, st.floats(0.5, 1.5))
def test_the_volume_that_a_search_asks_for_is_that_of_the_drink_to_the_last_bit(
    first: Floats, top: Floats | None, curve: Curve, factor: float
) -> None:
    volume = finish(first, top, curve, factor).finished.volume_ml
    assert finished_volume_ml(first, top, curve, factor) == volume
    several = np.stack([first, 2 * first])
    tops = None if top is None else np.stack([top, top])
    many = finish(several, tops, curve, factor).finished.volume_ml
    assert (finished_volume_ml(several, tops, curve, factor) == many).all()


@settings(max_examples=40, deadline=None)
@given(stages(), stages(), curves)
def test_nothing_but_melt_is_added_and_nothing_is_lost(
    first: Floats, top: Floats, curve: Curve
) -> None:
    drink = finish(first, top, curve)
    poured = first + top
    glass = drink.finished
    dry_and_wet = poured[ETHANOL] + poured[WATER] + poured[SUGAR] + poured[SOLIDS]
    assert glass.mass_g == pytest.approx(dry_and_wet + drink.melt_ml * WATER_G_ML, rel=1e-12)
    assert glass.ethanol_g == poured[ETHANOL]
    assert glass.sugar_g_100ml * glass.volume_ml / 100 == pytest.approx(poured[SUGAR], rel=1e-12)
    assert glass.acid_g_100ml * glass.volume_ml / 100 == pytest.approx(poured[ACID], rel=1e-12)


@given(stages(), stages(), curves, st.floats(0.1, 40))
def test_a_batch_is_the_drink_times_its_size(
    first: Floats, top: Floats, curve: Curve, size: float
) -> None:
    one, batch = finish(first, top, curve), finish(size * first, size * top, curve)
    growth = np.array([size, 1, 1, 1, size, size])
    np.testing.assert_allclose(
        fields(batch.finished), growth * fields(one.finished), rtol=1e-9, atol=1e-12
    )
    np.testing.assert_allclose(batch.melt_ml, size * one.melt_ml, rtol=1e-9, atol=1e-12)


@settings(max_examples=40, deadline=None)
@given(stages(), stages(), stages(), curves)
def test_melt_comes_from_the_first_stage_alone(
    first: Floats, top: Floats, other_top: Floats, curve: Curve
) -> None:
    melts = [finish(first, on_it, curve).melt_ml for on_it in (None, top, other_top)]
    assert melts[0] == melts[1] == melts[2]


def test_topping_is_not_iced_and_shaking_it_would_melt_more() -> None:
    gin, soda = 60 * from_label(abv_pct=40), 90 * from_label()
    shake = TECHNIQUES["shake"].curve
    topped, all_shaken = finish(gin, soda, shake), finish(gin + soda, None, shake)
    assert topped.melt_ml == pytest.approx(60 * 0.64908, rel=1e-4)
    assert all_shaken.melt_ml > topped.melt_ml


@given(liquids(), st.floats(0.5, 500))
def test_adding_water_lowers_strength_sugar_and_acid_and_raises_volume(
    liquid: Floats, millilitres: float
) -> None:
    thin = 100 * liquid
    thin[WATER] += millilitres * WATER_G_ML
    before, after = measure(100 * liquid), measure(thin)
    assert after.volume_ml > before.volume_ml
    for field in ("abv_pct", "sugar_g_100ml", "acid_g_100ml"):
        there = getattr(before, field)
        assert getattr(after, field) < there if there > 1e-9 else getattr(after, field) <= there


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(stages(), stages()), min_size=2, max_size=5), curves)
def test_many_drinks_at_once_measure_as_each_alone(
    drinks: list[tuple[Floats, Floats]], curve: Curve
) -> None:
    first = np.stack([pair[0] for pair in drinks])
    top = np.stack([pair[1] for pair in drinks])
    together = finish(first, top, curve)
    alone = [finish(one, on_it, curve) for one, on_it in drinks]
    expected = np.array([fields(drink.finished) for drink in alone]).T
    np.testing.assert_array_equal(fields(together.finished), expected)


def test_finishing_leaves_the_pours_as_they_were() -> None:
    first = 60 * from_label(abv_pct=40)
    kept = first.copy()
    finish(first, None, TECHNIQUES["stir"].curve)
    np.testing.assert_array_equal(first, kept)


def test_an_empty_glass_measures_zero_everywhere() -> None:
    empty: Drink = finish(np.zeros(len(COLUMNS)), None, TECHNIQUES["shake"].curve)
    assert fields(empty.finished).tolist() == [0.0] * 6
    assert empty.melt_ml == 0.0


@given(st.floats(0, 1))
def test_no_technique_gives_ice_back(strength: float) -> None:
    for technique in TECHNIQUES.values():
        assert technique.curve.fraction(np.array(strength)) >= 0
        assert 0 < technique.spread_low <= 1 <= technique.spread_high


@pytest.mark.parametrize(
    "coefficients", [(0.1, -1.0), (-0.2, 1.0), (0.2, 0.1, 0.1), (0.2, 1.0, -1.3), (math.nan,)]
)
def test_a_curve_that_falls_below_zero_or_bends_up_is_refused(
    coefficients: tuple[float, ...],
) -> None:
    with pytest.raises(ValueError, match="bends up"):
        Curve(*coefficients)


@given(st.floats(40, 300), st.floats(0.05, 1.5), st.floats(5, 60))
def test_a_bars_own_weighing_is_what_its_curve_then_gives(
    before_g: float, gained: float, abv_pct: float
) -> None:
    after_g = before_g * (1 + gained)
    curve = calibrated(TECHNIQUES["stir"], before_g, after_g, abv_pct)
    pour = from_label(abv_pct=abv_pct)
    millilitres = before_g / float(measure(pour).mass_g)
    drink = finish(millilitres * pour, None, curve)
    assert drink.finished.mass_g == pytest.approx(after_g, rel=1e-6)
    assert millilitres * pour[LABEL] == pytest.approx(drink.before.volume_ml, rel=1e-6)


@pytest.mark.parametrize(("before_g", "after_g"), [(0, 50), (-5, 50), (95, 90)])
def test_a_weighing_that_lost_weight_is_refused(before_g: float, after_g: float) -> None:
    with pytest.raises(ValueError, match="cannot weigh"):
        calibrated(TECHNIQUES["stir"], before_g, after_g, 30)


def test_a_technique_without_ice_cannot_be_calibrated() -> None:
    with pytest.raises(ValueError, match="no melt"):
        calibrated(TECHNIQUES["hot"], 95, 131, 30)
