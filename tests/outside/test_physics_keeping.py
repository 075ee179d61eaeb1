"""Water activity, boiling points and solubility against what others have published."""

from __future__ import annotations

import pytest

from solver.mixture import from_label, sucrose
from solver.mixture.boiling import boiling_celsius, vapour_kpa
from solver.mixture.keeping import (
    AW_ACID_RULES,
    DELLE_STABLE,
    activity_at_freezing,
    delle_units,
    ethanol_activity,
    norrish,
    spirit_against_yeast_ml,
    water_activity,
)
from tests.ingredient_tables import published

ACTIVITIES = published("physics_water_activity.csv")
BOILING = published("physics_boiling_sucrose.csv")


@pytest.mark.parametrize("row", ACTIVITIES, ids=lambda row: f"{row['solute']} {row['mass_pct']}")
def test_water_activity_is_that_of_freezing_points_and_of_another_equation(
    row: dict[str, str],
) -> None:
    # CRC Handbook, 102nd ed. (2021); Starzak and Peacock, Zuckerindustrie 122:380 (1997)
    share = float(row["mass_pct"]) / 100
    ethanol = row["solute"] == "ethanol"
    ours = float(ethanol_activity(share) if ethanol else norrish(row["solute"], share))
    others = [float(row[name]) for name in ("starzak_peacock_25C", "freezing") if row[name]]
    assert others
    for other in others:
        assert ours == pytest.approx(other, abs=0.0016)


@pytest.mark.parametrize(
    ("depression", "activity"),
    # CRC Handbook, 102nd ed. (2021): ethanol of 10, 15 and 20 % by mass freezes at -4.47, -7.36 and
    # -10.92 °C; activities computed outside this project
    [(4.47, 0.9575), (7.36, 0.9309), (10.92, 0.899)],
)
def test_freezing_points_turn_into_water_activities(depression: float, activity: float) -> None:
    assert float(activity_at_freezing(depression)) == pytest.approx(activity, abs=0.0003)


def test_only_the_syrup_of_two_parts_of_sugar_comes_near_the_line_of_the_acid_rules() -> None:
    # 21 CFR 114.3: water activity above 0.85; Beuchat, Cereal Foods World 26:345 (1981): 55 %
    # sucrose about 0.91, which is a little lower than the equations have it
    thin, strong = float(norrish("sucrose", 0.5)), float(norrish("sucrose", 2 / 3))
    assert thin > 0.93
    assert strong == pytest.approx(AW_ACID_RULES, abs=0.005)
    assert float(norrish("sucrose", 0.55)) == pytest.approx(0.91, abs=0.01)


@pytest.mark.parametrize(
    ("sugar_g_100ml", "abv_pct", "units"),
    # Amerine and Kunkee, Vitis 5:187 (1965), S + 4.5 A, worked outside this project
    [(61.5, 0, 61.5), (58, 5, 80.5), (16, 16.5, 90.25), (45, 0, 45)],
)
def test_delle_units_of_familiar_bottles(
    sugar_g_100ml: float, abv_pct: float, units: float
) -> None:
    assert float(delle_units(sugar_g_100ml, abv_pct)) == pytest.approx(units)


def test_a_splash_of_spirit_does_not_do_what_it_is_said_to_do() -> None:
    # Common practice, no source: 15 to 30 mL of 40 % spirit a litre of 1:1 syrup
    for splash_ml in (15, 30):
        abv = 40 * splash_ml / (1000 + splash_ml)
        sugar = 61.48 * 1000 / (1000 + splash_ml)
        assert float(delle_units(sugar, abv)) < DELLE_STABLE - 10
    # worked outside this project: a 1:1 syrup needs 4 to 6 % vol by this criterion
    added_ml = float(spirit_against_yeast_ml(61.48, 40))
    assert 4 < 40 * added_ml / (1000 + added_ml) < 6


@pytest.mark.parametrize("row", BOILING, ids=lambda row: f"{row['brix']} Brix")
def test_boiling_points_of_syrup(row: dict[str, str]) -> None:
    # Browne 1912 and a computation outside this project, as the table says; Browne reads high
    # above 62 Brix
    brix = float(row["brix"])
    ours = boiling_celsius(brix) - boiling_celsius(0)
    assert ours == pytest.approx(float(row["elsewhere_celsius"]), abs=0.012)
    if brix <= 64:
        assert ours == pytest.approx(float(row["browne_1912_celsius"]), abs=0.41)


def test_jam_boils_where_a_cookery_book_has_it() -> None:
    # Cruess and McNair, in Experimental Cookery: 65 Brix boils 3.9 °C above water
    assert boiling_celsius(65) - boiling_celsius(0) == pytest.approx(3.9, abs=0.15)


def test_water_boils_at_one_atmosphere_and_lower_on_a_mountain() -> None:
    # IAPWS: 99.974 °C at 101.325 kPa; 70.18 kPa at 90 °C (steam tables, from memory)
    assert boiling_celsius(0) == pytest.approx(99.974, abs=0.001)
    assert float(vapour_kpa(90)) == pytest.approx(70.18, abs=0.02)


@pytest.mark.parametrize(
    ("celsius", "mass_pct"),
    # CRC Handbook (older ed.) and Mohos 2010, Tables A2.2 and A2.3
    [(5, 64.87), (20, 67.09), (40, 70.42)],
)
def test_a_saturated_syrup_is_at_its_limit_at_its_temperature(
    celsius: float, mass_pct: float
) -> None:
    # the two published curves are 0.4 % apart, some 5 °C
    assert float(sucrose.saturation_celsius(mass_pct)) == pytest.approx(celsius, abs=6)


def test_alcohol_and_sugar_lower_the_water_activity_together() -> None:
    sweet = float(water_activity(from_label(sugar_g_100ml=60)))
    strong = float(water_activity(from_label(abv_pct=20)))
    both = float(water_activity(from_label(abv_pct=20, sugar_g_100ml=60)))
    assert both < min(sweet, strong)
