"""A syrup of each class of raw stuff: its Brix by hand, what the strainer keeps, how long it keeps.

Straining takes away liquid and what never dissolved: the Brix of what runs through is that of the
pan. Days are common practice, no source, where they are not the seven of the FDA Food Code.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from solver.kitchen import practice
from solver.pantry.library import load_library
from tests.prep.bars import cook, recipe

EQUAL = 'white-sugar = "500 g"\nwater = "500 g"\n'
STRAINED = 'do = "steep"; time = "2 h"\ndo = "strain"; through = "cloth"'


@pytest.mark.parametrize(
    ("inputs", "brix", "least_ml", "most_ml", "days"),
    [
        # fresh herbs, dry spices: hardly more than the sugar, 500 of 1 000 g
        (EQUAL + '"sage" = "20 g"', 49.6, 740, 815, 21),
        (EQUAL + 'cumin = "10 g"\n"coriander seeds" = "20 g"', 50.3, 650, 800, 21),
        # 100 g of fresh root bring 79 g of water and some 3 to 4 g that dissolve
        (EQUAL + '"fresh turmeric" = "100 g"', 46.6, 700, 870, 12),
        # 500 g of figs: 396 g of water, 81 g of sugar
        (EQUAL + 'figs = "500 g"', 39.9, 1050, 1200, 7),
        # 300 g of dates: 64 g of water, 199 g of sugar, 14 g of what else dissolves
        ('dates = "300 g"\nmuscovado = "300 g"\nwater = "900 g"', 34.7, 1000, 1250, 7),
        # 366 g of water, 20 g that dissolve: 520 of 1 387 g
        (EQUAL + '"raw pumpkin" = "400 g"', 37.5, 950, 1130, 7),
        # of 100 g of nibs some 14 dissolve, of 200 g of sesame 19, of pecans 18, of oats 10
        (EQUAL + '"cacao nibs" = "100 g"', 50.6, 560, 760, 21),
        (EQUAL + 'sesame = "200 g"', 50.4, 350, 740, 6),
        (EQUAL + 'pecans = "200 g"', 50.8, 350, 740, 6),
        (EQUAL + 'oats = "100 g"', 50.3, 560, 760, 6),
        (EQUAL + 'chamomile = "15 g"', 50.2, 680, 815, 21),
    ],
)
def test_a_syrup_is_as_strong_as_its_pan_and_the_strainer_keeps_its_share(
    tmp_path: Path, inputs: str, brix: float, least_ml: float, most_ml: float, days: int
) -> None:
    found = cook(tmp_path, recipe(inputs, STRAINED, kind="syrup/spice"))
    assert found.figures.brix.value == pytest.approx(brix, abs=0.35)
    assert least_ml < found.figures.volume_ml.value < most_ml
    assert found.keeping.life.days == days


def test_what_thickens_all_dissolves_and_is_strained_from_nothing(tmp_path: Path) -> None:
    found = cook(tmp_path, recipe(EQUAL + '"gum arabic" = "50 g"'))
    assert found.figures.mass_g.value == pytest.approx(1050)
    # 499 g of sugar, 44 g of gum and 1 g of what else sugar has, in 1 050 g
    assert found.figures.brix.value == pytest.approx(51.8, abs=0.1)
    assert found.keeping.life.days == 28


def test_a_curd_holds_what_strained_yogurt_holds() -> None:
    # USDA FoodData Central, SR Legacy: yogurt, Greek, plain, whole milk: fat 5.0, protein 9.0
    yogurt = load_library().find("yogurt")
    assert yogurt.insoluble is not None
    curd = yogurt.insoluble.value * (1 + practice.HELD_BY_KIND["raw/dairy"])
    assert yogurt.insoluble.value / curd == pytest.approx(0.14, abs=0.01)


@pytest.mark.parametrize("milk", ["yogurt", "buttermilk"])
def test_whey_keeps_a_week_and_is_told_as_milk(tmp_path: Path, milk: str) -> None:
    found = cook(tmp_path, recipe(f'{milk} = "500 g"\nwhite-sugar = "500 g"', STRAINED))
    assert found.keeping.life.days == 6
    assert any("Dairy" in hazard for hazard in found.keeping.hazards)


@pytest.mark.parametrize("raw", ["oats", "sesame-seeds", "cocoa-nibs", "turmeric-root", "sage"])
def test_what_brings_no_acid_is_told_to_be_low_in_acid(tmp_path: Path, raw: str) -> None:
    found = cook(tmp_path, recipe(EQUAL + f'"{raw}" = "30 g"', STRAINED, kind="syrup/spice"))
    assert any("Low in acid" in hazard for hazard in found.keeping.hazards)
