"""The association's recipes against the built-in profiles.

Source: International Bartenders Association, official recipes as published on the association's
site in March 2023 (see the head of association_specs.csv).
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.profile_tables import Poured, broken, profile_tables, recipe_rows, table_rows

DATA = Path(__file__).parent / "data"
RECIPES = recipe_rows(DATA / "association_specs.csv")


@pytest.mark.parametrize(("drink", "profile"), RECIPES, ids=lambda text: text)
def test_association_recipes_lie_within_the_limits_of_their_style(drink: str, profile: str) -> None:
    recipe: list[Poured] = RECIPES[drink, profile]
    assert broken(profile_tables()[profile], recipe) == []


def test_outliers_are_listed_with_a_reason_and_are_not_claimed_to_fit() -> None:
    outliers = table_rows(DATA / "association_outliers.csv")
    assert {row["drink"] for row in outliers}.isdisjoint({drink for drink, _ in RECIPES})
    assert [row["drink"] for row in outliers if len(row["reason"].split()) < 4] == []
    assert {row["nearest"] for row in outliers} <= set(profile_tables())


def test_a_style_has_fewer_outliers_than_members() -> None:
    assert len(table_rows(DATA / "association_outliers.csv")) < len(RECIPES)
