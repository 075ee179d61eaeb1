"""`equipour plan` from a terminal: its text, document, page and exit codes."""

from __future__ import annotations

import importlib.util
import json
import re
import shutil
from html.parser import HTMLParser
from pathlib import Path

import openpyxl
import pytest
from click.testing import CliRunner, Result

from solver.cli.main import main
from solver.search.milp import cpsat_then_highs, highs, integer_program
from solver.search.milp.integer_program import Infeasible, ProgramOutOfTime

DEMO = Path(__file__).parents[2] / "demo"
TONIGHT = ("--drinks", "60", "harbour-light=40%", "rope-store=20..40%", "dry-dock")


def run(*line: str, bar: Path = DEMO) -> Result:
    return CliRunner().invoke(main, ["--bar", str(bar), "plan", *line])


def test_the_document_holds_all_of_the_plan() -> None:
    result = run("weekend", "--json")
    assert result.exit_code == 0
    told = json.loads(result.stdout)
    assert told["status"] == "planned"
    assert [night["date"] for night in told["nights"]] == ["2026-05-15", "2026-05-16"]
    # 60 and 75 guests have 1.8 drinks each.
    assert [sum(d["serves"] for d in n["drinks"]) for n in told["nights"]] == [108, 135]
    cooked = [job for job in told["prepare"] if job["how"] == "cook"]
    assert [job["start_by"] for job in cooked] == ["2026-05-14T13:15"]
    assert told["order_cost"] == pytest.approx(sum(order["cost"] or 0 for order in told["order"]))
    assert all(stage["proven"] for stage in told["proof"])
    syrup = next(s for s in told["stock"] if s["ingredient"] == "rhubarb-syrup")
    assert syrup["at_end_of_day"][-1]["amount"] < 22.5


def test_one_night_is_asked_by_options() -> None:
    result = run(*TONIGHT)
    assert result.exit_code == 0
    assert "Plan: 60 drinks, Fri 2026-05-08" in result.stdout
    assert "24 Harbour Light" in result.stdout
    assert "Proven" in result.stdout


def test_no_plan_ends_with_one_and_says_what_would_do() -> None:
    result = run("--drinks", "140", "--no-buying", "harbour-light")
    assert result.exit_code == 1
    assert "These cannot hold together" in result.stdout
    assert "nothing bought" in result.stdout
    told = json.loads(run("--drinks", "140", "--no-buying", "harbour-light", "--json").stdout)
    assert told["status"] == "impossible"
    assert told["ways_out"]


def test_a_second_solver_that_disagrees_ends_with_four(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(highs.Highs, "minimise", lambda *_: Infeasible())
    result = run(*TONIGHT, "--verify")
    assert result.exit_code == 4
    assert "does not agree: it says there is no plan" in result.stdout
    assert "24 Harbour Light" in result.stdout


def test_no_time_is_not_no_plan(monkeypatch: pytest.MonkeyPatch) -> None:
    for solver in (cpsat_then_highs.CpSatThenHighs, integer_program.CpSatProgram):
        monkeypatch.setattr(solver, "minimise", lambda *_, **__: ProgramOutOfTime())
    result = run(*TONIGHT)
    assert result.exit_code == 3
    assert "no time" in result.stdout
    assert json.loads(run(*TONIGHT, "--json").stdout)["status"] == "stopped"


def test_a_most_to_spend_without_a_price_is_bad_input(tmp_path: Path) -> None:
    bar = tmp_path / "demo"
    shutil.copytree(DEMO, bar)
    shelf = bar / "shelf.csv"
    text = shelf.read_text(encoding="utf-8")
    bare = re.sub(r"^(bourbon,[^,]*),[^,]*,", r"\1,,", text, flags=re.MULTILINE)
    assert bare != text
    shelf.write_text(bare, encoding="utf-8")
    asked = ("--drinks", "140", *TONIGHT[2:])
    result = run("--spend", "<=200", *asked, bar=bar)
    assert result.exit_code == 2
    assert "no price of bourbon whiskey" in result.stderr
    told = json.loads(run(*asked, "--json", bar=bar).stdout)
    assert told["counted_without_price"] == ["bourbon", "whole-oranges"]


class Texts(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.text = ""

    def handle_starttag(self, tag: str, attrs: object) -> None:  # noqa: ARG002 - its own name
        self.tags.append(tag)

    def handle_data(self, data: str) -> None:
        self.text += data


def test_a_page_has_boxes_an_order_a_picture_and_no_markup_of_a_users(tmp_path: Path) -> None:
    bar = tmp_path / "demo"
    shutil.copytree(DEMO, bar)
    path = bar / "specs" / "harbour-light.toml"
    text = path.read_text(encoding="utf-8").replace("Harbour Light", "<script>x</script>")
    path.write_text(text, encoding="utf-8")
    page = tmp_path / "weekend.html"
    result = run("weekend", "-o", str(page), bar=bar)
    assert result.exit_code == 0
    read = Texts()
    read.feed(page.read_text(encoding="utf-8"))
    assert "script" not in read.tags
    assert "<script>x</script>" in read.text
    assert "svg" in read.tags
    assert "rye whiskey" in read.text
    again = run("weekend", "-o", str(page), bar=bar)
    assert again.exit_code == 2
    assert "--replace" in again.stderr


def test_a_name_that_is_no_plan_is_said_with_the_one_that_is() -> None:
    result = run("weekent")
    assert result.exit_code == 2
    assert "weekend" in result.stderr


def test_a_workbook_has_its_lists_and_no_formula(tmp_path: Path) -> None:
    bar = tmp_path / "demo"
    shutil.copytree(DEMO, bar)
    spec = next(each for each in (bar / "specs").glob("*.toml") if "Dry Dock" in each.read_text())
    spec.write_text(spec.read_text().replace('"Dry Dock"', '"=1+1"'), encoding="utf-8")
    out = tmp_path / "weekend.xlsx"
    result = run("--drinks", "60", "-o", str(out), bar=bar)
    assert result.exit_code == 0
    book = openpyxl.load_workbook(out)
    assert book.sheetnames == [
        "Prepare", "Pour", "Ice and garnish", "Order", "Labels", "Will spoil",
        "Left after the last night", "Stock at close",
    ]  # fmt: skip
    cells = [cell for sheet in book for row in sheet.iter_rows() for cell in row]
    assert "=1+1" in [cell.value for cell in cells]
    assert all(cell.data_type != "f" for cell in cells)
    poured = [row[3] for row in book["Pour"].iter_rows(min_row=2, values_only=True)]
    assert sum(poured) == 60


def test_a_plan_is_written_as_a_page_or_a_workbook(tmp_path: Path) -> None:
    result = run(*TONIGHT, "-o", str(tmp_path / "weekend.docx"))
    assert result.exit_code == 2
    assert "FILE.html, FILE.pdf or FILE.xlsx" in result.stderr


@pytest.mark.parametrize("ending", ["pdf", "xlsx"])
def test_what_a_paper_needs_is_said_before_anything_is_planned(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, ending: str
) -> None:
    monkeypatch.setattr(importlib.util, "find_spec", lambda _: None)
    result = run(*TONIGHT, "-o", str(tmp_path / f"plan.{ending}"))
    assert result.exit_code == 2
    assert result.stdout == ""
    assert "is not installed: `pip install" in result.stderr
