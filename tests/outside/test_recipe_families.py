"""Recipes that the association publishes and that differ by their base alone are one drink.

Source: International Bartenders Association, official recipes as published on the association's
site in March 2023 (see the head of association_specs.csv). Its earlier list also had the drink of
equal parts amaretto on Scotch whisky and on vodka, 35 ml of each: from memory. That an
old-fashioned is poured on bourbon or on rye is said in the published recipe itself.

Tolerance: one noticeable difference in every measure, which is what the project holds a swap to:
1 % vol, a tenth of the sugar and of the acid (at least 0.5 and 0.05 g/100 mL), 10 mL.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from solver.drinks.assess import assess
from solver.measures import MEASURES
from solver.pantry.bar import Bar
from solver.pantry.load_bar import load_bar
from solver.pantry.own_figures import with_own_figures
from solver.pantry.spec import Spec, SpecPour
from solver.quantities import parse_pour
from solver.search.milp.cpsat import CpSat
from solver.tasks.respec.swap import swap
from tests.profile_tables import recipe_rows

RECIPES = recipe_rows(Path(__file__).parent / "data" / "association_specs.csv")
BAR = load_bar(None).with_pour_set("five-ml")
TASTED = ("abv", "sugar", "acid")


def published(drink: str, scale: float = 1.0) -> Spec:
    """A published recipe as a spec, all its pours (in ml) multiplied by `scale`."""
    ((profile, pours),) = ((of, rows) for (name, of), rows in RECIPES.items() if name == drink)
    lines = [
        SpecPour(part=pour.part, ingredient=pour.ingredient, amount=_scaled(pour.amount, scale))
        for pour in pours
    ]
    return Spec(name=drink, profile=profile, pours=tuple(lines))


def _scaled(amount: str, scale: float) -> str:
    return amount if scale == 1.0 else f"{parse_pour(amount, BAR.measures).value * scale:.9g} ml"


def poured(spec: Spec) -> dict[str, float]:
    return {pour.ingredient.key: pour.amount for pour in spec.poured(BAR.bottles, BAR.measures)}


def swapped(spec: Spec, out: str, instead: str, bar: Bar = BAR) -> dict[str, float]:
    (found,) = swap(spec, bar, out, instead, CpSat()).found
    assert found.result.held
    assert found.result.after is not None
    return poured(found.result.after.spec)


@pytest.mark.parametrize("base", ["blended-scotch", "vodka"])
def test_equal_parts_of_amaretto_are_found_again_on_another_base(base: str) -> None:
    assert swapped(published("French Connection"), "cognac", base) == {base: 35.0, "amaretto": 35.0}


def test_an_orange_daisy_on_gin_and_on_vodka_tastes_the_same() -> None:
    gin, vodka = (assess(published(name), BAR) for name in ("White Lady", "Lemon Drop Martini"))
    for name in TASTED:
        value, other = gin.values[name] or 0.0, vodka.values[name] or 0.0
        assert abs(value - other) <= MEASURES[name].tolerance(value)


def test_an_orange_daisy_on_gin_becomes_the_published_one_on_vodka() -> None:
    """The published pours on vodka, at the size of the drink on gin, are within a step of 5 mL."""
    found = swapped(published("White Lady"), "gin", "vodka")
    other = poured(published("Lemon Drop Martini", scale=4 / 3))
    assert found.keys() == other.keys()
    assert all(abs(found[key] - other[key]) <= 5.0 for key in found)


def test_an_old_fashioned_on_rye_of_the_same_strength_is_the_one_on_bourbon() -> None:
    spec = published("Old Fashioned")
    strength = BAR.bottles.find("bourbon").abv.value
    rye = with_own_figures(BAR.bottles.find("rye-whiskey"), {"abv": strength})
    found = swapped(spec, "bourbon", "rye-whiskey", BAR.with_bottle(rye))
    expected = {("rye-whiskey" if key == "bourbon" else key): v for key, v in poured(spec).items()}
    assert found == expected
