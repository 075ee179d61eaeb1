"""A house recipe that nobody has cooked yet can be designed with, and the answer says so."""

from __future__ import annotations

import json
from pathlib import Path

from click.testing import CliRunner, Result

from solver import design, open_bar
from solver.cli.main import main
from tests.prep.bars import bar_with, recipe

SYRUP = recipe(
    'white-sugar = "500 g"\nwater = "500 g"\nsweet-potato = "300 g"\ncassia = "8 g"',
    'do = "simmer"; time = "20 min"\ndo = "strain"; through = "cloth"',
    key="orchard-road",
)
SHELF = """\
bourbon,700 ml,28
lemon-juice,1 l,8
white-sugar,1000 g,1.40
sweet-potato,1000 g,2.20
cassia,100 g,3.20
"""


def bar_of(tmp_path: Path) -> Path:
    bar_with(tmp_path, SYRUP, SHELF)
    return tmp_path


def run(bar: Path, *arguments: str) -> Result:
    return CliRunner().invoke(main, [*arguments, "--bar", str(bar)])


def test_what_is_asked_for_is_judged_by_its_recipe_and_the_answer_says_how_far(
    tmp_path: Path,
) -> None:
    bar = bar_of(tmp_path)
    for option in ("--with", "--feature"):
        result = run(bar, "design", "sour", option, "orchard-road")
        assert result.exit_code == 0, result.output
        said = " ".join(result.output.split())
        assert "is not cooked yet, and is judged by its recipe: sugar may be" in said
        assert "not known: no price" not in said


def test_it_is_poured_only_where_it_is_asked_for_and_no_drink_of_it_is_saved(
    tmp_path: Path,
) -> None:
    bar = bar_of(tmp_path)
    plain = json.loads(run(bar, "design", "sour", "--json").output)
    assert plain["status"] == "impossible"
    result = run(bar, "design", "sour", "--with", "orchard-road", "--save", "Kept")
    assert "cook it first" in result.output
    assert not (bar / "specs").exists()


def test_a_program_may_ask_for_it_too(tmp_path: Path) -> None:
    found = design(open_bar(bar_of(tmp_path)), "sour", include=["orchard-road"])
    assert found.answer is not None
    assert "orchard-road" in [pour.ingredient for pour in found.answer.pours]


def test_its_cautions_for_the_kitchen_are_told_in_prep_and_not_with_the_drink(
    tmp_path: Path,
) -> None:
    bar = bar_of(tmp_path)
    assert "coumarin" in " ".join(run(bar, "prep", "orchard-road").output.split())
    assert "coumarin" not in run(bar, "design", "sour", "--with", "orchard-road").output


def test_water_comes_from_the_tap_and_costs_nothing(tmp_path: Path) -> None:
    bar = bar_of(tmp_path)
    result = run(bar, "design", "toddy", "--with", "orchard-road", "--json")
    answer = json.loads(result.output)["answer"]
    water = next(pour for pour in answer["pours"] if pour["ingredient"] == "water")
    assert water["cost"] == 0
    assert "water" not in run(bar, "shelf").output
