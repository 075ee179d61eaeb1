"""What a plan counts as there, and what a batch takes and how long it keeps."""

from __future__ import annotations

from pathlib import Path

from solver.tasks.plan.question import question_of
from solver.tasks.plan.supplies import items_for
from tests.plan.bars import SYRUP, bar_in, coming, on, spec

SOUR = spec("Sour", gin="50 ml", plain="20 ml")
AGAIN = """
[[plain.recipe.steps]]
do = "add"
ingredient = "white-sugar"
amount = "200 g"
"""


def test_what_goes_in_twice_is_taken_twice(tmp_path: Path) -> None:
    house = SYRUP.replace("\n[plain.recipe.measured]", f"{AGAIN}\n[plain.recipe.measured]")
    bar = bar_in(tmp_path, "gin,700 ml,20,1 bottle\n", SOUR, house=house.replace("813", "930"))
    assert items_for(["plain"], {}, (), bar, 3)["plain"].supply.takes == {"white-sugar": 700.0}


def test_a_batch_keeps_no_longer_than_its_recipe_lets_it(tmp_path: Path) -> None:
    """A plain syrup of one to one keeps four weeks, whatever its file says: common practice."""
    house = SYRUP.replace("days = 5", "days = 90")
    bar = bar_in(tmp_path, "gin,700 ml,20,1 bottle\n", SOUR, house=house)
    assert items_for(["plain"], {}, (), bar, 3)["plain"].supply.keeps == 28


def test_what_spoils_before_the_last_night_may_have_to_be_bought(tmp_path: Path) -> None:
    drink = spec("Long", gin="50 ml")
    shelf = f"gin,700 ml,,1 bottle,,{on(1)}\n"
    bar = bar_in(tmp_path, shelf, drink)
    for last, keys in ((1, []), (2, ["gin"])):
        unpriced = question_of(coming((0, 2), (last, 2)), bar).unpriced
        assert [item.key for item in unpriced] == keys
