"""Nothing is lost in a kitchen: what stays and what goes is what there was."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.kitchen.batch import (
    COLUMNS,
    INSOLUBLE,
    OTHER,
    OTHER_ML,
    WATER,
    brix,
    composition,
    from_composition,
    mass_g,
    measured,
    titratable_g,
)
from solver.kitchen.cooking import Add, Boil, Cooking, Input, Strain
from solver.kitchen.steps import boil, strain
from solver.mixture import from_label
from solver.mixture.blend import SOLIDS, SOLIDS_ML
from solver.mixture.blend import mass_g as blend_mass_g
from solver.mixture.numeric import Floats
from tests.kitchen.strategies import WATER_GRAM, batches, cookings, one_gram

shares = st.floats(0, 1)
ROUNDING = 1e-9


@given(batches(), shares)
def test_steam_and_pan_are_what_was_in_the_pan(batch: Floats, share: float) -> None:
    kept, steam = boil(batch, np.array([share]))
    assert kept + steam == pytest.approx(batch, abs=ROUNDING)
    assert float(mass_g(steam)[0]) == pytest.approx(share * batch[0, WATER])
    others = [k for k in range(len(COLUMNS)) if k != WATER]
    assert np.all(kept[:, others] == batch[:, others])


@given(batches(), shares, shares)
def test_bottle_and_strainer_are_what_was_poured_in(
    batch: Floats, held: float, passes: float
) -> None:
    through, left = strain(batch, np.array([held]), passes)
    assert through + left == pytest.approx(batch, abs=ROUNDING)
    assert left[0, INSOLUBLE] == pytest.approx((1 - passes) * batch[0, INSOLUBLE], abs=ROUNDING)
    assert np.all(through >= -ROUNDING)


@given(batches(), st.floats(0, 0.9))
def test_what_is_held_back_is_the_liquid_that_runs_through(batch: Floats, held: float) -> None:
    through, _ = strain(batch, np.array([held]), 0.0)
    assert float(brix(through)[0]) == pytest.approx(float(brix(batch)[0]), abs=1e-7)


@given(cookings(), st.data())
def test_a_whole_recipe_loses_nothing_whatever_happens(
    cooking: Cooking, data: st.DataObject
) -> None:
    low, high = cooking.bounds()
    guess = [data.draw(st.floats(max(a, -3), min(b, 3))) for a, b in zip(low, high, strict=True)]
    scores = np.array([guess])
    outcome = cooking.run(scores)
    went_in = sum(
        float(mass_g(Cooking((item,), (Add(0),)).run(scores[:, 4 * k : 4 * k + 4]).batch)[0])
        for k, item in enumerate(cooking.inputs)
    )
    lost = sum(float(steam[0]) for steam in outcome.steam_g.values())
    lost += sum(float(mass_g(left)[0]) for left in outcome.left.values())
    assert float(mass_g(outcome.batch)[0]) + lost == pytest.approx(went_in, rel=1e-12)


@given(cookings(), st.floats(0.1, 10))
def test_twice_the_recipe_makes_twice_the_syrup(cooking: Cooking, factor: float) -> None:
    one, many = cooking.usual().batch, cooking.scaled(factor).usual().batch
    assert many == pytest.approx(one * factor, rel=1e-9)


@given(st.floats(0, 45), st.floats(0, 40), st.floats(0, 6), st.sampled_from(["citric", "malic"]))
def test_a_bottle_taken_apart_and_put_together_is_the_same_bottle(
    abv: float, sugar: float, acid: float, name: str
) -> None:
    label = from_label(abv_pct=abv, sugar_g_100ml=sugar, acid_g_100ml=acid, acids={name: 1.0})
    batch = from_composition(label, {name: 1.0})
    assert composition(batch) == pytest.approx(label, abs=1e-9)
    assert float(mass_g(batch)) == pytest.approx(float(blend_mass_g(label)))
    assert batch[OTHER_ML] == pytest.approx(0, abs=1e-12)
    assert float(measured(batch).acid_g_100ml) == pytest.approx(acid, abs=1e-9)


def grams_of(**columns: float) -> Floats:
    """A batch, shape (columns,), by names of `COLUMNS`."""
    return np.array([columns.get(name, 0.0) for name in COLUMNS])


def test_a_refractometer_shows_four_fifths_of_an_acid_and_nothing_of_what_does_not_dissolve() -> (
    None
):
    """Juice makers add 0.19 Brix for each per cent of acid, from memory."""
    sour = grams_of(water_g=85, sugar_g=5, citric_g=10)
    assert float(brix(sour)) == pytest.approx(5 + 8.1)
    assert float(brix(sour + grams_of(insoluble_g=50))) == pytest.approx(13.1)
    assert float(brix(grams_of(water_g=85, other_g=15))) == pytest.approx(15)


def test_pulp_takes_the_room_of_cellulose() -> None:
    """1.5 g/mL, from memory: 0.65 mL a gram."""
    pulp = composition(grams_of(insoluble_g=100, water_g=10))
    assert pulp[SOLIDS] == pytest.approx(100)
    assert pulp[SOLIDS_ML] == pytest.approx(65)


def test_what_is_not_acid_dissolves_but_for_what_is_said_not_to() -> None:
    label = from_label(sugar_g_100ml=10, acid_g_100ml=2, other_g_100ml=5)
    batch = from_composition(label, {"citric": 1.0}, 0.02)
    assert float(batch[INSOLUBLE]) == pytest.approx(0.02)
    assert float(batch[OTHER]) == pytest.approx(0.03)
    # 0.62 mL for each gram that dissolves: the rest's room goes with what does not
    assert float(batch[OTHER_ML]) == pytest.approx(0.62 * 0.03)
    more = from_composition(label, {"citric": 1.0}, 0.5)
    assert (float(more[INSOLUBLE]), float(more[OTHER])) == pytest.approx((0.05, 0))


PULP = Input("pulp", 100, 1, one_gram(insoluble=0.2), holds=4.0)
POT = Input("water", 900, 1, WATER_GRAM)


@pytest.mark.parametrize("passes", [0.0, 0.25])
def test_a_strainer_usually_keeps_what_the_pulp_holds_and_a_film(passes: float) -> None:
    cooking = Cooking((PULP, POT), (Add(0), Add(1), Strain(0.03, 0.6, passes)))
    dry, liquid = 20.0, 980.0
    held = (1 - passes) * 4 * dry + 0.03 * liquid
    left = cooking.usual().left[2]
    assert float(mass_g(left)[0]) == pytest.approx(held + (1 - passes) * dry)
    # one standard deviation more is six tenths more
    scores = np.zeros((1, cooking.unknowns))
    scores[0, list(cooking.losses())] = 1.0
    more = cooking.run(scores).left[2]
    assert float(mass_g(more)[0]) == pytest.approx(1.6 * held + (1 - passes) * dry)


def test_what_ran_through_once_is_all_that_a_second_strainer_finds() -> None:
    cooking = Cooking((PULP, POT), (Add(0), Add(1), Strain(0.0, 0.6, 0.25), Strain(0.0, 0.6, 0.0)))
    first, second = (float(mass_g(left)[0]) for left in cooking.usual().left.values())
    assert (first, second) == pytest.approx((15 + 60, 5 + 20))


def test_a_simmer_usually_leaves_a_tenth_of_the_water_and_never_takes_it_all() -> None:
    cooking = Cooking((POT,), (Add(0), Boil(2000, 500)))
    assert float(cooking.usual().steam_g[1][0]) == pytest.approx(810)
    scores = np.full((1, cooking.unknowns), 0.0)
    scores[0, list(cooking.losses())] = 8.0
    assert float(cooking.run(scores).steam_g[1][0]) == pytest.approx(0.98 * 900)
    low, high = cooking.bounds()
    for end, lost in ((low, 0.0), (high, 0.98 * 900)):
        scores[0, list(cooking.losses())] = end[list(cooking.losses())]
        assert float(cooking.run(scores).steam_g[1][0]) == pytest.approx(lost, abs=1e-9)


def test_amount_sugar_acid_and_alcohol_stray_each_by_its_own_deviation() -> None:
    """What sugar, acid and alcohol gain, water loses."""
    gram = grams_of(water_g=0.5, sugar_g=0.3, citric_g=0.05, malic_g=0.05, ethanol_g=0.1)
    item = Input(
        "punch", 200, 2, tuple(gram.tolist()), sugar_sd=0.01, acid_sd=0.02, ethanol_sd=0.03
    )
    cooking = Cooking((item,), (Add(0),))
    plain = cooking.usual().batch[0]
    changed = cooking.run(np.eye(4)).batch - plain
    assert changed[0] == pytest.approx(2 * gram)
    assert changed[1] == pytest.approx(200 * grams_of(sugar_g=0.01, water_g=-0.01))
    assert changed[3] == pytest.approx(200 * grams_of(ethanol_g=0.03, water_g=-0.03))
    assert float(titratable_g(changed[2])) == pytest.approx(200 * 0.02)
    assert float(mass_g(changed[2])) == pytest.approx(0, abs=1e-9)
    assert changed[2][COLUMNS.index("citric_g")] == pytest.approx(
        changed[2][COLUMNS.index("malic_g")]
    )


def test_the_sugar_of_what_is_dry_strays_against_its_other_matter() -> None:
    dry = grams_of(sugar_g=0.9, other_g=0.06, water_g=0.04)
    item = Input("sugar", 100, 1, tuple(dry.tolist()), sugar_sd=0.01)
    cooking = Cooking((item,), (Add(0),))
    changed = cooking.run(np.eye(4)[[1]]).batch[0] - cooking.usual().batch[0]
    assert changed == pytest.approx(grams_of(sugar_g=1.0, other_g=-1.0))
