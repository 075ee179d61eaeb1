"""A batch of any drink: with what is added at service it is that drink, so many times."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from solver.errors import BadInput
from solver.mixture.blend import mass_g
from solver.mixture.melt import TECHNIQUES
from solver.pantry.bar import Bar
from solver.pantry.load_bar import load_bar
from solver.pantry.own_figures import with_own_figures
from solver.pantry.spec import Spec, SpecPour, find_spec, read_specs
from solver.pantry.stocked import Stocked
from solver.show.documents.batch import batch_json
from solver.show.pages.batch_label import batch_label, batch_labels
from solver.show.pages.label import label_text
from solver.show.text.batch import batch_text
from solver.show.words import words_of
from solver.tasks.batch import Batch, Finish, Size, batch_of, read_size
from solver.tasks.batch.left_out import Wait
from solver.tasks.batch.measured_amounts import ScaleStep
from tests.examples import examples

DEMO = Path(__file__).parents[2] / "demo"
DAY = date(2026, 5, 8)
FINEST = ScaleStep(1e-7)


@cache
def demo() -> Bar:
    return load_bar(DEMO)


@cache
def built_in() -> Bar:
    return load_bar(None)


def batch(name: str, size: Size, *, on_ice: Finish | None = None, celsius: float | None = None,
          step: ScaleStep | None = None) -> Batch:  # fmt: skip
    bar = demo()
    spec = find_spec(name, bar.specs)
    return batch_of(
        spec, bar, size, made=DAY, on_ice=on_ice, celsius=celsius, step=step or ScaleStep()
    )


def is_the_drink(found: Batch, within_ml: float = 1e-6) -> None:
    """Per serve everything is as in the single drink."""
    single = found.found.drink.finished
    assert float(found.glass.volume_ml) == pytest.approx(float(single.volume_ml), abs=within_ml)
    assert float(found.glass.mass_g) == pytest.approx(float(single.mass_g), abs=2 * within_ml)
    assert float(found.glass.ethanol_g) == pytest.approx(float(single.ethanol_g), abs=within_ml)
    if within_ml < 1e-3:
        for name in ("abv_pct", "sugar_g_100ml", "acid_g_100ml"):
            ours, theirs = getattr(found.glass, name), getattr(single, name)
            assert float(ours) == pytest.approx(float(theirs), rel=1e-5, abs=1e-6)


@st.composite
def drinks(draw: st.DrawFn) -> Spec:
    """Up to six pours of anything in the library, made in any way."""
    items = draw(st.lists(st.sampled_from(built_in().library.ingredients), min_size=1, max_size=6))
    return Spec(
        name=draw(st.sampled_from(["Any", "Ähnlich & Co", "42", "…"])),
        technique=draw(st.sampled_from(sorted(TECHNIQUES))),
        garnish=draw(st.sampled_from([None, "lemon peel", "none"])),
        pours=tuple(
            SpecPour(
                ingredient=item.key,
                amount=f"{draw(st.integers(1, 120)) / 2} {item.per}",
                stage=draw(st.sampled_from(["first", "first", "top"])),
            )
            for item in items
        ),
    )


def batched(spec: Spec, bar: Bar, size: Size, **how: Any) -> Batch | None:
    """The batch; None of a drink of which nothing can wait in a bottle."""
    try:
        return batch_of(spec, bar, size, made=DAY, **how)
    except BadInput as error:
        if "can wait in a bottle" not in error.what:
            raise
        return None


anything = settings(
    max_examples=examples(0.5), deadline=None, suppress_health_check=[HealthCheck.too_slow]
)


@anything
@given(drinks(), st.integers(1, 300), st.sampled_from([None, *Finish]))
def test_a_batch_and_what_is_added_are_the_drink(
    spec: Spec, serves: int, on_ice: Finish | None
) -> None:
    found = batched(spec, built_in(), Size(serves=serves), on_ice=on_ice, step=FINEST)
    assume(found)
    assert found is not None
    is_the_drink(found)
    assert {id(m.line) for m in found.lines}.isdisjoint(id(e.line) for e in found.left_out)
    assert len(found.lines) + len(found.left_out) == len(spec.pours)


@anything
@given(
    drinks(),
    st.integers(1, 300),
    st.sampled_from([None, -20.0, -12.0, 4.0]),
    st.sampled_from([ScaleStep(), ScaleStep(5.0), ScaleStep(weighed=True)]),
    st.sampled_from([None, 200.0, 750.0]),
)
def test_measured_in_steps_it_is_the_drink_to_the_step_and_can_be_told(
    spec: Spec, serves: int, celsius: float | None, step: ScaleStep, vessel_ml: float | None
) -> None:
    bar, size = built_in(), Size(serves=serves, vessel_ml=vessel_ml)
    found = batched(spec, bar, size, celsius=celsius, step=step)
    assume(found)
    assert found is not None
    is_the_drink(found, within_ml=step.size * (len(found.lines) + 1) / serves)
    if found.cold is not None:
        assert 0 <= found.cold.ice_g <= float(mass_g(found.composition))
    words = words_of("en")
    label = label_text(batch_label(found, bar, words))
    for text in (batch_text(found, bar), batch_json(found, bar), label):
        assert "nan" not in text.split()
    sheet = batch_labels(found, bar, words)
    assert sheet.count("<section") == min(found.vessels.count, 200)


@pytest.mark.parametrize("finish", list(Finish))
@pytest.mark.parametrize("spec", read_specs(DEMO / "specs"), ids=lambda spec: spec.name)
def test_every_drink_of_the_demonstration_is_itself_however_it_is_finished(
    spec: Spec, finish: Finish
) -> None:
    found = batch_of(spec, demo(), Size(serves=20), made=DAY, on_ice=finish, step=FINEST)
    is_the_drink(found)
    melt = float(found.found.drink.melt_ml)
    assert found.water.ml / 20 + found.ice_ml == pytest.approx(melt, abs=1e-6)


@pytest.mark.parametrize(
    ("name", "waits", "finish"),
    [
        # common practice, no source: citrus is not mixed in a day ahead
        ("harbour-light", {"lemon-juice": Wait.CITRUS}, Finish.AGAIN),
        ("dry-dock", {"lemon-juice": Wait.CITRUS, "aquafaba": Wait.FOAM}, Finish.AGAIN),
        ("last-ferry", {"brewed-coffee": Wait.HOT, "heavy-cream": Wait.DAIRY}, Finish.NEVER),
        (
            "low-water",
            {"sparkling-wine": Wait.BUBBLES, "soda-water": Wait.BUBBLES},
            Finish.AGAIN,
        ),
        ("weighbridge", {}, Finish.NEVER),
        ("rope-store", {}, Finish.AGAIN),
    ],
)
def test_what_waits_and_whether_ice_comes_to_it_again(
    name: str, waits: dict[str, Wait], finish: Finish
) -> None:
    found = batch(name, Size(serves=20))
    assert {left.line.ingredient.key: left.why for left in found.left_out} == waits
    assert found.finish is finish


def test_what_is_stirred_until_just_cold_has_half_of_its_water_in_the_bottle() -> None:
    """Common practice, no source."""
    whole, half, none = (
        batch("weighbridge", Size(serves=20), on_ice=each, step=FINEST).water.ml
        for each in (Finish.NEVER, Finish.BRIEFLY, Finish.AGAIN)
    )
    assert half == pytest.approx(whole / 2)
    assert none == 0


@pytest.mark.parametrize(("volume_ml", "bottles"), [(1990, 2), (2009, 2), (2011, 3), (3009, 3)])
def test_a_hundredth_of_a_bottle_goes_into_the_last_and_more_into_another(
    volume_ml: float, bottles: int
) -> None:
    found = batch("weighbridge", Size(volume_ml=volume_ml, vessel_ml=1000), step=FINEST).vessels
    assert found.count == bottles
    assert found.last_ml == pytest.approx(volume_ml - (bottles - 1) * 1000, abs=0.1)
    assert found.mix_in_ml == pytest.approx(volume_ml / 0.95, abs=0.1)


def test_what_is_built_on_ice_has_its_water_in_the_bottle_where_it_is_poured_cold() -> None:
    assert batch("rope-store", Size(serves=20)).water.ml == 0
    assert batch("rope-store", Size(serves=20), celsius=-12).water.ml == pytest.approx(333)


@given(st.floats(0, 60))
def test_so_much_water_as_was_asked_for_is_in_the_bottle(share: float) -> None:
    bar = demo()
    spec = find_spec("weighbridge", bar.specs)
    found = batch_of(spec, bar, Size(serves=20), made=DAY, water_pct=share, step=FINEST)
    assert found.water_pct == pytest.approx(share, abs=1e-5)
    assert found.ice_ml == 0


def test_from_the_freezer_less_water_is_usual_and_freezes_later() -> None:
    # common practice, no source: 20 to 25 % of water, and pourable above some 25 % vol
    bar = demo()
    spec = find_spec("weighbridge", bar.specs)
    usual = batch_of(spec, bar, Size(serves=20), made=DAY, celsius=-12)
    less = batch_of(spec, bar, Size(serves=20), made=DAY, celsius=-12, water_pct=22)
    assert usual.cold is not None
    assert less.cold is not None
    assert float(less.bottle.abv_pct) > 25
    assert usual.cold.ice_g > 0 == less.cold.ice_g
    assert "Ask with --water 22%" in batch_text(usual, bar)
    assert "Ask with --water" not in batch_text(less, bar)


def test_dashes_scale_in_a_straight_line() -> None:
    # common practice, no source; a dash is 0.9 mL at this bar
    found = batch("weighbridge", Size(serves=20))
    bitters = next(m for m in found.lines if m.line.ingredient.key == "orange-bitters")
    assert bitters.amount == pytest.approx(20 * 2 * 0.9)


def test_whole_bottles_are_counted() -> None:
    rum = next(
        m
        for m in batch("weighbridge", Size(serves=20)).lines
        if m.line.ingredient.is_kind("spirit")
    )
    assert (rum.bottles, rum.rest) == (1, 500)


@given(st.floats(0.2, 50))
def test_so_much_as_was_asked_for_is_in_the_bottle(litres: float) -> None:
    found = batch("weighbridge", Size(volume_ml=1000 * litres), step=FINEST)
    assert found.volume_ml == pytest.approx(1000 * litres)
    assert found.serve_ml == pytest.approx(
        batch("weighbridge", Size(serves=1), step=FINEST).volume_ml
    )


def test_a_keg_is_filled_but_for_its_head_and_bottles_to_the_last() -> None:
    measures = demo().measures
    keg = batch("weighbridge", read_size(measures, keg="5 gal"))
    assert keg.volume_ml == pytest.approx(0.95 * 5 * 3785.41, rel=1e-3)
    bottles = batch("weighbridge", read_size(measures, bottle="750 ml", bottles=3))
    assert bottles.vessels.count == 3
    assert bottles.vessels.last_ml == pytest.approx(750, abs=2)


def test_strong_spirit_and_water_take_less_room_than_they_were_poured_with() -> None:
    # 27 CFR 30.66: 112 proof to 100 proof takes 12.42 gallons of water to 100, which give 112
    bar = built_in()
    gin = with_own_figures(bar.bottles.find("gin"), {"abv": 56.0})
    own = replace(bar, library=bar.library.shadowed_by([gin]), stock=(Stocked(gin),))
    pours = (
        SpecPour(ingredient="gin", amount="100 ml"),
        SpecPour(ingredient="water", amount="12.42 ml"),
    )
    spec = Spec(name="proofed", technique="none", pours=pours)
    found = batch_of(spec, own, Size(serves=10), made=DAY, step=FINEST)
    assert float(found.bottle.abv_pct) == pytest.approx(50, abs=0.02)
    assert found.volume_ml == pytest.approx(1120, abs=0.6)
    assert found.contraction_pct == pytest.approx(0.37, abs=0.06)


def test_a_batch_below_twenty_per_cent_keeps_no_longer_than_what_is_in_it() -> None:
    found = batch("dry-dock", Size(serves=20))
    tea = demo().stocked("strong-black-tea")
    assert tea is not None
    assert tea.use_by is not None
    assert found.kept.use_by <= tea.use_by


def test_what_is_in_the_bottle_and_what_is_added_are_told_apart() -> None:
    found = batch("last-ferry", Size(serves=20))
    assert "milk" not in found.told.allergens
    assert "milk" in found.found.guest.allergens
    assert "nuts" in found.told.allergens
    label = label_text(batch_label(found, demo(), words_of("en")))
    assert "In the bottle. Contains: tree nuts.\nFinished drink. Contains: milk and" in label


def test_the_standard_drinks_of_a_bottle_are_those_of_its_serves() -> None:
    # Germany counts 12 g a drink, see solver/pantry/countries.toml
    found = batch("weighbridge", Size(serves=20))
    grams = float(found.bottle.ethanol_g)
    assert f"{grams / 12:.1f} in all of the batch" in batch_text(found, demo())
    assert grams / 20 == pytest.approx(found.found.values["ethanol"], abs=0.02)


def test_nothing_to_bottle_is_said() -> None:
    spec = Spec(
        name="all fresh",
        technique="shake",
        pours=(
            SpecPour(ingredient="lemon-juice", amount="1 oz"),
            SpecPour(ingredient="soda-water", amount="1 oz", stage="top"),
        ),
    )
    with pytest.raises(BadInput, match="nothing of all fresh can wait"):
        batch_of(spec, built_in(), Size(serves=3), made=DAY)
