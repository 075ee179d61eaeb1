"""A plan tells guests of its drinks and the kitchen of what it makes, in each of its forms."""

from __future__ import annotations

import html
import io
import json
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from click.testing import CliRunner

from solver.cli.main import main
from solver.pantry.load_bar import load_bar
from solver.pantry.plan_file import Coming, read_share
from solver.pantry.spec import find_spec
from solver.show.pages.label import label_text
from solver.show.pages.plan.page import plan_page
from solver.show.pages.plan.paper import labels
from solver.show.pages.plan.workbook import plan_workbook
from solver.show.pages.prep_label import prep_label
from solver.show.words import words_of
from solver.tasks.plan.answer import Evening
from solver.tasks.plan.assemble_notice import notice_of
from solver.tasks.prep import find_recipe, prepare
from solver.tasks.prep.uncooked import with_written_ahead
from tests.plan.bars import bar_in, planned, spec

BAR = """name = "Lee Shore"
currency = "EUR"
today = 2026-11-26
vessels = { jug = "2 L" }
"""
SHELF = """ingredient,bottle,price,on_hand
vodka,700 ml,20,12 bottles
almonds,1 kg,11,4 kg
ginger-root,1 kg,6,4 kg
white-sugar,1 kg,1,9 kg
cider-vinegar,750 ml,3,4 bottles
whole-egg,10 pieces,3,30 pieces
"""
ALMOND = """[night-milk]
name = "night milk"
kind = "dairy/milk"
may_contain = ["peanut"]
[night-milk.recipe.inputs]
almonds = "100 g"
water = "500 g"
[[night-milk.recipe.steps]]
do = "steep"
time = "2 h"
[[night-milk.recipe.steps]]
do = "strain"
through = "cloth"
"""
GINGER = """[root-syrup]
name = "root syrup"
kind = "syrup/spice"
[root-syrup.recipe.inputs]
ginger-root = "100 g"
white-sugar = "900 g"
water = "900 g"
[[root-syrup.recipe.steps]]
do = "simmer"
time = "20 min"
[[root-syrup.recipe.steps]]
do = "strain"
through = "cloth"
"""
CORDIAL = """[harbour-nog]
name = "harbour nog"
kind = "egg/whole"
[harbour-nog.recipe.inputs]
vodka = "250 ml"
whole-egg = "8 pieces"
black-tea-leaves = "20 g"
water = "300 ml"
[[harbour-nog.recipe.steps]]
do = "strain"
through = "cloth"
"""
SPECS = {
    "Nut": (("vodka", "50 ml"), ("night-milk", "40 ml")),
    "Root": (("vodka", "50 ml"), ("root-syrup", "20 ml")),
    "Flip": (("vodka", "50 ml"), ("whole-egg", "1 piece")),
    "Tide": (("cider-vinegar", "15 ml"), ("root-syrup", "20 ml")),
}
DRINKS = ("nut=25%", "root=25%", "flip=25%", "tide=25%")


@pytest.fixture
def bar(tmp_path: Path) -> Path:
    for name, text in (("bar.toml", BAR), ("shelf.csv", SHELF)):
        (tmp_path / name).write_text(text, "utf-8")
    for folder in ("house", "specs"):
        (tmp_path / folder).mkdir()
    (tmp_path / "house" / "night-milk.toml").write_text(ALMOND, "utf-8")
    (tmp_path / "house" / "root-syrup.toml").write_text(GINGER, "utf-8")
    for name, pours in SPECS.items():
        lines = "".join(
            f'[[pours]]\ningredient = "{key}"\namount = "{amount}"\n' for key, amount in pours
        )
        text = f'name = "{name}"\ntechnique = "shake"\n{lines}'
        (tmp_path / "specs" / f"{name.lower()}.toml").write_text(text, "utf-8")
    return tmp_path


def plan(bar: Path, *more: str) -> str:
    asked = ("plan", "--on", "2026-11-28", "--drinks", "40", *DRINKS)
    said = CliRunner().invoke(main, ["--bar", str(bar), *asked, *more])
    assert said.exit_code == 0, said.stderr
    return said.stdout


def document(bar: Path) -> dict[str, Any]:
    read: dict[str, Any] = json.loads(plan(bar, "--json"))
    return read


TOLD = (
    "nuts", "Raw egg", "May hold alcohol: cider vinegar",
    "keep it away from what goes to guests who avoid nuts",
)  # fmt: skip


def test_the_text_the_page_and_the_workbook_tell_all_of_it(bar: Path) -> None:
    plan(bar, "-o", str(bar / "plan.html"))
    plan(bar, "-o", str(bar / "plan.xlsx"))
    book = openpyxl.load_workbook(io.BytesIO((bar / "plan.xlsx").read_bytes()))
    cells = [str(cell.value) for sheet in book for row in sheet for cell in row if cell.value]
    page = html.unescape((bar / "plan.html").read_text("utf-8"))
    for form in (" ".join(plan(bar).split()), " ".join(cells), page):
        assert [words for words in TOLD if words not in form] == []
    labels = [[cell.value for cell in row] for row in book["Labels"]]
    assert ["nuts" in str(row[-1]) for row in labels if row[0] == "night milk"] == [True]
    assert not any("wash" in str(row[-1]) for row in labels)


