"""Facts of the trade that every answer must agree with: common practice, no source, if not said."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.prep.bars import cook, recipe

EQUAL = 'white-sugar = "1 kg"\nwater = "1 kg"'
PLAIN = 'white-sugar = "350 g"\nwater = "350 g"'
FRUIT = f'{PLAIN}\n"pineapple-flesh" = "3 tbsp"\nallspice = "8 g"\ncassia = "4 g"'
STRAINED = 'do = "strain"; through = "paper"'
SIMMERED = 'do = "simmer"; time = "10 min"\ndo = "cool"\ndo = "strain"; through = "cloth"'


def test_equal_weights_of_sugar_and_water_are_50_brix_and_61_5_grams(tmp_path: Path) -> None:
    figures = cook(tmp_path, recipe(EQUAL)).figures
    assert figures.brix.value == pytest.approx(50, abs=0.01)
    # ICUMSA sucrose polynomial: 61.48 g/100 mL, of which 0.2 % of the sugar is something else
    assert figures.sugar_g_100ml.value == pytest.approx(61.4, abs=0.1)
    assert figures.volume_ml.value == pytest.approx(1626.5, abs=0.5)


def test_half_an_hour_s_simmer_that_takes_a_third_of_the_water_makes_60_brix(
    tmp_path: Path,
) -> None:
    steam = recipe(EQUAL, 'do = "simmer"; time = "30 min"; lost = "333 g"')
    found = cook(tmp_path, steam)
    assert found.figures.brix.value == pytest.approx(60, abs=0.05)
    assert found.losses[0].usual.value == pytest.approx(333, rel=0.02)
    # Browne 1912: 60 Brix boils 3.0 °C above water
    assert found.losses[0].boils_celsius == pytest.approx(103, abs=0.15)
    unweighed = cook(tmp_path, recipe(EQUAL, 'do = "simmer"; time = "30 min"'))
    low = unweighed.figures.brix.value - unweighed.figures.brix.within
    assert low < 60 < unweighed.figures.brix.value + unweighed.figures.brix.within


def test_by_cups_a_syrup_is_thinner_and_the_weight_assumed_is_said(tmp_path: Path) -> None:
    found = cook(tmp_path, recipe('white-sugar = "2 cups"\nwater = "2 cups"'))
    sugar = found.figures.sugar_g_100ml
    # 55.4 at a bulk density of 0.845 g/mL, 53.4 to 57.6 at 0.80 to 0.90
    assert sugar.value == pytest.approx(55.3, abs=0.2)
    assert sugar.within == pytest.approx((57.6 - 53.4) / 2, abs=0.3)
    assert len(found.assumed) == 1
    assert "400 g" in found.assumed[0]
    assert "0.845 g/mL" in found.assumed[0]


def test_a_strained_fruit_syrup_yields_less_than_the_pan_held(tmp_path: Path) -> None:
    plain = cook(tmp_path, recipe(PLAIN)).figures.volume_ml.value
    assert plain == pytest.approx(569, abs=0.5)
    expected = cook(tmp_path, recipe(FRUIT, SIMMERED, kind="syrup/fruit")).figures.volume_ml
    assert expected.value - expected.within < 400 < expected.value < plain - 50


def test_the_loss_is_split_between_steam_and_strainer_with_what_each_does_to_the_brix(
    tmp_path: Path,
) -> None:
    found = cook(tmp_path, recipe(FRUIT, SIMMERED, 'volume = "400 ml"', kind="syrup/fruit"))
    steam, strainer = found.losses
    went_in = sum(put.grams for put in found.puts)
    came_out = found.figures.mass_g.value
    assert steam.grams.value + strainer.grams.value == pytest.approx(went_in - came_out, abs=3)
    assert 60 < steam.grams.value < 230
    assert 30 < strainer.grams.value < 160
    assert found.brix_unboiled < 50 < found.figures.brix.value
    assert found.brix_unstrained == pytest.approx(found.figures.brix.value, abs=0.1)
    # a scale instead of a jug leaves less to guess, and a refractometer almost nothing
    weighed = recipe(FRUIT, SIMMERED, 'weight = "512 g"\nbrix = "59 Brix"', kind="syrup/fruit")
    assert cook(tmp_path, weighed).losses[0].grams.sd < steam.grams.sd / 3


def test_a_strained_syrup_is_planned_at_three_weeks_and_one_with_fruit_at_less(
    tmp_path: Path,
) -> None:
    spiced = recipe(f'{PLAIN}\ncassia = "8 g"', SIMMERED, kind="syrup/spice")
    assert cook(tmp_path, spiced).keeping.life.days == 21
    assert cook(tmp_path, recipe(FRUIT, SIMMERED, kind="syrup/fruit")).keeping.life.days == 12
    assert cook(tmp_path, recipe(PLAIN)).keeping.life.days == 28
    rich = cook(tmp_path, recipe('white-sugar = "2 kg"\nwater = "1 kg"')).keeping
    assert rich.life.days == 90
    # CRC Handbook and Mohos 2010: 64.9 Brix saturate at 5 °C, 67.1 at 20 °C
    assert any("may crystallise" in said for said in rich.says)


def test_a_splash_of_spirit_is_shown_for_what_it_does(tmp_path: Path) -> None:
    steps = 'do = "cool"\ndo = "fortify"; ingredient = "vodka"; amount = "30 ml"'
    found = cook(tmp_path, recipe(EQUAL, steps))
    # 30 mL of 40 % in 1.63 L of syrup is 0.7 % vol: some 3 of the 17 Delle units that are missing
    assert found.figures.abv_pct.value == pytest.approx(0.72, abs=0.02)
    assert found.figures.delle.value < 66
    text = " ".join(found.keeping.says)
    assert "vodka in it brings 0.7 % vol" in text
    assert "preserves nothing" in text
    assert found.keeping.life.days == 28


def test_a_nut_syrup_keeps_to_the_rule_of_seven_days(tmp_path: Path) -> None:
    # FDA Food Code 3-501.17: the day it is made is the first of seven
    found = cook(tmp_path, recipe(f'{EQUAL}\nalmonds = "200 g"', SIMMERED, kind="syrup/nut"))
    assert (found.use_by - found.made).days == 6
    assert "3-501.17" in found.keeping.life.source
    assert any("allergen" in hazard for hazard in found.keeping.hazards)
    assert found.ingredient.allergens == frozenset({"nuts"})


@pytest.mark.parametrize(
    ("inputs", "named"),
    [
        ('garlic = "20 g"\nolive-oil = "500 g"', "botulism"),
        ('beetroot = "500 g"\nwater = "500 g"', "low-acid food"),
        ('heavy-cream = "500 ml"', "Dairy"),
        ('egg-white = "500 ml"', "pasteurised"),
    ],
)
def test_hazards_are_named_and_nothing_is_promised(tmp_path: Path, inputs: str, named: str) -> None:
    found = cook(tmp_path, recipe(inputs, kind="seasoning/savoury"))
    text = " ".join(found.keeping.hazards)
    assert named in text
    assert "no promise that it is safe" in text
    assert found.keeping.life.days <= 12


def test_bringing_a_spirit_to_strength_shrinks_as_the_gauging_manual_says(tmp_path: Path) -> None:
    # 27 CFR 30.66: 112 proof to 100 proof takes 12.42 volumes of water on 100, for 112 volumes
    inputs = 'gin-navy-strength = "1000 ml"\nwater = "124.2 ml"'
    bottle = "gin-navy-strength,700 ml,30,1 bottle,,abv=56%,\n"
    found = cook(tmp_path, recipe(inputs, kind="spirit/gin"), shelf=bottle)
    assert found.figures.abv_pct.value == pytest.approx(50, abs=0.03)
    assert found.figures.volume_ml.value == pytest.approx(1120, abs=0.6)


# Days are common practice, no source, as a table of the trade has them: opened vermouth 30 to 60,
# opened fino sherry 7 to 14, opened wine 3 to 5, a bottled drink of spirit and vermouth without
# juice 14 to 30. From which strength a wine counts as fortified, 15 % vol, is of Regulation (EU)
# 1308/2013, Annex VII, from memory; 78 Delle units are of Amerine and Kunkee, Vitis 5:187 (1965).
BOTTLED = 'gin = "500 ml"\ndry-vermouth = "{} ml"\nwater = "{} ml"'


@pytest.mark.parametrize(
    ("inputs", "steps", "days", "why"),
    [
        # some 20 % vol, no sugar: 4.5 · 20 = 90 units
        (BOTTLED.format(100, 560), "", 14, "a bottled drink with dry vermouth in it"),
        (BOTTLED.format(100, 400), "", 14, "a bottled drink with dry vermouth in it"),
        ('sweet-vermouth = "1 L"\nallspice = "5 g"', STRAINED, 30, "like an opened vermouth"),
        ('sweet-vermouth = "1 L"\nstrawberries = "40 g"', STRAINED, 12, "it holds strawberries"),
        # 15.4 % vol without sugar: 69 units
        ('vodka = "400 ml"\nwater = "640 ml"', "", 7, "like an opened fino sherry"),
        ('vodka = "250 ml"\nwater = "750 ml"', "", 3, "like an opened wine"),
        ('white-wine = "1 L"', "", 3, "like an opened wine"),
        ('vodka = "20 ml"\nwater = "980 ml"', "", 3, "hardly any sugar or alcohol"),
        ('vodka = "600 ml"\nwater = "400 ml"', "", 365, "24 % vol of alcohol"),
    ],
)
def test_a_bottle_with_alcohol_keeps_like_the_wine_of_its_strength(
    tmp_path: Path, inputs: str, steps: str, days: int, why: str
) -> None:
    found = cook(tmp_path, recipe(inputs, steps, kind="fortified/aperitif"))
    assert found.keeping.life.days == days
    assert why in found.keeping.life.why
    if found.figures.abv_pct.value >= 5:
        assert "hardly any" not in found.keeping.life.why
    assert any("no promise that it is safe" in hazard for hazard in found.keeping.hazards)


def test_more_of_the_same_spirit_never_shortens_the_life_of_a_bottle(tmp_path: Path) -> None:
    days = []
    for gin_ml in range(0, 700, 50):
        inputs = f'gin = "{gin_ml} ml"\nwater = "600 ml"' if gin_ml else 'water = "600 ml"'
        days.append(cook(tmp_path, recipe(inputs, kind="spirit/gin")).keeping.life.days)
    assert days == sorted(days)
