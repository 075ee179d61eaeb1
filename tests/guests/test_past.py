"""What is past its last day: poured nowhere, said everywhere, and one place that knows the day."""

from __future__ import annotations

import json
import re
import shutil
from datetime import date, timedelta
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st

from solver.cli.main import main
from solver.errors import BadInput, BadInputs
from solver.pantry.bar import WATER, Bar
from solver.pantry.figure import Figure
from solver.pantry.library import load_library
from solver.pantry.load_bar import load_bar
from solver.pantry.profile_files import find_profile, profile_files
from solver.pantry.stocked import Stocked
from solver.requests.request import Request
from solver.search.milp.cpsat import CpSat
from solver.show.documents.past_their_day import past_fields
from solver.tasks.design import design
from solver.tasks.design_result import Status
from tests.examples import examples
from tests.guests.houses import TODAY, bar_of, stated
from tests.ingredient_tables import ROOT

DEMO = ROOT / "demo"
DAYS = st.dates(date(2020, 1, 1), date(2030, 1, 1))


def run(*arguments: str) -> str:
    return " ".join(CliRunner().invoke(main, arguments).output.split())


def document(*arguments: str) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(CliRunner().invoke(main, [*arguments, "--json"]).stdout)
    return found


@pytest.fixture
def later(tmp_path: Path) -> Path:
    """The demonstration bar a week later, when cream, egg and juices are over."""
    folder = tmp_path / "later"
    shutil.copytree(DEMO, folder)
    file = folder / "bar.toml"
    text = file.read_text(encoding="utf-8")
    assert "today = 2026-05-08" in text
    file.write_text(text.replace("today = 2026-05-08", "today = 2026-05-15"), encoding="utf-8")
    return folder


@given(
    opened=st.none() | DAYS, dated=st.none() | DAYS, life=st.none() | st.integers(0, 4000), on=DAYS
)
def test_the_first_of_its_two_last_days_decides(
    opened: date | None, dated: date | None, life: int | None, on: date
) -> None:
    figure = None if life is None else Figure(value=life, basis="estimate", source="made up")
    item = load_library().find("heavy-cream").model_copy(update={"life": figure})
    row = Stocked(item, opened=opened, dated=dated)
    lasts = [dated] if dated else []
    if opened is not None and life is not None:
        lasts.append(opened + timedelta(days=life))
    assert row.use_by == (min(lasts) if lasts else None)
    assert row.past(on) == any(last < on for last in lasts)


def test_a_day_at_the_end_of_the_calendar_is_no_overflow() -> None:
    row = Stocked(load_library().find("vodka"), opened=date(9999, 12, 30))
    assert row.use_by == date.max


@pytest.mark.parametrize(
    ("row", "poured"),
    [
        ("heavy-cream,500 ml,3,1 bottle,2026-05-03,,", True),  # five days, common practice
        ("heavy-cream,500 ml,3,1 bottle,2026-05-02,,", False),
        ("heavy-cream,500 ml,3,1 bottle,2025-06-08,,", False),
        ("heavy-cream,500 ml,3,1 bottle,,2026-05-08,", True),
        ("heavy-cream,500 ml,3,1 bottle,,2026-05-07,", False),
        ("heavy-cream,500 ml,3,1 bottle,2026-05-08,2026-05-07,", False),
        ("heavy-cream,500 ml,3,1 bottle,2026-05-02,2026-12-31,", False),
        ("heavy-cream,500 ml,3,1 bottle,,,use by 2026-05-08", True),
        ("heavy-cream,500 ml,3,1 bottle,,,from the dairy; use by 2026-05-07", False),
        ("heavy-cream,500 ml,3,1 bottle,,,Use by 07.05.2026", False),
        ("heavy-cream,500 ml,3,1 bottle,,,use by the weekend", True),
        ("heavy-cream,500 ml,3,1 bottle,,,", True),
    ],
)
def test_what_is_poured_today(tmp_path: Path, row: str, poured: bool) -> None:
    bar = bar_of(tmp_path, {}, [row])
    poured_from = [each.ingredient.key for each in bar.stock if each.ingredient.key != WATER]
    assert poured_from == ["heavy-cream"] * poured
    assert [each.ingredient.key for each in bar.past] == ["heavy-cream"] * (not poured)
    assert bar.stocked("heavy-cream") is not None
    assert (bar.past_row("heavy-cream") is None) == poured


