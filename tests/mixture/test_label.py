"""From a label to a composition and back, and the labels that cannot be."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from solver.mixture import ImpossibleLabel, UnknownAcid, from_dry, from_label, measure
from solver.mixture.acids import ACIDS, mass_and_volume
from solver.mixture.blend import ACID, LABEL, SOLIDS, SOLIDS_ML, SUGAR, WATER
from tests.each import each
from tests.ingredient_tables import ingredient_tables, number


@given(st.floats(0, 60), st.floats(0, 45), st.floats(0, 6), st.floats(0, 15))
def test_a_millilitre_measures_what_its_label_says(
    abv_pct: float, sugar: float, acid: float, other: float
) -> None:
    composition = from_label(
        abv_pct=abv_pct, sugar_g_100ml=sugar, acid_g_100ml=acid, other_g_100ml=other
    )
    measured = measure(composition)
    assert float(measured.volume_ml) == pytest.approx(1, abs=1e-9)
    assert float(measured.abv_pct) == pytest.approx(abv_pct, abs=1e-9)
    assert float(measured.sugar_g_100ml) == pytest.approx(sugar, abs=1e-9)
    assert float(measured.acid_g_100ml) == pytest.approx(acid, abs=1e-9)


@settings(max_examples=40, deadline=None)
@given(st.floats(0, 20), st.floats(0, 15), st.floats(0, 3), st.floats(0.0, 0.15))
def test_a_density_above_what_sugar_and_acid_imply_is_reached_by_other_matter(
    abv_pct: float, sugar: float, acid: float, heavier: float
) -> None:
    plain = from_label(abv_pct=abv_pct, sugar_g_100ml=sugar, acid_g_100ml=acid)
    density = float(measure(plain).mass_g) + heavier
    composition = from_label(
        abv_pct=abv_pct, sugar_g_100ml=sugar, acid_g_100ml=acid, density_g_ml=density
    )
    measured = measure(composition)
    assert float(measured.mass_g) == pytest.approx(density, abs=1e-6)
    assert float(measured.volume_ml) == pytest.approx(1, abs=1e-9)
    assert composition[SOLIDS] >= plain[SOLIDS]


def test_density_and_other_matter_together_give_its_room() -> None:
    # Cream: USDA, 39 g of fat and protein in 100 mL at 1.005 g/mL; fat takes about 1.08 mL/g.
    composition = from_label(sugar_g_100ml=2.9, density_g_ml=1.005, other_g_100ml=39)
    assert float(measure(composition).volume_ml) == pytest.approx(1, abs=1e-12)
    assert float(measure(composition).mass_g) == pytest.approx(1.005, abs=1e-12)
    assert 0.9 < composition[SOLIDS_ML] / 0.39 < 1.1


def test_a_density_without_other_matter_takes_no_room_without_mass() -> None:
    for other in (None, 0.0):
        composition = from_label(sugar_g_100ml=10, density_g_ml=1.06, other_g_100ml=other)
        assert composition[SOLIDS] > 0
        assert composition[SOLIDS_ML] == pytest.approx(0.62 * composition[SOLIDS])


def test_a_household_density_slightly_too_light_is_ignored() -> None:
    light = from_label(sugar_g_100ml=9.1, density_g_ml=1.031)
    np.testing.assert_array_equal(light, from_label(sugar_g_100ml=9.1))


def test_a_density_more_than_a_hundredth_and_a_half_too_light_is_refused() -> None:
    plain = float(measure(from_label(sugar_g_100ml=20)).mass_g)
    from_label(sugar_g_100ml=20, density_g_ml=plain / 1.0149)
    with pytest.raises(ImpossibleLabel, match="lighter than"):
        from_label(sugar_g_100ml=20, density_g_ml=plain / 1.0151)


@pytest.mark.parametrize("room", [0.29, 0.31, 1.29, 1.31])
def test_what_is_neither_sugar_nor_acid_takes_from_salt_s_room_to_just_beyond_fat_s(
    room: float,
) -> None:
    # 20 g in 100 mL that take so much each, and the rest water of 0.99820 g/mL
    density = 0.2 + (1 - 0.2 * room) * 0.99820123
    if 0.3 <= room <= 1.3:
        found = from_label(other_g_100ml=20, density_g_ml=density)
        assert found[SOLIDS_ML] == pytest.approx(0.2 * room)
        return
    with pytest.raises(ImpossibleLabel, match="contradict each other"):
        from_label(other_g_100ml=20, density_g_ml=density)


def test_pure_ethanol_is_a_possible_label() -> None:
    assert from_label(abv_pct=100)[WATER] == pytest.approx(0, abs=1e-5)


@pytest.mark.parametrize(
    ("label", "why"),
    [
        ({"abv_pct": 101}, "no room for water"),
        ({"abv_pct": 80, "sugar_g_100ml": 60}, "no room for water"),
        ({"sugar_g_100ml": 200}, "no room for water"),
        ({"other_g_100ml": 170}, "no room for water"),
        ({"sugar_g_100ml": 50, "density_g_ml": 1.0}, "lighter than"),
        ({"sugar_g_100ml": 9.1, "density_g_ml": 1.012}, "lighter than"),
        ({"density_g_ml": 2.0}, "more than dissolved matter can weigh"),
        ({"density_g_ml": 2.0, "other_g_100ml": 0}, "more than dissolved matter can weigh"),
        ({"sugar_g_100ml": 60, "density_g_ml": 0.9, "other_g_100ml": 40}, "weigh more than"),
        ({"density_g_ml": 1.4, "other_g_100ml": 10}, "contradict each other"),
        ({"density_g_ml": 0.8, "other_g_100ml": 10}, "contradict each other"),
        ({"abv_pct": -1}, "-1 is no figure"),
        ({"sugar_g_100ml": float("nan")}, "nan is no figure"),
        ({"density_g_ml": float("inf")}, "inf is no figure"),
    ],
)
def test_a_label_that_cannot_be_is_refused_with_its_reason(
    label: dict[str, float], why: str
) -> None:
    with pytest.raises(ImpossibleLabel, match=why):
        from_label(**label)  # type: ignore[arg-type]


def test_an_acid_of_unknown_name_is_an_error() -> None:
    with pytest.raises(UnknownAcid, match="unobtainic"):
        from_label(acid_g_100ml=1, acids={"unobtainic": 1.0})


@given(st.sampled_from(sorted(ACIDS)), st.floats(0, 10))
def test_grams_of_an_acid_titrate_as_they_count(name: str, as_citric: float) -> None:
    grams, millilitres = mass_and_volume(as_citric, {name: 1.0})
    assert grams * ACIDS[name].citric_equivalent == pytest.approx(as_citric)
    assert millilitres == pytest.approx(grams * ACIDS[name].apparent_volume_ml_g)


@given(st.floats(0, 100))
def test_a_gram_of_a_dry_good_weighs_a_gram(sugar_g_100g: float) -> None:
    composition = from_dry(sugar_g_100g=sugar_g_100g)
    assert float(measure(composition).mass_g) == pytest.approx(1)
    assert composition[SUGAR] == pytest.approx(sugar_g_100g / 100)
    assert composition[LABEL] == pytest.approx(0.62)


def test_a_gram_of_dry_acid_titrates_as_its_acid_does_and_takes_its_room() -> None:
    # malic acid: two protons and 134.09 g/mol, so that a gram titrates as 0.955 g of citric acid
    composition = from_dry(sugar_g_100g=20, acid_g_100g=50, acids={"malic": 1.0}, water_g_100g=10)
    grams, millilitres = mass_and_volume(0.5, {"malic": 1.0})
    assert grams == pytest.approx(0.5 / (192.124 / 3 * 2 / 134.09), rel=1e-4)
    assert composition[ACID] == pytest.approx(0.5)
    assert composition[WATER] == pytest.approx(0.1)
    rest = 1 - 0.2 - 0.1 - grams
    assert composition[SOLIDS] == pytest.approx(grams + rest)
    assert composition[SOLIDS_ML] == pytest.approx(millilitres + 0.62 * rest)
    room = millilitres + 0.62 * (rest + 0.2) + 0.1 / 0.99820123
    assert composition[LABEL] == pytest.approx(room)


def test_a_dry_good_may_be_a_thousandth_too_heavy_and_no_more() -> None:
    """Figures of tables are rounded."""
    assert from_dry(sugar_g_100g=99.95, water_g_100g=0.1)[SOLIDS] == 0
    assert from_dry(sugar_g_100g=90, other_g_100g=10.05)[SOLIDS] == pytest.approx(0.1)
    for water, other in ((0.2, 0.0), (0.0, 0.2)):
        with pytest.raises(ImpossibleLabel, match="weigh more"):
            from_dry(sugar_g_100g=99.95, water_g_100g=water, other_g_100g=other)


def test_a_dry_good_of_more_than_a_hundred_grams_is_refused() -> None:
    with pytest.raises(ImpossibleLabel, match="weigh more"):
        from_dry(sugar_g_100g=60, acid_g_100g=50)
    with pytest.raises(ImpossibleLabel, match="weigh more"):
        from_dry(sugar_g_100g=60, other_g_100g=50)
    with pytest.raises(ImpossibleLabel, match="no figure"):
        from_dry(sugar_g_100g=-1)


def composition_of(table: dict[str, Any]) -> Any:
    """The composition of an ingredient as its file states it, per mL or per g."""
    acids = table.get("acid", {}).get("acids") or table.get("acids")
    sugar, acid, other = (number(table, figure) for figure in ("sugar", "acid", "other"))
    if table.get("per") == "g":
        return from_dry(sugar_g_100g=sugar, acid_g_100g=acid, acids=acids, other_g_100g=other)
    return from_label(
        abv_pct=number(table, "abv"),
        sugar_g_100ml=sugar,
        acid_g_100ml=acid,
        acids=acids,
        density_g_ml=number(table, "density") or None,
        other_g_100ml=other,
    )


@each(sorted(ingredient_tables()))
def test_every_ingredient_of_the_library_is_a_mixture_that_can_be(key: str) -> None:
    table = ingredient_tables()[key]
    composition = composition_of(table)
    assert (composition >= 0).all()
    measured = measure(composition)
    if table.get("per") == "g":
        assert float(measured.mass_g) == pytest.approx(1, abs=2e-3)
        return
    assert float(measured.volume_ml) == pytest.approx(1, abs=1e-6)
    assert composition[WATER] > 0.1
    assert composition[ACID] == pytest.approx(number(table, "acid") / 100)
    if "density" in table:
        # Household-portion densities may be ignored up to 1.5 % below (see LIGHTEST_MISFIT).
        assert float(measured.mass_g) == pytest.approx(table["density"]["g_ml"], rel=0.0152)
