"""The association's recipes, and those of an old bar book, against the built-in profiles.

Sources: International Bartenders Association, official recipes as published on the association's
site in March 2023 (see the head of association_specs.csv); a bar book of 1917, Project Gutenberg
13487 (see the head of book_1917.csv).
"""

from __future__ import annotations

from pathlib import Path

import numpy as np

from solver.drinks.assess import Assessment, assess
from solver.drinks.fitting import SAME_HANDS
from solver.pantry.load_bar import load_bar
from solver.pantry.spec import Spec, SpecPour
from tests.each import each
from tests.profile_tables import Poured, broken, profile_tables, recipe_rows, table_rows

DATA = Path(__file__).parent / "data"
RECIPES = recipe_rows(DATA / "association_specs.csv")
BOOK = recipe_rows(DATA / "book_1917.csv")
OFF_TARGET = table_rows(DATA / "association_off_target.csv")
OUTLIERS = table_rows(DATA / "association_outliers.csv")
METHODS = {row["drink"]: row["method"] for row in table_rows(DATA / "association_specs.csv")}
BAR = load_bar(None)

TECHNIQUES = {
    # What the association's words come to; it stirs what it builds, and calls a drink on crushed
    # ice built, too.
    "muddled/built": {"build", "build-top", "julep", "swizzle"},
    "built": {"build", "build-top", "none"},
    "stirred": {"stir"},
    "shaken": {"shake"},
    "shaken, egg white": {"shake-egg"},
    "shaken+topped": {"shake-top"},
    "blended": {"blend"},
    "hot": {"hot"},
}


OTHER_HANDS = {"Brandy Crusta": "shake", "Bloody Mary": "throw"}
"""What most bars make otherwise today: what has citrus in it is shaken, tomato juice rolled between
two tins. Common practice, no source; the association stirs both, the book of 1917 the crusta."""


def assessed(profile: str, pours: list[Poured]) -> Assessment:
    """The pours, without parts, as anybody would type them, on the built-in bar."""
    lines = tuple(SpecPour(ingredient=p.ingredient, amount=p.amount) for p in pours)
    return assess(Spec(name="a recipe", pours=lines), BAR, profile=profile)


@each(RECIPES)
def test_association_recipes_lie_within_the_limits_of_their_style(drink: str, profile: str) -> None:
    recipe: list[Poured] = RECIPES[drink, profile]
    assert broken(profile_tables()[profile], recipe) == []


@each(RECIPES)
def test_assess_finds_nothing_amiss_with_them_in_the_profiles_own_glass(
    drink: str, profile: str
) -> None:
    found = assessed(profile, RECIPES[drink, profile])
    assert found.departures == ()
    assert [met.limit for met in found.limits if not met.kept] == []
    assert any(met.limit.name.startswith("glass") for met in found.limits)


@each(RECIPES)
def test_their_style_is_made_as_the_association_makes_them(drink: str, profile: str) -> None:
    made = profile_tables()[profile]["technique"]
    alike = {made}.union(*(hands for hands in SAME_HANDS if made in hands))
    theirs = TECHNIQUES[METHODS[drink]]
    assert alike & theirs or (made == OTHER_HANDS.get(drink) and made not in theirs)


@each(sorted({drink for drink, _ in RECIPES}))
def test_they_are_on_target_or_a_step_off_or_break_a_stated_bound(drink: str) -> None:
    listed = {(row["profile"], row["measure"]) for row in OFF_TARGET if row["drink"] == drink}
    found = [far_off(assessed(p, RECIPES[d, p]), p) for d, p in RECIPES if d == drink]
    assert listed in found if listed else set() in found


def far_off(found: Assessment, profile: str) -> set[tuple[str, str]]:
    """The profile and each measure that lies more than a noticeable difference from its band."""
    return {
        (profile, met.aim.measure.name)
        for met in found.aims
        if met.value is not None and met.aim.off(np.array(met.value)) > 1.0
    }


@each(BOOK)
def test_recipes_of_an_old_bar_book_find_nothing_amiss_either(drink: str, profile: str) -> None:
    found = assessed(profile, BOOK[drink, profile])
    assert found.departures == ()
    assert [met.limit for met in found.limits if not met.kept] == []


def test_nine_of_ten_association_recipes_find_a_profile() -> None:
    drinks = {drink for drink, _ in RECIPES}
    assert len(drinks) >= 0.9 * (len(drinks) + len(OUTLIERS))


def test_outliers_are_listed_with_a_reason_and_are_not_claimed_to_fit() -> None:
    assert {row["drink"] for row in OUTLIERS}.isdisjoint({drink for drink, _ in RECIPES})
    assert [row["drink"] for row in OUTLIERS if len(row["reason"].split()) < 4] == []
    assert {row["nearest"] for row in OUTLIERS} <= set(profile_tables())


@each(sorted(profile_tables()))
def test_no_profile_is_shut_out_of_its_own_range_by_its_own_glass(name: str) -> None:
    """A default that nobody measured refuses nothing that the profile takes."""
    found = assess(
        Spec(name="water", pours=(SpecPour(ingredient="water", amount="10 ml"),)),
        BAR,
        profile=name if name != "bollard-sour" else "sour",
    )
    highs = {
        met.limit.name: met.limit.high for met in found.limits if met.limit.measure.name == "volume"
    }
    glass = next(high for limit, high in highs.items() if limit.startswith("glass"))
    assert glass is not None
    assert highs["profile"] is not None
    assert highs["profile"] <= glass
