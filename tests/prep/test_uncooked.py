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


def test_it_is_poured_only_where_it_is_asked_for(tmp_path: Path) -> None:
    bar = bar_of(tmp_path)
    assert json.loads(run(bar, "design", "sour", "--json").output)["status"] == "impossible"
    run(bar, "design", "sour", "--with", "orchard-road", "--save", "Kept")
    assert json.loads(run(bar, "design", "sour", "--json").output)["status"] == "impossible"


def test_a_drink_of_it_is_saved_as_a_draft_that_every_command_can_read(tmp_path: Path) -> None:
    bar = bar_of(tmp_path)
    made = run(bar, "design", "sour", "--with", "orchard-road", "--save", "Kept")
    assert made.exit_code == 0
    assert "a draft: orchard-road is not cooked yet" in made.stderr
    written = (bar / "specs" / "kept.toml").read_text("utf-8")
    assert 'ingredient = "orchard-road"' in written
    assert "[approved]" not in written
    assert run(bar, "specs").exit_code == 0
    for command in ("specs", "assess --all", "assess kept"):
        said = " ".join(run(bar, *command.split()).output.split())
        assert "the orchard-road is not cooked yet" in said.replace("The orchard", "the orchard")
    for reader in ("bar", "guest", "reader"):
        card = " ".join(run(bar, "card", "kept", "--for", reader).output.split())
        assert "draft, still to be cooked: the orchard-road" in card
        assert "not yet approved" not in card
    for command in ("price kept", "rebalance", "scale kept --glass rocks", "tasted kept"):
        result = run(bar, *command.split())
        assert result.exit_code == 0
        assert "left aside" not in result.stderr
    assert "Of 1 spec: 1 never approved" in run(bar, "rebalance").output
    told = json.loads(run(bar, "assess", "kept", "--json").output)["answer"]
    assert told["not_cooked"] == ["orchard-road"]
    ordered = json.loads(run(bar, "design", "kept", "--without", "egg", "--json").output)
    assert "orchard-road" in [pour["ingredient"] for pour in ordered["answer"]["pours"]]
    assert open_bar(bar).book.misread == ()


def test_a_draft_cannot_be_approved_before_it_was_cooked(tmp_path: Path) -> None:
    bar = bar_of(tmp_path)
    run(bar, "design", "sour", "--with", "orchard-road", "--save", "Kept")
    refused = run(bar, "assess", "kept", "--approve")
    assert refused.exit_code == 2
    assert "orchard-road is not cooked yet" in refused.stderr
    assert run(bar, "prep", "orchard-road", "--stock").exit_code == 0
    assert "draft" not in run(bar, "card", "kept").output
    assert run(bar, "assess", "kept", "--approve").exit_code == 0


def test_a_draft_of_a_recipe_with_a_mistake_is_left_aside_alone(tmp_path: Path) -> None:
    bar = bar_of(tmp_path)
    run(bar, "design", "sour", "--with", "orchard-road", "--save", "Kept")
    house = bar / "house" / "house.toml"
    text = house.read_text("utf-8")
    house.write_text(text.replace('cassia = "8 g"', 'cassia = "8 miles"'), encoding="utf-8")
    book = run(bar, "specs")
    assert book.exit_code == 2
    assert "Traceback" not in book.output
    assert "kept.toml" in book.output


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
