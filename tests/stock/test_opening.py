"""A bar opens one bottle after the other: a date is of what is left of the open one."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from hypothesis import assume, given
from hypothesis import strategies as st

from solver.cli.main import main
from solver.pantry.bottled import by_bottle
from solver.pantry.library import load_library
from solver.pantry.load_bar import load_bar
from solver.pantry.stocked import SAME_BOTTLES, Stocked
from solver.tasks.stock.opening import date_after
from solver.tasks.stock.sales import sold
from tests.stock.bars import sales, write

LIBRARY = load_library()
TODAY = date(2026, 11, 26)
BAR = 'name = "Lee Shore"\ncurrency = "EUR"\ntoday = 2026-11-26\n'
SHELF = """ingredient,bottle,price,on_hand,opened,use_by,case
sparkling-wine,750 ml,6.40,{bottles} bottles,{opened},,6
lime-juice,1 l,,2 l,2026-11-26,,
"""
FIZZ = """name = "Fizz"
technique = "build"
pours = [{ ingredient = "sparkling-wine", amount = "100 ml" }]
"""


def ask(bar: Path, *line: str) -> Result:
    return CliRunner().invoke(main, ["--bar", str(bar), *line])


def with_bottles(bar: Path, bottles: float, opened: str = "") -> None:
    (bar / "shelf.csv").write_text(SHELF.format(bottles=bottles, opened=opened), "utf-8")


@pytest.fixture
def bar(tmp_path: Path) -> Path:
    (tmp_path / "bar.toml").write_text(BAR, "utf-8")
    (tmp_path / "specs").mkdir()
    (tmp_path / "specs" / "fizz.toml").write_text(FIZZ, "utf-8")
    with_bottles(tmp_path, 12)
    return tmp_path


def test_opening_one_of_twelve_dates_one(bar: Path) -> None:
    said = ask(bar, "stock", "open", "sparkling-wine")
    assert "use by 2026-11-27 for the one that is open; 11 more are not." in said.stdout
    said = ask(bar, "plan", "--on", "2026-11-29", "--drinks", "10", "fizz", "--json")
    planned = json.loads(said.stdout)
    assert planned["order"] == []
    (spoils,) = planned["spoils"]
    assert (spoils["last_day"], spoils["amount"]) == ("2026-11-27", 750)


def test_what_is_closed_is_poured_after_the_open_one_is_past(bar: Path) -> None:
    with_bottles(bar, 7.25, "2026-11-26")
    late = load_bar(bar, date(2026, 11, 29))
    row = late.stocked("sparkling-wine")
    assert row is not None
    assert row.on_hand == pytest.approx(7 * 750)
    assert row.use_by is None
    assert [lot.on_hand for lot in late.past_lots if lot.by_bottle] == [pytest.approx(187.5)]


def test_sales_date_the_bottle_that_they_leave_open(bar: Path) -> None:
    found = sold(sales({"Fizz": 10}), load_bar(bar))
    assert found.opened == ("sparkling-wine",)
    write(found.movement, load_bar(bar))
    row = load_bar(bar, date(2026, 11, 28)).stocked("sparkling-wine")
    assert row is not None
    assert row.on_hand == pytest.approx(10 * 750)
    write(sold(sales({"Fizz": 5}, "more.csv"), load_bar(bar)).movement, load_bar(bar))
    assert "10 bottles,," in (bar / "shelf.csv").read_text("utf-8")


def test_an_earlier_sale_is_undone_though_another_bottle_was_opened_since(bar: Path) -> None:
    text = (bar / "bar.toml").read_text("utf-8")
    for day, name in ((26, "a.csv"), (27, "b.csv")):
        (bar / "bar.toml").write_text(text.replace("-26", f"-{day}"), "utf-8")
        write(sold(sales({"Fizz": 11}, name), load_bar(bar)).movement, load_bar(bar))
    assert ask(bar, "stock", "undo", "1").exit_code == 0
    row = load_bar(bar).shelf
    assert row is not None
    wine = row.row("sparkling-wine")
    assert wine is not None
    assert wine.opened == date(2026, 11, 27)
    assert wine.on_hand == pytest.approx(12 * 750 - 1100, abs=0.1)


def test_an_open_bottle_that_is_past_stays_dated_and_is_told_of(bar: Path) -> None:
    with_bottles(bar, 3.5, "2026-11-20")
    found = sold(sales({"Fizz": 6}), load_bar(bar))
    assert [row.ingredient.key for row in found.past] == ["sparkling-wine"]
    write(found.movement, load_bar(bar))
    assert "2.7 bottles,2026-11-20" in (bar / "shelf.csv").read_text("utf-8")


def test_what_is_fresh_pressed_or_made_has_one_date(bar: Path) -> None:
    row = load_bar(bar).stocked("lime-juice")
    assert row is not None
    assert row.lots == (row,)
    cream = Stocked(LIBRARY.find("heavy-cream"), 500.0, on_hand=1500.0, opened=TODAY)
    assert by_bottle(cream, ()).lots == (cream,)
    wine = Stocked(LIBRARY.find("sparkling-wine"), 750.0, on_hand=9000.0, opened=TODAY)
    assert by_bottle(wine, {"sparkling-wine"}).lots == (by_bottle(wine, {"sparkling-wine"}),)


@given(st.floats(0.01, 30), st.booleans())
def test_the_open_bottle_and_the_closed_ones_are_all_there_is(bottles: float, dated: bool) -> None:
    beyond = abs(bottles - round(bottles))
    assume(abs(beyond - SAME_BOTTLES) > 1e-6)
    wine = LIBRARY.find("sparkling-wine")
    opened = TODAY if dated else None
    row = by_bottle(Stocked(wine, 750.0, on_hand=750 * bottles, opened=opened), ())
    lots = row.lots
    assert sum(lot.on_hand or 0.0 for lot in lots) == pytest.approx(row.on_hand)
    assert [lot.opened for lot in lots[1:]] == [None] * len(lots[1:])
    assert lots[0].opened == opened
    assert row.sealed / 750 == pytest.approx(round(row.sealed / 750))
    if dated:
        assert 0 < (lots[0].on_hand or 0.0) <= 750 * (1 + 2e-4)
    left = date_after(row, row.on_hand or 0.0, TODAY)
    assert left == ("" if beyond < SAME_BOTTLES else "2026-11-26")


def test_what_goes_into_a_batch_dates_its_open_bottle(bar: Path) -> None:
    said = ask(bar, "recipe", "fizz syrup", "500 ml sparkling-wine", "300 g sugar")
    assert said.exit_code == 0, said.stderr
    stocked = ask(bar, "prep", "fizz-syrup", "--stock")
    assert stocked.exit_code == 0, stocked.stderr
    row = next(
        each for each in (bar / "shelf.csv").read_text("utf-8").splitlines() if "750 ml" in each
    )
    assert "2026-11-26" in row
