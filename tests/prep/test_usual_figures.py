"""What a kitchen usually loses, and how well it measures, where a recipe says nothing of it.

Common practice, no source, unless it says so; the figures are stated a second time here, so that
none of them can slip.
"""

from __future__ import annotations

import tempfile
from functools import cache
from pathlib import Path

import pytest

from solver.errors import BadInput
from solver.kitchen.cooking import Boil, Strain
from solver.kitchen.reconcile import BatchReading
from solver.mixture.ethanol import ETHANOL_G_ML
from solver.mixture.sucrose import density_kg_m3
from solver.pantry.bar import Bar
from solver.tasks.prep import find_recipe
from solver.tasks.prep.best_strength import _check
from solver.tasks.prep.inputs import put_in
from solver.tasks.prep.recipe_model import Numbers, numbers_of
from tests.prep.bars import bar_with, cook, recipe

PLAIN = 'white-sugar = "1 kg"\nwater = "2 kg"'


@cache
def plain_bar() -> Bar:
    with tempfile.TemporaryDirectory() as folder:
        return bar_with(Path(folder), "")


def numbers(folder: Path, inputs: str, steps: str = "", measured: str = "") -> Numbers:
    bar = bar_with(folder, recipe(inputs, steps, measured))
    return numbers_of(
        find_recipe("syrup", bar),
        lambda name, amount: put_in(bar.bottles.find(name), amount, bar),
        bar.measures,
    )


def reading(folder: Path, written: str, steps: str = "") -> BatchReading:
    (found,) = numbers(folder, PLAIN, steps, written).readings
    return found


def test_a_simmer_takes_eleven_grams_a_minute_or_half_or_twice_that(tmp_path: Path) -> None:
    """Half an hour takes a third of the water of a kilogram each of sugar and water."""
    found = numbers(tmp_path, PLAIN, 'do = "simmer"; time = "30 min"')
    assert found.cooking.steps[-1] == Boil(330.0, 165.0)
    short = numbers(tmp_path, PLAIN, 'do = "simmer"; lost = "1 g"')
    assert short.cooking.steps[-1] == Boil(1.0, 1.0)


@pytest.mark.parametrize(
    ("step", "kept"),
    [
        ('do = "strain"; through = "sieve"', Strain(0.02, 0.6, 0.1)),
        ('do = "strain"; through = "cloth"', Strain(0.03, 0.6, 0.02)),
        ('do = "fine-filter"', Strain(0.04, 0.6, 0.0)),
    ],
)
def test_a_strainer_keeps_a_film_and_lets_some_through(
    step: str, kept: Strain, tmp_path: Path
) -> None:
    assert numbers(tmp_path, PLAIN, step).cooking.steps[-1] == kept


@pytest.mark.parametrize(
    ("name", "held"),
    [
        ("raspberries", 4.0), ("almonds", 1.5), ("sesame-seeds", 1.5), ("cocoa-nibs", 1.5),
        ("olive-oil", 0.1), ("rice", 1.5), ("yogurt", 6.0),
    ],
)  # fmt: skip
def test_wet_leavings_hold_so_many_times_their_dry_weight(name: str, held: float) -> None:
    """Of 100 g of strained yogurt 14 are fat and protein (USDA FoodData Central, SR Legacy)."""
    bar = plain_bar()
    assert put_in(bar.bottles.find(name), "100 g", bar)[1].holds == held


@pytest.mark.parametrize(
    ("measured", "sd"),
    [
        ('weight = "900 g"', 1.0),
        ('weight = "1500 g"', 1.5),
        ('volume = "300 ml"', 5.0),
        ('volume = "1000 ml"', 15.0),
        ('brix = "50 Brix"', 0.4),
    ],
)
def test_scale_jug_and_refractometer_err_as_they_usually_do(
    measured: str, sd: float, tmp_path: Path
) -> None:
    assert reading(tmp_path, measured).sd == pytest.approx(sd)