def test_a_date_that_cannot_be_read_is_a_mistake_and_not_ignored(tmp_path: Path) -> None:
    for row in ("heavy-cream,,,,,2026-02-30,", "heavy-cream,,,,,,use by 2026-02-30"):
        with pytest.raises((BadInput, BadInputs), match="'2026-02-30' is not a date"):
            bar_of(tmp_path, {}, [row])


def test_a_house_ingredient_off_the_shelf_is_as_old_as_its_recipe(tmp_path: Path) -> None:
    life = {"days": 6, "basis": "estimate", "source": "made up"}
    table = {"name": "syrup", "character": ["cane"], **stated("syrup/spice"), "life": life}
    for made, past in (("2026-05-02", False), ("2026-05-01", True)):
        house = {"syrup": table | {"recipe": {"inputs": {"water": "1 g"}}}}
        bar_of(tmp_path, house)
        file = tmp_path / "house" / "house.toml"
        text = file.read_text(encoding="utf-8")
        dated = f"[syrup.recipe]\nmade = {made}\n\n[syrup.recipe.inputs]"
        file.write_text(text.replace("[syrup.recipe.inputs]", dated), encoding="utf-8")
        bar = load_bar(tmp_path, TODAY)
        assert ("syrup" in {row.ingredient.key for row in bar.past}) == past


def test_the_shelf_shows_the_last_day_and_what_is_past_it(later: Path) -> None:
    lines = CliRunner().invoke(main, ["shelf", "--bar", str(later)]).output.splitlines()
    shown = {line.split()[0]: line for line in lines if line and not line.startswith(" ")}
    assert shown["heavy-cream"].endswith("2026-05-12  past: not poured")
    assert shown["dry-vermouth"].endswith("2026-06-01")
    assert "2026" not in shown["gin"]
    assert lines[-1] == "Today is 2026-05-15, as bar.toml says."
    assert list(dict.fromkeys(line.split()[0] for line in lines[2:-2])) == _keys(later)
    bottles = {
        each["ingredient"]: each for each in document("shelf", "--bar", str(later))["bottles"]
    }
    assert bottles["heavy-cream"]["use_by"] == "2026-05-12"
    assert bottles["heavy-cream"]["past"]
    assert not bottles["gin"]["past"]


def _keys(folder: Path) -> list[str]:
    rows = (folder / "shelf.csv").read_text(encoding="utf-8").splitlines()[1:]
    return [row.partition(",")[0] for row in rows]


def test_nothing_past_its_day_is_poured_by_any_command_and_each_says_so(later: Path) -> None:
    bar = ("--bar", str(later))
    assert document("design", "cream", *bar)["status"] == "impossible"
    assert "Past its last day, and not poured: heavy cream, 36 % fat (2026-05-12)." in run(
        "design", "cream", *bar
    )
    found = document("check", "sour", *bar, "--alternatives", "3")
    gone = {row["ingredient"] for row in found["past"]}
    assert {"lemon-juice", "lime-juice"} <= gone
    for answer in filter(None, (found["answer"], *found["alternatives"])):
        assert gone.isdisjoint(pour["ingredient"] for pour in answer["pours"])
    for way in found["ways_out"]:
        poured = {pour["ingredient"] for pour in way["answer"]["pours"]}
        assert gone & poured <= set(way["bought"]), "only a fresh one, which has to be bought"
    swap = document("swap", "dry-dock", "lemon-juice", *bar)
    poured = {each for found in (swap, *swap["alternatives"]) for each in found.get("in", ())}
    assert poured.isdisjoint({"lime-juice", "grapefruit-juice"})
    assert "lime juice, fresh (2026-05-09)" in run("swap", "dry-dock", "lemon-juice", *bar)
    assert run("swap", "dry-dock", "lemon-juice", "lime-juice", *bar).startswith(
        "Nothing is offered"
    )
    said = run("assess", "last-ferry", *bar)
    assert "Caution: heavy cream, 36 % fat is past its day, 2026-05-12: open a fresh one." in said
    for reader, told in (("bar", True), ("guest", False), ("reader", False)):
        card = " ".join(run("card", "last-ferry", *bar, "--for", reader).split())
        assert ("is past its day" in card) == told, reader
    assert "Past its last day, so open a fresh one:" in run("rebalance", *bar)
    assert "if you bought heavy cream" in run("design", "cream", "--with", "heavy-cream", *bar)
    said = run("design", "old-fashioned", "--with", "almond-spice-syrup", *bar)
    assert "Its last day was 2026-05-12: with toasted almond and spice syrup (as asked)." in said


