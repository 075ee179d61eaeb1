"""Densities of ethanol and of sugar in water against printed tables.

Each table in tests/outside/data names its source at its head.
"""

from __future__ import annotations

import numpy as np
import pytest

from solver.mixture import ethanol, sucrose
from solver.mixture.acids import ACIDS
from tests.ingredient_tables import published

ETHANOL = published("physics_ethanol_density.csv")
SUCROSE = published("physics_sucrose_density.csv")
APPARENT = published("physics_apparent_volumes.csv")

OLD_GRAM_PER_ML = 0.999972
"""An old millilitre is 1.000028 cm³: printed g/mL of before 1964 are larger than kg/m³ / 1000."""


def ethanol_misses(source: str) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    """Ours minus printed, kg/m³, for every row of a source."""
    misses = []
    for row in ETHANOL:
        if row["source"] != source:
            continue
        amount = float(row["composition"])
        by_mass = row["composition_unit"] == "mass_pct"
        share = np.array(amount / 100) if by_mass else ethanol.mass_fraction(np.array(amount))
        ours = float(ethanol.density_kg_m3(share, float(row["celsius"])))
        misses.append(ours - float(row["density_kg_m3"]))
    return np.array(misses)


@pytest.mark.parametrize(
    ("source", "rows", "worst_kg_m3"),
    [
        ("OIML table", 33, 0.0055),  # half of its last digit, and that of the formula
        ("OIML erratum", 1, 0.0015),
        ("OIV", 9, 0.035),  # one cell is printed to 0.1
        ("Perry", 81, 0.06),
        ("CRC", 28, 0.28),  # prints four decimals, of older measurements
    ],
)
def test_ethanol_density_equals_the_printed_table(
    source: str, rows: int, worst_kg_m3: float
) -> None:
    misses = ethanol_misses(source)
    assert len(misses) == rows
    assert np.abs(misses).max() <= worst_kg_m3


def test_oiml_cells_vary_mass_and_temperature_together() -> None:
    # Wrong cross coefficients pass every test at 20 °C.
    cells = [row for row in ETHANOL if row["source"] == "OIML table"]
    crossed = {
        (row["composition"], row["celsius"])
        for row in cells
        if float(row["composition"]) not in (0.0, 100.0) and float(row["celsius"]) != 20
    }
    assert len(crossed) >= 10
    assert len({share for share, _ in crossed}) >= 3
    assert len({celsius for _, celsius in crossed}) >= 3


@pytest.mark.parametrize(
    ("abv_pct", "mass_pct", "density_kg_m3"),
    [
        # OIML R 22 / European Pharmacopoeia alcoholometric tables, 20 °C
        (5, 3.982, 991.06), (10, 8.015, 984.71), (15, 12.093, 978.97), (20, 16.214, 973.56),
        (25, 20.381, 968.10), (30, 24.607, 962.21), (35, 28.907, 955.59), (40, 33.300, 948.05),
        (45, 37.801, 939.54), (50, 42.426, 930.14), (60, 52.088, 909.11), (70, 62.386, 885.56),
        (80, 73.480, 859.27), (90, 85.665, 829.18), (95, 92.408, 811.38), (100, 100.0, 789.24),
    ],
)  # fmt: skip
def test_strength_to_mass_equals_the_alcoholometric_table(
    abv_pct: float, mass_pct: float, density_kg_m3: float
) -> None:
    share = ethanol.mass_fraction(np.array(abv_pct))
    assert float(share) * 100 == pytest.approx(mass_pct, abs=0.0006)
    assert float(ethanol.density_kg_m3(share)) == pytest.approx(density_kg_m3, abs=0.0055)


def sucrose_bound_kg_m3(row: dict[str, str]) -> float:
    """Agreement measured when the reference was put together: older CRC data part above 60 Brix."""
    if row["source"].startswith("Asadi"):
        return 0.06
    if float(row["celsius"]) != 20:
        return 0.08
    return 0.22 if float(row["mass_pct"]) <= 60 else 0.85


@pytest.mark.parametrize("row", SUCROSE, ids=lambda row: f"{row['source'][:5]}-{row['mass_pct']}")
def test_sucrose_density_equals_the_printed_table(row: dict[str, str]) -> None:
    share = np.array(float(row["mass_pct"]) / 100)
    ours = float(sucrose.density_kg_m3(share, float(row["celsius"])))
    assert ours == pytest.approx(float(row["density_kg_m3"]), abs=sucrose_bound_kg_m3(row))


@pytest.mark.parametrize("row", published("physics_syrups.csv"), ids=lambda row: row["syrup"])
def test_syrup_holds_the_sugar_and_water_computed_elsewhere(row: dict[str, str]) -> None:
    brix = float(row["brix"])
    density = float(sucrose.density_kg_m3(np.array(brix / 100))) / 1000
    sugar = float(sucrose.grams_per_100ml(np.array(brix)))
    assert density == pytest.approx(float(row["density_g_ml"]), abs=6e-5)
    assert sugar == pytest.approx(float(row["sugar_g_100ml"]), abs=0.006)
    assert 100 * density - sugar == pytest.approx(float(row["water_g_100ml"]), abs=0.006)
    assert float(sucrose.brix(np.array(sugar))) == pytest.approx(brix, abs=1e-9)


@pytest.mark.parametrize("name", ["citric", "lactic", "acetic", "phosphoric"])
def test_apparent_volume_of_an_acid_is_that_of_its_printed_solutions(name: str) -> None:
    # CRC Handbook, 102nd ed.: (1/ρ - (1-w)/ρ_water) / w of 5-20 % solutions; mean within 0.006
    volumes = []
    for row in APPARENT:
        if row["solute"] == f"{name}_acid":
            share = float(row["mass_pct"]) / 100
            room = 1 / float(row["density_g_ml"]) - (1 - share) / ethanol.WATER_G_ML
            volumes.append(room / share)
    assert len(volumes) >= 10
    assert np.mean(volumes) == pytest.approx(ACIDS[name].apparent_volume_ml_g, abs=0.006)


@pytest.mark.parametrize(
    ("name", "grams_for_one_citric"),
    [
        ("malic", 1.047), ("tartaric", 1.172), ("lactic", 1.407), ("acetic", 0.938),
        ("phosphoric", 0.765), ("ascorbic", 2.750),
    ],
)  # fmt: skip
def test_acid_counts_as_its_equivalent_mass(name: str, grams_for_one_citric: float) -> None:
    # AOAC 942.15 factors (citric 0.06404, malic 0.067, ...); phosphoric with two protons
    assert 1 / ACIDS[name].citric_equivalent == pytest.approx(grams_for_one_citric, rel=0.002)
