"""Nothing is lost in a kitchen: what stays and what goes is what there was."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.kitchen.batch import (
    COLUMNS,
    INSOLUBLE,
    OTHER_ML,
    WATER,
    brix,
    composition,
    from_composition,
    mass_g,
    measured,
)
from solver.kitchen.cooking import Add, Cooking
from solver.kitchen.steps import boil, strain
from solver.mixture import from_label
from solver.mixture.blend import mass_g as blend_mass_g
from solver.mixture.numeric import Floats
from tests.kitchen.strategies import batches, cookings

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