@pytest.mark.parametrize("language", ["en", "de"])
def test_the_label_of_a_plan_says_all_that_the_label_of_the_recipe_says(
    bar: Path, language: str
) -> None:
    (bar / "house" / "harbour-nog.toml").write_text(CORDIAL, "utf-8")
    pours = (("harbour-nog", "60 ml"), ("night-milk", "30 ml"))
    lines = "".join(f'{{ ingredient = "{key}", amount = "{much}" }},' for key, much in pours)
    spec = f'name = "Nog"\ntechnique = "shake"\npours = [{lines}]\n'
    (bar / "specs" / "nog.toml").write_text(spec, "utf-8")
    opened, words = with_written_ahead(load_bar(bar)), words_of(language)
    coming = Coming(((date(2026, 11, 28), 4),), {"nog": read_share("100%")})
    found = planned(coming, opened)
    book = openpyxl.load_workbook(io.BytesIO(plan_workbook(found, opened, words)))
    rows = {str(row[0]): str(row[-1]) for row in book.worksheets[4].values}
    page = html.unescape(plan_page(found, opened, words))
    said = 0
    for key in ("harbour-nog", "night-milk"):
        label = prep_label(prepare(find_recipe(key, opened), opened, opened.today), opened, words)
        name, _, *lines_of = label_text(label).splitlines()
        assert [line for line in lines_of if line not in rows[name] or line not in page] == []
        said += len(lines_of)
    assert said >= 11
    assert any("% vol" in row for row in rows.values())


def test_a_label_says_once_that_egg_is_raw(tmp_path: Path) -> None:
    drinks = spec("a", egg_white="1 piece"), spec("b", egg_yolk="1 piece")
    opened = bar_in(tmp_path, "whole-egg,10 pieces,2.90,10 pieces,,,,\n", *drinks)
    shares = {each: read_share("50%") for each in "ab"}
    found = planned(Coming(((opened.today, 4),), shares), opened)
    for label in labels(found, opened, words_of("en")):
        assert label_text(label).count("use pasteurised egg") == 1


def test_the_label_of_what_no_recipe_is_known_of_says_how_it_keeps(tmp_path: Path) -> None:
    tea = spec("Tea", strong_black_tea="60 ml", lemon_juice="20 ml")
    shelf = "strong-black-tea,1 l,,0 l,,,,\nwhole-lemons,,0.5,90 pieces,,,,\n"
    opened = bar_in(tmp_path, shelf, tea)
    found = planned(Coming(((opened.today, 4),), {"tea": read_share("100%")}), opened)
    said = {str(label.name): label_text(label) for label in labels(found, opened, words_of("en"))}
    assert len(said) == 2
    assert "Low in acid, with black tea" in said["black tea, double strength"]
    assert all("Keep closed, at 41 °F (5 °C) or below." in each for each in said.values())


def test_a_vessel_is_washed_of_the_allergens_of_what_was_in_it(bar: Path) -> None:
    jobs = document(bar)["prepare"]
    assert [(each["ingredient"], each["wash_first"]) for each in jobs] == [
        ("night-milk", None),
        ("root-syrup", {"after": "night milk", "allergens": ["nuts", "peanut"]}),
    ]
    said = " ".join(plan(bar).split())
    assert "wash the vessel first: night milk was in it (nuts, peanut)" in said


def test_the_document_tells_of_every_drink_that_is_poured(bar: Path) -> None:
    read = document(bar)
    told = {each["spec"]: each["allergens"] for each in read["for_guests"]}
    assert told == {"Nut": ["nuts"], "Root": [], "Flip": ["egg"], "Tide": []}
    made = {each["ingredient"]: each["allergens"] for each in read["prepare"]}
    assert made == {"night-milk": ["nuts"], "root-syrup": []}


def test_of_a_drink_that_is_not_poured_nothing_is_told(bar: Path) -> None:
    opened = load_bar(bar)
    flip = find_spec("flip", opened.specs)
    night = Evening(opened.today, ((flip, 0),), 0.0, ())
    assert notice_of([night], (), opened).drinks == ()
    poured = replace(night, drinks=((flip, 1),))
    assert [name for name, _ in notice_of([night, poured], (), opened).drinks] == ["Flip"]


def test_no_vessel_is_to_be_washed_for_what_has_none(bar: Path) -> None:
    opened = with_written_ahead(load_bar(bar))
    shares = {name.partition("=")[0]: read_share("25%") for name in DRINKS}
    found = planned(Coming(((date(2026, 11, 28), 40),), shares), opened)
    assert [job.wash is not None for job in found.told.jobs] == [False, True]
    assert all(job.vessel for job in found.jobs)
    without = [
        replace(job, vessel=job.vessel and replace(job.vessel, fits=False)) for job in found.jobs
    ]
    for jobs in ([*without[:1], *found.jobs[1:]], [*found.jobs[:1], *without[1:]]):
        assert [job.wash for job in notice_of((), jobs, opened).jobs] == [None, None]