def test_another_bottle_of_what_is_past_is_not_past(tmp_path: Path) -> None:
    bar_of(tmp_path, {}, [f"gin,700 ml,20,1 bottle,,{TODAY - timedelta(days=1)},"])
    bar = load_bar(tmp_path, TODAY)
    gin = bar.bottles.find("gin")
    assert bar.past_row("gin") is not None
    fresh = bar.with_bottle(gin)
    assert fresh.past == ()
    assert fresh.stocked("gin") is not None


def test_what_is_gone_is_not_told_of_as_soon_past(tmp_path: Path) -> None:
    soon = TODAY + timedelta(days=1)
    bar_of(tmp_path, {}, [f"gin,700 ml,20,0,,{soon},", f"vodka,700 ml,20,1 bottle,,{soon},"])
    told = past_fields(load_bar(tmp_path, TODAY), 3)["soon"]
    assert [each["ingredient"] for each in told] == ["vodka"]


def test_a_fresh_batch_takes_the_place_of_one_that_is_past(later: Path) -> None:
    bar = load_bar(later, date(2026, 6, 1))
    assert bar.past_row("rhubarb-syrup") is not None
    fresh = bar.with_bottle(bar.bottles.find("rhubarb-syrup"), 0.01)
    assert fresh.past_row("rhubarb-syrup") is None
    row = fresh.stocked("rhubarb-syrup")
    assert row is not None
    assert row in fresh.stock
    assert row.price_per_unit == pytest.approx(0.01)
    assert not row.past(date(2030, 1, 1))


def test_the_own_figures_of_a_bottle_stay_when_it_is_past(later: Path) -> None:
    bar = load_bar(later, date(2026, 6, 1))
    assert bar.past_row("lime-juice") is not None
    assert bar.bottles.find("lime-juice").acid.value == 5.6


@cache
def all_of_it() -> int:
    """How many bottles the demonstration bar has."""
    return len(load_bar(DEMO).stock)


@settings(max_examples=examples(0.25))
@given(on=st.dates(date(2026, 4, 1), date(2027, 1, 1)))
def test_on_any_day_the_demonstration_bar_pours_only_what_is_good(on: date) -> None:
    bar = load_bar(DEMO, on)
    assert not any(row.past(on) for row in bar.stock)
    assert all(row.past(on) for row in bar.past)
    assert len(bar.stock) + len(bar.past) == all_of_it()


def test_a_drink_is_designed_from_what_is_good_on_the_day(later: Path) -> None:
    profile = find_profile("cream", profile_files(None))

    def poured(bar: Bar) -> set[str]:
        found = design(profile, bar, Request(), CpSat())
        return {i.key for i in found.answer.ingredients} if found.answer else set()

    assert "heavy-cream" in poured(load_bar(later, date(2026, 5, 12)))
    late = load_bar(later, date(2026, 5, 13))
    assert poured(late) == set()
    assert design(profile, late, Request(), CpSat()).status is Status.IMPOSSIBLE


def test_one_place_asks_the_calendar() -> None:
    asks = re.compile(r"\.(today|now|utcnow)\(\)|time\.time\(\)|localtime")
    for path in sorted((ROOT / "solver").rglob("*.py")):
        name = path.relative_to(ROOT / "solver").as_posix()
        for line in path.read_text(encoding="utf-8").splitlines():
            if asks.search(line):
                assert name == "today.py", (name, line)


def test_a_stated_day_is_said_wherever_bottles_are_poured(later: Path) -> None:
    says = "Today is 2026-05-15, as bar.toml says."
    bar = ("--bar", str(later))
    for command in (
        ("design", "duo"), ("check", "highball"), ("tradeoff", "duo"), ("shelf",),
        ("assess", "weighbridge"), ("swap", "weighbridge", "amaro"), ("rebalance",),
    ):  # fmt: skip
        assert says in run(*command, *bar), command
    file = later / "bar.toml"
    text = file.read_text(encoding="utf-8")
    file.write_text(re.sub(r"today = .*\n", "", text), encoding="utf-8")
    assert "as bar.toml says" not in run("design", "duo", *bar)
