"""What stands mixed is poured first, in plans as in sales, and is over on its last day."""

from __future__ import annotations

from pathlib import Path

import pytest

from solver.clock import Clock
from solver.drinks.mixed_ahead import mixed_ahead
from solver.pantry.bar import Bar
from solver.pantry.plan_file import PlanShare
from solver.show.text.plan import plan_text
from solver.tasks.menu.answer import Menu
from solver.tasks.menu.menu import menu
from solver.tasks.menu.menu_wish import MenuWish
from tests.plan.bars import bar_in, coming, on, planned, spec

SOUR = spec("Sourly", gin="50 ml", dry_vermouth="10 ml", lime_juice="20 ml")
BATCH = """
[sourly-batch]
name = "Sourly batch"
kind = "batch"
abv = { pct = 30.0, basis = "computed", source = "invented" }
sugar = { g_100ml = 0.5, basis = "computed", source = "invented" }
acid = { g_100ml = 0, basis = "computed", source = "invented" }
life = { days = 14, basis = "practice", source = "invented" }
allergens = []
animal = []
made_of = ["gin", "dry-vermouth"]
"""
GIN = "gin,700 ml,20,1 bottle\ndry-vermouth,700 ml,9,1 bottle\nlime-juice,1 l,5,9 l\n"


def bar_with(folder: Path, batch: str, gin: str = GIN) -> Bar:
    return bar_in(folder, f"{gin}sourly-batch,{batch}\n", SOUR, house=BATCH)


def test_nothing_is_ordered_for_what_stands_mixed(tmp_path: Path) -> None:
    bar = bar_with(tmp_path, f"2 l,30,5 l,{on(0)},", GIN.replace("1 bottle", "0"))
    found = planned(coming((1, 20), shares="sourly=100%"), bar)
    assert not found.orders
    (evening,) = found.evenings
    assert evening.from_batch == {"Sourly": 20}
    assert "20 Sourly (from the batch)" in plan_text(found, bar)


def test_what_is_missing_of_the_batch_is_poured_from_bottles(tmp_path: Path) -> None:
    bar = bar_with(tmp_path, f"2 l,30,1 l,{on(0)},")
    found = planned(coming((1, 12), (2, 12), shares="sourly=100%"), bar)
    mixed = [evening.from_batch.get("Sourly", 0) for evening in found.evenings]
    # Their 50 mL of gin and 10 of vermouth hold 22 mL of alcohol or more: 73 mL of the batch.
    assert sum(mixed) in (12, 13)
    gin = next(course for course in found.courses if course.ingredient.key == "gin")
    assert sum(gin.taken) == pytest.approx(50 * (24 - sum(mixed)))


def test_a_batch_is_not_poured_past_its_last_day_and_spoils_then(tmp_path: Path) -> None:
    bar = bar_with(tmp_path, f"2 l,30,1 l,{on(0)},{on(2)}", GIN.replace("1 bottle", "9 bottles"))
    found = planned(coming((4, 10), shares="sourly=100%"), bar)
    assert not found.evenings[0].from_batch
    spoilt = {ending.ingredient.key: ending for ending in found.endings}
    assert spoilt["sourly-batch"].day == on(2)
    assert spoilt["sourly-batch"].amount == pytest.approx(1000)
    assert spoilt["sourly-batch"].worth == pytest.approx(15)
    said = plan_text(found, bar)
    assert "more Sourly by" in said
    assert "--feature sourly-batch" not in said


def test_a_batch_past_its_day_is_none(tmp_path: Path) -> None:
    bar = bar_with(tmp_path, f"2 l,30,1 l,{on(-9)},{on(-1)}")
    found = planned(coming((0, 10), shares="sourly=100%"), bar)
    assert not found.evenings[0].from_batch


@pytest.mark.parametrize("left", ["1404.3 ml", "650 ml", "165 ml"])
def test_the_last_serve_of_a_batch_is_not_lost_to_rounding(tmp_path: Path, left: str) -> None:
    bar = bar_with(tmp_path, f"2 l,30,{left},{on(0)},")
    assert bar.shelf is not None
    mixed = mixed_ahead(bar.book.specs[0], bar.shelf, bar, bar.today)
    assert mixed is not None
    found = planned(coming((0, mixed.serves), shares="sourly=100%"), bar)
    assert found.evenings[0].from_batch == {"Sourly": mixed.serves}


def test_a_menu_pours_what_stands_mixed(tmp_path: Path) -> None:
    bar = bar_with(tmp_path, f"2 l,30,5 l,{on(0)},", GIN.replace("1 bottle", "0"))
    wish = MenuWish(coming((1, 20), spend=0.0), PlanShare(0, 10_000, 10_000), new=False)
    found = menu(wish, bar, Clock.of(60))
    assert isinstance(found, Menu)
    assert found.plan.evenings[0].from_batch == {"Sourly": 20}


def test_a_batch_that_holds_its_water_is_poured_without_ice(tmp_path: Path) -> None:
    stirred = 'technique = "stir"\n' + spec("Sourly", gin="50 ml", dry_vermouth="10 ml")
    shelf = f"{GIN}sourly-batch,2 l,30,1 l,{on(0)},\n"
    for abv, iced in (("27", False), ("36", True)):  # the second has next to no water
        bar = bar_in(tmp_path, shelf, stirred, house=BATCH.replace("30.0", abv))
        (evening,) = planned(coming((0, 8)), bar).evenings
        assert evening.from_batch == {"Sourly": 8}
        assert (evening.ice_kg > 0) == iced
        (more,) = planned(coming((0, 40)), bar).evenings
        alone = 40 - more.from_batch["Sourly"]
        assert more.ice_kg == pytest.approx(0.2 * (40 if iced else alone))


def test_less_than_a_serve_of_a_batch_spoils_on_its_last_day(tmp_path: Path) -> None:
    """The rest of the batch, and no undated rest of what is mixed beside it."""
    bar = bar_with(tmp_path, f"2 l,30,330 ml,{on(0)},{on(3)}", GIN.replace("1 bottle", "9 bottles"))
    found = planned(coming((0, 8), (5, 4), shares="sourly=100%"), bar)
    assert found.evenings[0].from_batch == {"Sourly": 4}
    spoilt = {ending.ingredient.key: ending for ending in found.endings}
    assert spoilt["sourly-batch"].day == on(3)
    course = next(each for each in found.courses if each.ingredient.key == "sourly-batch")
    assert course.amounts[3:] == (0.0, 0.0, 0.0)
    said = plan_text(found, bar)
    assert (
        f"Sourly batch: {spoilt['sourly-batch'].amount:.0f} mL, last day Thu {on(3)}, worth" in said
    )


@pytest.mark.parametrize(("share", "serves"), [(1.98, 2), (2.5, 2), (0.5, 0)])
def test_a_batch_is_used_up_by_as_many_as_it_nearly_holds(
    tmp_path: Path, share: float, serves: int
) -> None:
    bar = bar_with(tmp_path, f"2 l,30,5 l,{on(0)},")
    assert bar.shelf is not None
    mixed = mixed_ahead(bar.book.specs[0], bar.shelf, bar, bar.today)
    assert mixed is not None
    amount = f"{share * mixed.each_ml:.1f} ml"
    bar = bar_with(tmp_path, f"2 l,30,{amount},{on(0)},{on(2)}", GIN.replace("1 b", "9 b"))
    found = planned(coming((4, 10), shares="sourly=100%"), bar)
    said = [each for each in found.endings if each.ingredient.key == "sourly-batch"]
    counted = [special.serves for each in said for special in each.specials]
    assert counted == ([serves] if serves else [])
