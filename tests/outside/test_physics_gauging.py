"""Ethanol and water at 60 °F, proofing down and gauging: the United States Gauging Manual.

27 CFR 30.11 and 30.61-30.67, and its Table 6 (tests/outside/data/physics_ttb_table6.csv).
"""

from __future__ import annotations

import numpy as np
import pytest

from solver.mixture import ethanol
from tests.each import each
from tests.ingredient_tables import published

LB_PER_GALLON_OF_WATER = 8.32823
"""Weight in air at 60 °F, 27 CFR 30.66."""

SIXTY_FAHRENHEIT = (60 - 32) / 1.8
TABLE_6 = published("physics_ttb_table6.csv")


def mass_fraction_at_60f(proof: float) -> float:
    """Mass fraction whose volume share at 60 °F is proof / 2 (27 CFR 30.11), by bisection."""
    pure = float(ethanol.density_kg_m3(np.array(1.0), SIXTY_FAHRENHEIT))
    low, high = 0.0, 1.0
    for _ in range(60):
        middle = (low + high) / 2
        share = float(ethanol.density_kg_m3(np.array(middle), SIXTY_FAHRENHEIT)) * middle / pure
        low, high = (middle, high) if share < proof / 200 else (low, middle)
    return low


def water_parts_at_60f(proof: float) -> float:
    """Volumes of water at 60 °F in a hundred volumes of spirit."""
    share = mass_fraction_at_60f(proof)
    density = float(ethanol.density_kg_m3(np.array(share), SIXTY_FAHRENHEIT))
    return 100 * (1 - share) * density / float(ethanol.density_kg_m3(np.array(0), SIXTY_FAHRENHEIT))


def water_to_reduce(proof: float, wanted: float) -> float:
    """Volumes of water that bring a hundred volumes down to a proof: the rule of 27 CFR 30.66."""
    return proof / wanted * water_parts_at_60f(wanted) - water_parts_at_60f(proof)


@each(TABLE_6)
def test_ethanol_and_water_at_60f_equal_the_gauging_manual(row: dict[str, str]) -> None:
    # US TTB Gauging Manual, Table 6
    proof = float(row["proof"])
    density = float(ethanol.density_kg_m3(np.array(mass_fraction_at_60f(proof)), SIXTY_FAHRENHEIT))
    water = float(ethanol.density_kg_m3(np.array(0.0), SIXTY_FAHRENHEIT))
    assert water_parts_at_60f(proof) == pytest.approx(float(row["parts_water"]), abs=0.0125)
    assert density / water == pytest.approx(float(row["sg_vacuum"]), abs=0.00008)


@pytest.mark.parametrize(
    ("proof", "wanted", "gallons", "within"),
    [
        # 27 CFR 30.66. For the first the regulation prints 1.84, having cut 95.5/94.0 to 1.01;
        # its own table worked exactly gives 1.89.
        (191, 188, 1.89, 0.02),
        (112, 100, 12.42, 0.012),
    ],
)
def test_water_to_reduce_equals_the_regulations_examples(
    proof: float, wanted: float, gallons: float, within: float
) -> None:
    assert water_to_reduce(proof, wanted) == pytest.approx(gallons, abs=within)


def volume_factor(proof: float, degrees: float) -> float:
    """Volume at 60 °F of one volume at another temperature: Table 7, 27 CFR 30.67."""
    share = mass_fraction_at_60f(proof)
    here = float(ethanol.density_kg_m3(share, (degrees - 32) / 1.8))
    return here / float(ethanol.density_kg_m3(share, SIXTY_FAHRENHEIT))


def gravity_in_air(proof: float) -> float:
    """Specific gravity 60/60 °F in air: that in vacuum less the buoyancy of 0.00122 g/mL of air."""
    water = float(ethanol.density_kg_m3(0.0, SIXTY_FAHRENHEIT))
    spirit = float(ethanol.density_kg_m3(mass_fraction_at_60f(proof), SIXTY_FAHRENHEIT))
    return (spirit - 1.22) / (water - 1.22)


@pytest.mark.parametrize(
    ("proof", "degrees", "factor", "within"),
    [
        # 27 CFR 30.67, examples: 1,000 gal of 190 proof at 76 °F are 991 at 60 °F; 55.1 gal at
        # 60 °F fill 55.6 at 76 °F; printed factors of Table 7
        (190, 76, 0.991, 0.0005),
        (190, 76, 55.1 / 55.6, 0.001),
        (180, 51, 1.0055, 0.0006),
        (180, 53, 1.004, 0.0005),
        (97, 93, 0.9851, 0.0002),
    ],
)
def test_volume_at_another_temperature_is_the_gauging_manuals(
    proof: float, degrees: float, factor: float, within: float
) -> None:
    assert volume_factor(proof, degrees) == pytest.approx(factor, abs=within)


@pytest.mark.parametrize(
    ("pounds", "proof", "wine_gallons", "within"),
    [
        # 27 CFR 30.62, 30.64, 30.65 and 30.66, examples
        (334, 96, 42.8, 0.05),
        (395, 113, 51.5, 0.05),
        (81_000, 190, 11_921.6, 1.0),
        (679.43, 190, 100.0, 0.01),
        (400, 141, 54.05, 0.005),
    ],
)
def test_gallons_by_weight_are_the_gauging_manuals(
    pounds: float, proof: float, wine_gallons: float, within: float
) -> None:
    gallons = pounds / (LB_PER_GALLON_OF_WATER * gravity_in_air(proof))
    assert gallons == pytest.approx(wine_gallons, abs=within)
