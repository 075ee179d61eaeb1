"""Eggs in their shells are taken by the piece: none of them is opened with its carton."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from solver.cli.main import main
from solver.pantry.library import load_library
from solver.pantry.load_bar import load_bar
from solver.pantry.stocked import Stocked
from solver.tasks.stock.sales import sold
from tests.stock.bars import sales, write

EGG = load_library().find("whole-egg")
BAR = 'name = "Lee Shore"\ncurrency = "EUR"\ntoday = 2026-11-26\n'
SHELF = """ingredient,bottle,price,on_hand,opened,use_by
cognac,700 ml,29,6 bottles,,
simple-syrup,1 l,2,2 l,,
whole-egg,10 pieces,2.90,10 pieces,{opened},{use_by}
"""
FLIP = """name = "Flip"
technique = "shake-egg"
pours = [
  { ingredient = "cognac", amount = "50 ml" },
  { ingredient = "simple-syrup", amount = "20 ml" },
  { ingredient = "whole-egg", amount = "1 piece" },
]
"""
PLAN = """[shares]
flip = "100%"
[[nights]]
date = 2026-11-27
drinks = 5
[[nights]]
date = 2026-12-02
drinks = {last}
"""


def ask(bar: Path, *line: str) -> Result:
    return CliRunner().invoke(main, ["--bar", str(bar), *line])


def with_eggs(bar: Path, opened: str = "", use_by: str = "") -> None:
    (bar / "shelf.csv").write_text(SHELF.format(opened=opened, use_by=use_by), "utf-8")


@pytest.fixture
def bar(tmp_path: Path) -> Path:
    (tmp_path / "bar.toml").write_text(BAR, "utf-8")
    with_eggs(tmp_path)
    for folder in ("specs", "plans"):
        (tmp_path / folder).mkdir()
    (tmp_path / "specs" / "flip.toml").write_text(FLIP, "utf-8")
    return tmp_path


def test_a_carton_is_not_opened_by_a_sale(bar: Path) -> None:
    found = sold(sales({"Flip": 3}), load_bar(bar))
    assert found.opened == found.begun == ()
    write(found.movement, load_bar(bar))
    row = load_bar(bar, date(2026, 12, 2)).stocked("whole-egg")
    assert row is not None
    assert row.on_hand == pytest.approx(7 * 48.5)
    assert row.use_by is None


def test_eggs_keep_to_the_date_on_their_carton(bar: Path) -> None:
    with_eggs(bar, opened="2026-11-20", use_by="2026-12-02")
    assert load_bar(bar, date(2026, 12, 2)).stocked("whole-egg") is not None
    late = load_bar(bar, date(2026, 12, 3))
    assert [row.ingredient.key for row in late.past if row.ingredient.loose] == ["whole-egg"]
    assert "whole-egg" not in ask(bar, "stock", "past").stdout


def test_a_bottle_of_egg_is_opened_as_ever() -> None:
    opened = date(2026, 11, 26)
    assert Stocked(EGG, bottle=1000.0, on_hand=500.0, opened=opened).use_by == date(2026, 11, 27)


@pytest.mark.parametrize(
    ("key", "more"), [("whole-egg", ""), ("whole-limes", "whole-limes,,,9 pieces,,")]
)
def test_what_is_taken_by_the_piece_is_not_opened_by_hand(bar: Path, key: str, more: str) -> None:
    (bar / "shelf.csv").write_text(SHELF.format(opened="", use_by="") + more + "\n", "utf-8")
    before = (bar / "shelf.csv").read_bytes()
    said = ask(bar, "stock", "open", key)
    assert said.exit_code == 2
    assert f"{key} is taken by the piece, not opened" in said.stderr
    assert (bar / "shelf.csv").read_bytes() == before


@pytest.mark.parametrize(("last", "ordered"), [(5, 0), (6, 1)])
def test_a_plan_keeps_eggs_from_night_to_night(bar: Path, last: int, ordered: int) -> None:
    (bar / "plans" / "two.toml").write_text(PLAN.format(last=last), "utf-8")
    said = ask(bar, "plan", "two", "--json")
    assert said.exit_code == 0, said.stderr
    plan = json.loads(said.stdout)
    assert [each["units"] for each in plan["order"]] == [1] * ordered
    assert plan["spoils"] == []


NIGHT = """[shares]
flip = "100%"
[[nights]]
date = {day}
drinks = 5
"""


def test_eggs_of_no_date_are_taken_as_bought_today_and_a_plan_says_so(bar: Path) -> None:
    # Three weeks from 2026-11-26 are over on 2026-12-17.
    for day, ordered in (("2026-12-17", 0), ("2026-12-18", 1)):
        (bar / "plans" / "one.toml").write_text(NIGHT.format(day=day), "utf-8")
        said = ask(bar, "plan", "one")
        assert ("  whole egg, raw: 1 carton" in said.stdout) == bool(ordered), said.output
        assert "No date is known of whole egg, raw: taken as bought today" in said.stdout
    with_eggs(bar, use_by="2026-12-24")
    assert "No date is known" not in ask(bar, "plan", "one").stdout


def test_eggs_are_over_three_weeks_after_they_were_bought(bar: Path) -> None:
    with_eggs(bar, opened="2026-11-20")
    row = load_bar(bar).stocked("whole-egg")
    assert row is not None
    assert row.use_by == date(2026, 12, 11)


def test_limes_of_no_date_do_not_wait_for_their_day(bar: Path) -> None:
    shelf = SHELF.format(opened="", use_by="") + "whole-limes,80 g,0.35,20 pieces,,\n"
    (bar / "shelf.csv").write_text(shelf, "utf-8")
    flip = f'garnish = "lime wheel"\n{FLIP}'
    (bar / "specs" / "flip.toml").write_text(flip, "utf-8")
    for day, ordered in (("2026-12-17", False), ("2026-12-18", True)):
        (bar / "plans" / "one.toml").write_text(NIGHT.format(day=day), "utf-8")
        assert ("1 lime, 80 g" in ask(bar, "plan", "one").stdout) == ordered
