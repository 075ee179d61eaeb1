"""Planned lives and hazards of figures alone: every line of the table, at and below its threshold.

Days are common practice, no source, but for the rule of seven days: FDA Food Code 3-501.17, as in
Minnesota Rules 4626.0400, counts the day it is made as the first, so six more. 15 % vol makes a
wine a liqueur wine: Regulation (EU) 1308/2013, Annex VII, from memory. 78 units stop yeast: Amerine
and Kunkee, Vitis 5:187 (1965). 0.85 is of 21 CFR 114.3.
"""

from __future__ import annotations

from datetime import date

import pytest

from solver.mixture.sucrose import solubility_mass_pct
from solver.pantry.library import load_library
from solver.tasks.prep.shelf_life import Keeping, Life, keeping_of

WEAK = 0.999
"""Water activity of something that holds hardly anything."""


def kept(
    *keys: str, strained: bool = False, brix: float = 0, sugar: float = 0, acid: float = 1,
    abv: float = 0, activity: float = WEAK,
) -> Keeping:  # fmt: skip
    """What is planned for something made of ingredients of the library, with these figures."""
    inputs = [load_library().find(key) for key in keys]
    return keeping_of(
        inputs,
        strained=strained,
        brix=brix,
        sugar_g_100ml=sugar,
        acid_g_100ml=acid,
        abv_pct=abv,
        activity=activity,
    )


def named(found: Keeping) -> str:
    return " ".join(found.hazards)


@pytest.mark.parametrize(
    ("strained", "brix", "sugar", "abv", "days"),
    [
        (False, 0, 0, 20, 365),
        (True, 0, 0, 20, 90),
        (True, 0, 0, 29.9, 90),
        (True, 0, 0, 30, 180),
        (False, 65, 0, 19.9, 90),
        (True, 65, 0, 0, 90),
        (False, 64.9, 0, 0, 28),
        (True, 64.9, 0, 0, 21),
        (False, 45, 0, 0, 28),
        (True, 45, 0, 0, 21),
        (False, 44.9, 0, 15, 7),
        (False, 0, 10.5, 15, 30),
        (False, 0, 10.4, 15, 7),
        (False, 25, 0, 14.9, 7),
        (False, 24.9, 0, 14.9, 3),
        (False, 24.9, 0, 0, 3),
    ],
)
def test_sugar_and_alcohol_plan_the_days_from_each_threshold_on(
    strained: bool, brix: float, sugar: float, abv: float, days: int
) -> None:
    found = kept("white-sugar", strained=strained, brix=brix, sugar=sugar, abv=abv)
    assert found.life.days == days


@pytest.mark.parametrize(("abv", "why"), [(5, "an opened wine"), (4.9, "hardly any")])
def test_from_five_per_cent_on_it_keeps_like_an_opened_wine(abv: float, why: str) -> None:
    assert why in kept("vodka", abv=abv).life.why


@pytest.mark.parametrize(("key", "days"), [("lemon-peel", 90), ("gum-arabic", 365)])
def test_what_was_drawn_from_raw_stuff_keeps_less_long_but_gum_dissolves(
    key: str, days: int
) -> None:
    assert kept("vodka", key, abv=25).life.days == days


def test_acid_salt_and_water_keep_two_months_and_nothing_else_does() -> None:
    assert kept("citric-acid-solution", "salt", "water").life.days == 60
    assert kept("water", "salt").life.days == 3
    assert kept("citric-acid-solution", "white-sugar", "water").life.days == 3


CONTENTS = [
    ("heavy-cream", 6), ("yogurt", 6), ("egg-white", 6), ("cream-liqueur", 6), ("almonds", 6),
    ("sesame-seeds", 6), ("rice", 6), ("orgeat", 6), ("coconut-milk", 5), ("aquafaba", 5),
    ("olive-oil", 6), ("raisins", 12), ("lime-juice", 12), ("raspberry-syrup", 12),
    ("beetroot", 12), ("tomato-juice", 12), ("honey-syrup", 14),
]  # fmt: skip


@pytest.mark.parametrize(("key", "days"), CONTENTS)
def test_what_spoils_sets_the_days_of_a_syrup_however_rich(key: str, days: int) -> None:
    assert kept("white-sugar", key, brix=66).life.days == days
    assert kept("white-sugar", key, brix=66, abv=19.9).life.days == days


@pytest.mark.parametrize(
    ("key", "days"), [(key, days) for key, days in CONTENTS if days != 6 or key == "almonds"]
)
def test_from_twenty_per_cent_on_it_is_the_alcohol_that_keeps_it(key: str, days: int) -> None:
    assert kept(key, abv=20).life.days > days


