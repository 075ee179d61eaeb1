"""Freezing points and cold volumes as published, and what the trade says of freezers."""

from __future__ import annotations

import numpy as np
import pytest

from solver.mixture import from_label, measure
from solver.mixture.blend import ACID, COLUMNS, ETHANOL, LABEL, SUGAR, WATER
from solver.mixture.freezing import ERROR_CELSIUS, chilled, onset_celsius
from tests.ingredient_tables import published

LANGE = published("physics_freezing_ethanol.csv")
CRC = published("physics_freezing_crc.csv")
COLUMN = {"ethanol": ETHANOL, "sucrose": SUGAR, "citric_acid": ACID}
WITHIN = {"ethanol": 0.25, "sucrose": 0.2, "citric_acid": 0.8}
"""Degrees; the acid is at 30 % by mass then, and in drinks at most at 6."""
TABULATED = {5, 10, 15, 20, 30, 36, 40, 50, 62, 68}
"""Mass per cent of ethanol that `solver.mixture.keeping` has a row for."""


@pytest.mark.parametrize("row", LANGE, ids=lambda row: f"{row['vol_pct']} % vol")
def test_spirits_freeze_where_another_handbook_has_it(row: dict[str, str]) -> None:
    # Lange's Handbook of Chemistry, 15th ed., Table 5.13; ours are from the CRC Handbook
    spirit = from_label(abv_pct=float(row["vol_pct"]))
    assert onset_celsius(spirit) == pytest.approx(float(row["freezing_celsius"]), abs=ERROR_CELSIUS)


@pytest.mark.parametrize("row", CRC, ids=lambda row: f"{row['solute']} {row['mass_pct']}")
def test_solutions_freeze_where_they_were_measured(row: dict[str, str]) -> None:
    # CRC Handbook of Chemistry and Physics, 102nd ed. (2021)
    solution = np.zeros(len(COLUMNS))
    solution[WATER] = 100 - float(row["mass_pct"])
    solution[COLUMN[row["solute"]]] = float(row["mass_pct"])
    expected = -float(row["depression_celsius"])
    assert onset_celsius(solution) == pytest.approx(expected, abs=WITHIN[row["solute"]])


@pytest.mark.parametrize(
    "row",
    [row for row in CRC if row["solute"] == "ethanol" and float(row["mass_pct"]) in TABULATED],
    ids=lambda row: row["mass_pct"],
)
def test_a_tabulated_strength_freezes_exactly_where_the_table_has_it(row: dict[str, str]) -> None:
    solution = np.zeros(len(COLUMNS))
    solution[WATER], solution[ETHANOL] = 100 - float(row["mass_pct"]), float(row["mass_pct"])
    assert onset_celsius(solution) == pytest.approx(-float(row["depression_celsius"]), abs=1e-6)


def test_the_stated_error_is_that_of_two_handbooks_and_little_more() -> None:
    # Lange's Handbook, Table 5.13, against the CRC Handbook
    apart = max(
        abs(
            onset_celsius(from_label(abv_pct=float(row["vol_pct"])))
            - float(row["freezing_celsius"])
        )
        for row in LANGE
    )
    assert apart == pytest.approx(1.4, abs=0.05)
    assert ERROR_CELSIUS == 1.5


def test_a_cold_spirit_takes_the_room_that_the_gauging_manual_gives_it() -> None:
    # 27 CFR 30.67, Table 7: 1 gallon of 180 proof at 51 °F is 1.0055 gallons at 60 °F
    spirit = from_label(abv_pct=90)
    at_51f, at_60f = (chilled(spirit, (f - 32) / 1.8).volume_ml for f in (51, 60))
    assert at_60f / at_51f == pytest.approx(1.0055, abs=0.0006)


def stirred(water_share: float) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    """Two parts of rye, one of sweet vermouth, and a share of water."""
    rye, vermouth = from_label(abv_pct=50), from_label(abv_pct=16, sugar_g_100ml=15)
    mixed = 2 * rye + vermouth
    water = np.zeros(len(COLUMNS))
    water[WATER] = water[LABEL] = 1.0
    return np.asarray(mixed + water * 3 * water_share / (1 - water_share))


@pytest.mark.parametrize("share", [0.20, 0.25])
def test_a_strong_batch_with_a_fifth_to_a_quarter_of_water_pours_from_the_freezer(
    share: float,
) -> None:
    # common practice, no source: 20-25 % of water, and above some 25 % vol it stays pourable
    batch = stirred(share)
    assert float(measure(batch).abv_pct) > 25
    assert chilled(batch, -12).ice_share == 0


def test_a_weak_batch_is_slush_in_the_freezer() -> None:
    # common practice, no source
    weak = from_label(abv_pct=17, sugar_g_100ml=7)
    assert chilled(weak, -18).ice_share > 0.3
