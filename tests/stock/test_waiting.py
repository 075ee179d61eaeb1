"""What was put on the shelf before it is ready is not poured, planned or batched before."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from hypothesis import given
from hypothesis import strategies as st

from solver.cli.main import main
from solver.pantry.dated_batches import Lot
from solver.pantry.ingredient import Ingredient
from solver.pantry.library import load_library
from solver.pantry.load_bar import load_bar
from solver.pantry.stocked import Stocked
from solver.tasks.stock.pouring_order import left_after

TODAY = date(2026, 11, 26)
BAR = 'name = "Lee Shore"\ncurrency = "EUR"\ntoday = 2026-11-26\n'
SHELF = """ingredient,bottle,price,on_hand,opened
gin,700 ml,20,6 bottles,
tonic-water,200 ml,1,48 bottles,
ginger-root,1 kg,6,1 kg,
"""
SPEC = """name = "Pier Highball"
technique = "build"

[[pours]]
ingredient = "ginger-gin"
amount = "45 ml"

[[pours]]
ingredient = "tonic-water"
amount = "120 ml"
stage = "top"
"""


@pytest.fixture
def bar(tmp_path: Path) -> Path:
    (tmp_path / "bar.toml").write_text(BAR, "utf-8")
    (tmp_path / "shelf.csv").write_text(SHELF, "utf-8")
    (tmp_path / "specs").mkdir()
    (tmp_path / "specs" / "pier-highball.toml").write_text(SPEC, "utf-8")
    said = ("700 ml gin", "80 g ginger", "steep 3 days", "strain cloth")
    assert ask(tmp_path, "recipe", "ginger gin", *said).exit_code == 0
    return tmp_path


def ask(bar: Path, *line: str) -> Result:
    return CliRunner().invoke(main, ["--bar", str(bar), *line])


def stocked(bar: Path, *more: str) -> Result:
    said = ask(bar, "prep", "ginger-gin", "--stock", *more)
    assert said.exit_code == 0, said.stderr
    return said


def test_prep_says_when_it_is_ready(bar: Path) -> None:
    said = stocked(bar)
    assert "Ready on 2026-11-29, and not poured before." in said.stdout
    assert "ready 2026-11-29: not poured before" in ask(bar, "shelf").stdout


def test_what_is_not_ready_is_in_no_drink(bar: Path) -> None:
    stocked(bar)
    opened = load_bar(bar)
    assert "ginger-gin" not in {row.ingredient.key for row in opened.stock}
    assert [row.ingredient.key for row in opened.waiting] == ["ginger-gin"]
    assert opened.past == ()
    told = json.loads(ask(bar, "assess", "pier-highball", "--json").stdout)["answer"]["cautions"]
    assert "ginger gin has to stand until 2026-11-29: not poured before." in told
    batch = ask(bar, "batch", "pier-highball", "--serves", "4", "--stock")
    assert batch.exit_code == 2
    assert "ginger gin has to stand until 2026-11-29" in batch.stderr


def test_a_plan_pours_it_from_the_day_it_is_ready(bar: Path) -> None:
    stocked(bar)
    asked = ("--drinks", "12", "pier-highball=100%", "--no-buying")
    tonight = ask(bar, "plan", "--on", "2026-11-26", *asked)
    assert tonight.exit_code == 1, tonight.stdout
    then = ask(bar, "plan", "--on", "2026-11-29", *asked)
    assert then.exit_code == 0, then.stdout
    assert "12 Pier Highball" in then.stdout
    assert "has to stand" not in then.stdout


def test_what_was_begun_days_ago_is_ready(bar: Path) -> None:
    assert "Ready on" not in stocked(bar, "--made", "2026-11-23").stdout
    assert [row.ingredient.key for row in load_bar(bar).waiting] == []


def test_a_day_it_was_begun_can_be_said_afterwards(bar: Path) -> None:
    stocked(bar)
    assert ask(bar, "stock", "open", "ginger-gin", "--on", "2026-11-23").exit_code == 0
    assert load_bar(bar).waiting == ()


def test_of_two_batches_the_ready_one_is_poured(bar: Path) -> None:
    stocked(bar, "--made", "2026-11-20")
    stocked(bar)
    opened = load_bar(bar)
    row = next(row for row in opened.stock if row.ingredient.key == "ginger-gin")
    assert [lot.opened for lot in row.lots] == [date(2026, 11, 20)]
    assert [lot.opened for lot in opened.waiting] == [TODAY]
    assert opened.waiting_row("ginger-gin") is None


def test_a_batch_is_priced_by_the_bottle_that_its_row_says(bar: Path) -> None:
    prices = []
    stocked(bar)  # from now on its row can be read
    for size in (350, 700):
        (bar / "shelf.csv").write_text(f"{SHELF}ginger-gin,{size} ml,,0,\n", "utf-8")
        stocked(bar)
        shelf = load_bar(bar).shelf
        row = shelf.row("ginger-gin") if shelf else None
        assert row is not None
        prices.append(row.price or 0.0)
    assert prices[0] > 10  # of a bottle of gin at 20
    assert prices[1] == pytest.approx(2 * prices[0], abs=0.02)


def test_what_waits_is_taken_last_though_its_last_day_is_the_first() -> None:
    soon, later = TODAY + timedelta(days=5), TODAY + timedelta(days=30)
    ready = Lot(100.0, TODAY - timedelta(days=10), later)
    gin = load_library().find("gin")
    row = Stocked(gin, on_hand=200.0, opened=TODAY, dated=soon, newer=(ready,), waits=3)
    assert [lot.on_hand for lot in left_after(row, 60.0, TODAY)] == [100.0, 40.0]
    assert [lot.on_hand for lot in left_after(row, 60.0, TODAY + timedelta(days=3))] == [40.0, 100]


def test_nothing_is_made_of_a_batch_past_its_day_though_a_newer_one_is_good(bar: Path) -> None:
    head = "ingredient,bottle,on_hand,opened,use_by,newer\n"
    batches = "gin,700 ml,1000 ml,2026-10-01,2026-11-01,500 ml made 2026-11-20\n"
    (bar / "shelf.csv").write_text(f"{head}{batches}ginger-root,1 kg,1 kg,,,\n", "utf-8")
    said = ask(bar, "prep", "ginger-gin", "--stock")
    assert said.exit_code == 2
    assert "700 mL are needed, 500 are there" in said.stderr


def test_beside_what_waits_a_batch_past_its_day_is_still_told_of(bar: Path) -> None:
    stocked(bar)
    head = "ingredient,bottle,on_hand,opened,use_by,newer\n"
    batches = "ginger-gin,700 ml,800 ml,2026-10-01,2026-11-01,500 ml made 2026-11-26\n"
    (bar / "shelf.csv").write_text(head + batches, "utf-8")
    opened = load_bar(bar)
    assert [lot.on_hand for lot in opened.waiting] == [500]
    assert [lot.on_hand for lot in opened.past_lots] == [300]
    assert opened.past == ()


@given(
    waits=st.integers(0, 9),
    begun=st.lists(st.integers(0, 9), min_size=1, max_size=4, unique=True),
)
def test_a_row_is_split_into_what_is_ready_and_what_waits(waits: int, begun: list[int]) -> None:
    days = [TODAY - timedelta(days=ago) for ago in sorted(begun, reverse=True)]
    ends = {day: day + timedelta(days=40) for day in days}
    newer = tuple(Lot(100.0, day, ends[day]) for day in days[1:])
    gin: Ingredient = load_library().find("gin")
    row = Stocked(gin, on_hand=100.0 * len(days), opened=days[0], newer=newer, waits=waits)
    row = replace(row, dated=ends[days[0]])
    good = row.good(TODAY)
    there = [] if good is None else [(lot.opened, lot.dated) for lot in good.lots]
    ready = [day for day in days if day + timedelta(days=waits) <= TODAY]
    assert there == [(day, ends[day]) for day in ready]


@pytest.mark.parametrize(
    ("there", "early"),
    [
        ("700 ml,2026-11-26,", True),
        ("100 ml,2026-11-26,", True),
        ("700 ml,2026-11-20,600 ml made 2026-11-26", True),
        ("700 ml,2026-11-20,500 ml made 2026-11-26", False),
        ("700 ml,2026-11-20,", False),
    ],
)
def test_what_was_poured_before_it_was_ready_is_said(bar: Path, there: str, early: bool) -> None:
    stocked(bar)
    head = "ingredient,bottle,on_hand,opened,newer\ntonic-water,200 ml,48 bottles,,\n"
    (bar / "shelf.csv").write_text(f"{head}ginger-gin,700 ml,{there}\n", "utf-8")
    (bar / "s.csv").write_text("Pier Highball,4\n", "utf-8")
    run_out = ("--run-out",) if there.startswith("100") else ()
    told = json.loads(ask(bar, "stock", "sold", str(bar / "s.csv"), *run_out, "--json").stdout)
    assert told["before_ready"] == ["ginger-gin"] * early
    assert told["past"] == []
    assert ask(bar, "stock", "undo").exit_code == 0
    said = ask(bar, "stock", "sold", str(bar / "s.csv"), *run_out).stdout
    assert ("ginger-gin was poured before it was ready on 2026-11-29: look at it." in said) == early
    assert "past its last day" not in said


def test_a_no_says_when_what_is_asked_for_is_ready_and_not_that_it_is_to_be_bought(
    bar: Path,
) -> None:
    stocked(bar)
    said = " ".join(ask(bar, "design", "highball", "--with", "ginger-gin").stdout.split())
    assert "It has to stand until 2026-11-29: with ginger gin (as asked)." in said
    assert "once ginger gin is ready, on 2026-11-29:" in said
    assert "bought ginger gin" not in said