@pytest.mark.parametrize("key", ["heavy-cream", "yogurt", "egg-white", "cream-liqueur"])
def test_dairy_and_egg_keep_to_the_rule_of_seven_days_whatever_the_alcohol(key: str) -> None:
    found = kept("overproof-rum", key, abv=45)
    assert found.life.days == 6
    assert "3-501.17" in found.life.source


@pytest.mark.parametrize("key", ["black-tea-leaves", "brewed-coffee", "bay-leaves"])
def test_tea_coffee_and_herbs_with_little_sugar_keep_three_days(key: str) -> None:
    assert kept(key, brix=44.9).life.days == 3
    assert kept(key, brix=45).life.days > 3


@pytest.mark.parametrize("key", ["sweet-vermouth", "white-wine", "lager"])
def test_what_air_does_to_wine_counts_however_strong_the_bottle_is(key: str) -> None:
    assert kept(key, abv=14.9, sugar=0).life.days == 3
    assert kept(key, "gin", abv=35).life.days == 14
    assert kept(key, "orange-liqueur", abv=35).life.days == 14
    assert kept(key, "aromatic-bitters", abv=35).life.days == 14
    assert kept(key, abv=35).life.days == 30
    # sugar does for yeast what strength does not: 4.5 · 10 + 33 = 78
    assert kept(key, brix=30, sugar=33, abv=10).life.days == 7
    assert kept(key, brix=30, sugar=32.9, abv=10).life.days == 3


def test_the_last_day_is_counted_from_the_day_it_is_made() -> None:
    life = Life(6, "", "published", "")
    assert life.ends(date(2026, 11, 26)) == date(2026, 12, 2)
    assert Life(365, "", "practice", "").ends(date.max) == date.max


@pytest.mark.parametrize(
    "key",
    [
        "beetroot", "almonds", "sesame-seeds", "cocoa-nibs", "rice", "black-tea-leaves",
        "bay-leaves", "tomato-juice", "brewed-coffee",
    ],
)  # fmt: skip
def test_what_brings_no_acid_is_named_as_low_in_acid(key: str) -> None:
    assert "21 CFR 114.3" in named(kept(key, acid=0.29))


@pytest.mark.parametrize(
    ("acid", "activity", "abv", "low"),
    [
        (0.29, 0.851, 19.9, True),
        (0.3, 0.851, 19.9, False),
        (0.29, 0.85, 19.9, False),
        (0.29, 0.851, 20, False),
    ],
)
def test_acid_dryness_or_alcohol_each_end_the_warning_of_low_acid(
    acid: float, activity: float, abv: float, low: bool
) -> None:
    found = named(kept("beetroot", acid=acid, activity=activity, abv=abv))
    assert ("low-acid food" in found) == low


@pytest.mark.parametrize("key", ["beetroot", "bay-leaves"])
def test_what_grows_lies_under_oil_with_a_warning_of_botulism(key: str) -> None:
    assert "botulism" in named(kept("olive-oil", key, abv=19.9))
    assert "botulism" not in named(kept("olive-oil", key, abv=20))
    assert "botulism" not in named(kept(key))
    assert "botulism" not in named(kept("olive-oil", "lime-juice"))


@pytest.mark.parametrize(
    ("key", "warning"),
    [
        ("almonds", "Nuts"), ("orgeat", "Nuts"), ("amaretto", "Nuts"), ("heavy-cream", "Dairy"),
        ("yogurt", "Dairy"), ("cream-liqueur", "Dairy"), ("egg-yolk", "raw"),
    ],
)  # fmt: skip
def test_allergens_and_raw_egg_are_named_whatever_the_alcohol(key: str, warning: str) -> None:
    assert warning in named(kept(key, abv=40))
    assert "no promise that it is safe" in named(kept(key, abv=40))


def test_water_activity_is_said_to_be_on_its_side_of_the_line() -> None:
    assert "at or below the 0.85" in " ".join(kept(activity=0.85).says)
    assert "above the 0.85" in " ".join(kept(activity=0.851).says)
    assert kept("vodka", abv=20).says == (
        "At 20 % vol it is the alcohol that keeps it, whatever its sugar.",
    )


def test_units_against_yeast_are_said_to_be_enough_from_seventy_eight_on() -> None:
    assert "78 Delle units, above" in " ".join(kept(sugar=78).says)
    assert "77 Delle units of the 78" in " ".join(kept(sugar=77.4).says)


def test_crystals_are_foretold_beyond_what_dissolves_in_the_fridge_and_not_with_alcohol() -> None:
    most = float(solubility_mass_pct(4.0))
    for brix, abv, foretold in ((most + 0.01, 4.9, True), (most, 0, False), (most + 1, 5, False)):
        found = kept("white-sugar", brix=brix, abv=abv)
        assert ("may crystallise" in " ".join(found.says)) == foretold