@pytest.mark.parametrize(
    ("step", "sd"),
    [
        ('do = "simmer"; lost = "100 g"', 1.0),
        ('do = "simmer"; lost = "1200 g"', 1.2),
        ('do = "strain"; through = "sieve"; left = "50 g"', 2.0),
        ('do = "strain"; through = "sieve"; left = "300 g"', 6.0),
    ],
)
def test_what_a_step_lost_is_weighed_as_well_as_wet_things_are(
    step: str, sd: float, tmp_path: Path
) -> None:
    assert reading(tmp_path, "", step).sd == pytest.approx(sd)


def test_a_warm_refractometer_shows_too_little_by_the_table(tmp_path: Path) -> None:
    """ICUMSA's table has 0.07 to 0.08 a degree for strong syrups, from memory."""
    found = reading(tmp_path, 'brix = "50 Brix"\nbrix_at = "30 °C"')
    assert found.value == pytest.approx(50.75)
    assert found.sd == pytest.approx((0.4**2 + (0.15 * 0.75) ** 2) ** 0.5)


@pytest.mark.parametrize(
    ("name", "amount", "grams", "sd"),
    [
        ("white-sugar", "500 g", 500, 1.0),
        ("white-sugar", "2 kg", 2000, 2.0),
        ("water", "1 l", 998.2, 9.982),  # a litre of water at 20 °C weighs 998.2 g
    ],
)
def test_what_goes_in_is_weighed_or_poured_as_well_as_is_usual(
    name: str, amount: str, grams: float, sd: float
) -> None:
    bar = plain_bar()
    found = put_in(bar.bottles.find(name), amount, bar)[1]
    assert (found.grams, found.grams_sd) == pytest.approx((grams, sd), rel=1e-4)


def test_a_label_of_strength_may_be_three_tenths_off() -> None:
    """27 CFR 19.356: 0.3 % vol, two standard deviations of 0.15, here in grams of a gram."""
    bar = plain_bar()
    vodka = put_in(bar.bottles.find("vodka"), "1 g", bar)[1]
    # Vodka of 40 % vol has a density of 0.9480 g/mL (OIML R 22).
    assert vodka.ethanol_sd == pytest.approx(0.0015 * ETHANOL_G_ML / 0.948, rel=1e-3)
    assert put_in(bar.bottles.find("water"), "1 g", bar)[1].ethanol_sd == 0


def test_a_volume_measured_hot_is_less_when_cold_as_a_syrup_of_50_brix_shrinks(
    tmp_path: Path,
) -> None:
    """Bubník and others 1995; other syrups to a tenth of that, by the same polynomial."""
    found = reading(tmp_path, 'volume = "1000 ml"\nvolume_at = "60 °C"')
    shrinks = 1 - float(density_kg_m3(0.5, 60.0)) / float(density_kg_m3(0.5, 20.0))
    assert 0.01 < shrinks < 0.03
    assert found.value == pytest.approx(1000 * (1 - shrinks))
    assert found.sd == pytest.approx((15**2 + (0.1 * shrinks * 1000) ** 2) ** 0.5)


def test_a_syrup_has_a_tenth_of_sugar_by_weight(tmp_path: Path) -> None:
    """Our own choice."""
    numbers(tmp_path, 'white-sugar = "101 g"\nwater = "899 g"')
    with pytest.raises(BadInput, match="hardly any sugar"):
        numbers(tmp_path, 'white-sugar = "99 g"\nwater = "901 g"')


@pytest.mark.parametrize(
    ("inputs", "kind", "chosen"),
    [
        (PLAIN, "syrup/plain", True),
        (f'{PLAIN}\nvodka = "50 ml"', "syrup/plain", False),
        ('salt = "5 g"\nwater = "1 kg"', "seasoning/saline", False),
    ],
)
def test_a_strength_is_chosen_for_what_has_sugar_and_no_alcohol(
    inputs: str, kind: str, chosen: bool, tmp_path: Path
) -> None:
    prep = cook(tmp_path, recipe(inputs, kind=kind))
    if chosen:
        _check(prep, ())
        return
    with pytest.raises(BadInput, match="no strength in Brix"):
        _check(prep, ())
