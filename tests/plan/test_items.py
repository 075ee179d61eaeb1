"""What a plan counts as there, and what a batch takes and how long it keeps."""

from __future__ import annotations

from pathlib import Path

import pytest

from solver.pantry.bar import Bar
from solver.pantry.spec import find_spec
from solver.tasks.plan.answer import Plan
from solver.tasks.plan.items import Item, items_for
from solver.tasks.plan.question import question_of, taken
from solver.tasks.plan.supply import SupplyWay
from tests.plan.bars import SYRUP, answer, bar_in, coming, on, spec

SOUR = spec("Sour", gin="50 ml", plain="20 ml")
AGAIN = """
[[plain.recipe.steps]]
do = "add"
ingredient = "white-sugar"
amount = "200 g"
"""


def item(key: str, bar: Bar, days: int = 3) -> Item:
    return items_for([key], {}, (), bar, days)[key]


def test_what_goes_in_twice_is_taken_twice(tmp_path: Path) -> None:
    house = SYRUP.replace("\n[plain.recipe.measured]", f"{AGAIN}\n[plain.recipe.measured]")
    bar = bar_in(tmp_path, "gin,700 ml,20,1 bottle\n", SOUR, house=house.replace("813", "930"))
    assert item("plain", bar).supply.takes == {"white-sugar": 700.0}


def test_a_batch_keeps_no_longer_than_its_recipe_lets_it(tmp_path: Path) -> None:
    """A plain syrup of one to one keeps four weeks, whatever its file says: common practice."""
    house = SYRUP.replace("days = 5", "days = 90")
    bar = bar_in(tmp_path, "gin,700 ml,20,1 bottle\n", SOUR, house=house)
    assert item("plain", bar).supply.keeps == 28


def test_what_spoils_before_the_last_night_may_have_to_be_bought(tmp_path: Path) -> None:
    drink = spec("Long", gin="50 ml")
    shelf = f"gin,700 ml,,1 bottle,,{on(1)}\n"
    bar = bar_in(tmp_path, shelf, drink)
    for last, keys in ((1, []), (2, ["gin"])):
        unpriced = question_of(coming((0, 2), (last, 2)), bar).unpriced
        assert [item.key for item in unpriced] == keys


def test_what_the_house_makes_comes_in_no_cases(tmp_path: Path) -> None:
    shelf = "simple-syrup,1 l,1,0,,,6,\ngin,700 ml,20,0,,,6,\n"
    bar = bar_in(tmp_path, shelf, SOUR)
    supplies = [item(key, bar).supply for key in ("simple-syrup", "gin")]
    assert [(each.case, each.unit) for each in supplies] == [(1, 1000.0), (6, 4200.0)]


@pytest.mark.parametrize(
    ("row", "how"),
    [
        ("cranberry-juice,1 l,2.2,1 bottle", SupplyWay.BUY),
        ("cranberry-juice,1 l,2.2,0.1 bottles,2026-05-03", SupplyWay.BUY),
        ("tomato-juice,1 l", SupplyWay.BUY),  # nobody presses it, priced or not
        ("orgeat,700 ml,9,0", SupplyWay.BUY),
        ("strong-black-tea,1 l,2.2,1 bottle", SupplyWay.BUY),
        ("strong-black-tea,1 l,0.6,1 bottle,2026-05-03", SupplyWay.MAKE),
        ("passion-fruit-juice,1 l,7.5,1 bottle", SupplyWay.BUY),
        ("passion-fruit-juice,1 l", SupplyWay.PRESS),
        ("orange-juice,1 l,2.2,0", SupplyWay.BUY),
        ("lemon-juice,1 l,8,0", SupplyWay.PRESS),
        ("lemon-juice,1 l,8,0,,,,the market", SupplyWay.BUY),
        ("rich-syrup,1 l,2,1 bottle", SupplyWay.MAKE),
        ("strong-black-tea,1 l,,1 bottle", SupplyWay.MAKE),
    ],
)
def test_what_the_shelf_says_somebody_sells_is_bought(
    tmp_path: Path, row: str, how: SupplyWay
) -> None:
    bar = bar_in(tmp_path, f"{row}\n", SOUR)
    assert item(row.partition(",")[0], bar, 1).supply.how is how


def test_cartons_are_ordered_at_their_price_and_no_fruit(tmp_path: Path) -> None:
    drink = spec("Pink", gin="50 ml", grapefruit_juice="60 ml")
    shelf = "gin,700 ml,20,10 bottles\ngrapefruit-juice,1 l,2.49,1 bottle\n"
    found = answer(coming((0, 40)), bar_in(tmp_path, shelf, drink))
    assert isinstance(found, Plan)
    orders = [(each.ingredient.key, each.units) for each in found.orders]
    assert orders == [("grapefruit-juice", 2)]
    assert found.cost == pytest.approx(4.98)
    assert not found.jobs


def test_of_bottles_that_spoil_once_they_are_open_one_that_is_not_full_is_open(
    tmp_path: Path,
) -> None:
    bar = bar_in(tmp_path, "sparkling-wine,750 ml,9,2.5 bottles\n", SOUR)
    wine = item("sparkling-wine", bar, 30)
    assert ([lot.amount for lot in wine.lots], wine.supply.full) == ([375.0], 2)


def test_pressed_juice_keeps_as_long_as_juice_does(tmp_path: Path) -> None:
    bar = bar_in(tmp_path, "whole-limes,1 kg,4,1 kg\n", SOUR)
    life = bar.bottles.find("lime-juice").life_days
    assert life is not None
    assert item("lime-juice", bar, 30).supply.keeps == int(life)


def test_what_is_to_be_used_up_after_the_last_night_is_so_by_then(tmp_path: Path) -> None:
    bar = bar_in(tmp_path, "gin,700 ml,20,1 bottle\n", spec("Long", gin="50 ml"))
    asked = coming((0, 2), (2, 3), use_up={"gin": on(9)})
    assert [each.day for each in question_of(asked, bar).nights.use_up] == [2]


def test_a_garnish_is_taken_where_the_shelf_lists_it(tmp_path: Path) -> None:
    wheel = spec("Long", gin="50 ml").replace("\n[[pours]]", 'garnish = "lime wheel"\n[[pours]]', 1)
    for shelf, keys in (("", {"gin"}), ("whole-limes,1 kg,4,1 kg\n", {"gin", "whole-limes"})):
        bar = bar_in(tmp_path, f"gin,700 ml,20,1 bottle\n{shelf}", wheel)
        assert taken(find_spec("long", bar.specs), bar).keys() == keys
