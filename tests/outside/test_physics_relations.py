"""Published relations between the figures of a drink, its spirits and its sugar."""

from __future__ import annotations

import pytest

from solver.mixture import TECHNIQUES, ethanol, from_label, measure, sucrose


@pytest.mark.parametrize(
    ("share", "celsius", "density_kg_m3"),
    [
        # The formula of OIML R 22 evaluated independently of this project
        (0.0, 20, 998.20123), (1.0, 20, 789.2391233), (0.5, 20, 913.7705950),
        (0.0, 0, 999.8369332), (1.0, 0, 806.2151206),
    ],
)  # fmt: skip
def test_density_equals_the_formula_evaluated_elsewhere(
    share: float, celsius: float, density_kg_m3: float
) -> None:
    ours = float(ethanol.density_kg_m3(share, celsius))
    assert ours == pytest.approx(density_kg_m3, abs=6e-8)


@pytest.mark.parametrize(
    ("celsius", "mass_pct"),
    [
        # CRC Handbook (older ed.) and Mohos 2010, Tables A2.2 and A2.3
        (0, 64.18), (5, 64.87), (10, 65.58), (15, 66.33), (20, 67.09), (25, 67.89), (30, 68.70),
        (40, 70.42), (50, 72.25), (60, 74.18), (80, 78.36), (100, 82.97),
    ],
)  # fmt: skip
def test_solubility_of_sugar_is_that_of_older_tables_to_half_a_percent(
    celsius: float, mass_pct: float
) -> None:
    assert float(sucrose.solubility_mass_pct(celsius)) == pytest.approx(mass_pct, abs=0.43)


def test_energy_of_80_proof_spirits_is_that_of_their_ethanol() -> None:
    # USDA FoodData Central, SR Legacy: 231 kcal in 100 g and nothing but alcohol; 6.93 kcal a gram
    # (Atwater's specific factor, as USDA uses it; from memory)
    by_energy = 231 / 6.93 / 100
    assert float(ethanol.mass_fraction(40.0)) == pytest.approx(by_energy, abs=0.0005)
    assert float(ethanol.abv_pct(by_energy)) == pytest.approx(40, abs=0.06)


def tabarie_density_g_ml(abv_pct: float, sugar_g_100ml: float) -> float:
    """Density by Tabarié's relation: that of the alcohol alone plus what the sugar alone adds."""
    alcohol = float(measure(from_label(abv_pct=abv_pct)).density_g_ml)
    sugar = float(measure(from_label(sugar_g_100ml=sugar_g_100ml)).density_g_ml)
    return alcohol + sugar - ethanol.WATER_G_ML


@pytest.mark.parametrize("abv_pct", [3, 8, 13, 18, 22])
@pytest.mark.parametrize("sugar_g_100ml", [1, 3, 5])
def test_tabaries_relation_holds_where_it_was_found_to_hold(
    abv_pct: float, sugar_g_100ml: float
) -> None:
    # Hackbarth, J. Am. Soc. Brew. Chem. 67(3):146 (2009), abstract: n = 111, fit 5.6e-5, below 5 %
    # sucrose and 18 % ethanol by mass
    ours = float(measure(from_label(abv_pct=abv_pct, sugar_g_100ml=sugar_g_100ml)).density_g_ml)
    assert ours == pytest.approx(tabarie_density_g_ml(abv_pct, sugar_g_100ml), abs=1.0e-4)


@pytest.mark.parametrize(("abv_pct", "sugar_g_100ml"), [(30, 30), (40, 20), (40, 30)])
def test_strong_sweet_drinks_are_roomier_than_tabarie_says(
    abv_pct: float, sugar_g_100ml: float
) -> None:
    # Hackbarth, J. Am. Soc. Brew. Chem. 69(1):39 (2011), abstract: expansion above 7 mol % ethanol
    ours = float(measure(from_label(abv_pct=abv_pct, sugar_g_100ml=sugar_g_100ml)).density_g_ml)
    assert ours < tabarie_density_g_ml(abv_pct, sugar_g_100ml)


def test_extract_by_the_wine_laboratorys_relation_is_the_sugar() -> None:
    # OIV-MA-AS2-03B: dr = dv - da + 1.000; the relation is good to some 0.5 g/L up to
    # 100 g/L and 20 % vol
    for abv_pct in (8, 12, 16, 20):
        for sugar_g_100ml in (0.5, 4, 10):
            wine = measure(from_label(abv_pct=abv_pct, sugar_g_100ml=sugar_g_100ml))
            alcohol = measure(from_label(abv_pct=abv_pct))
            residue = float(wine.density_g_ml - alcohol.density_g_ml) + ethanol.WATER_G_ML
            low, high = 0.0, 20.0
            for _ in range(50):
                extract = (low + high) / 2
                solution = float(measure(from_label(sugar_g_100ml=extract)).density_g_ml)
                low, high = (extract, high) if solution < residue else (low, extract)
            assert extract == pytest.approx(sugar_g_100ml, abs=0.05)


def test_lower_strength_explains_the_lower_band_of_egg_white_drinks() -> None:
    # Arnold, Liquid Intelligence (2014), balance table, from memory: 46-49 % at 18-23 % vol before
    # ice. The shaken curve lies in the band up to 20 % vol and 3 points above it at 23.
    weak, middling, strong = 100 * TECHNIQUES["shake-egg"].curve.fraction([0.18, 0.20, 0.23])
    assert 46 <= weak < middling <= 49
    assert strong == pytest.approx(49, abs=3.2)
    assert TECHNIQUES["shake-egg"].curve == TECHNIQUES["shake"].curve
