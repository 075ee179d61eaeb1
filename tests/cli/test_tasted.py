"""The command `tasted`: what it notes in a spec, and what a design of the bar makes of it."""

import json
import shutil
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from solver.cli.main import main

DEMO = Path(__file__).parents[2] / "demo"


@pytest.fixture
def bar(tmp_path: Path) -> Path:
    folder = tmp_path / "bar"
    shutil.copytree(DEMO, folder)
    return folder


def run(bar: Path, *arguments: str) -> Result:
    return CliRunner().invoke(main, ["--bar", str(bar), *arguments])


def flat(bar: Path, *arguments: str) -> str:
    result = run(bar, *arguments)
    assert result.exit_code == 0, result.output
    return " ".join(result.stdout.split())


def document(bar: Path, *arguments: str) -> dict[str, Any]:
    result = run(bar, *arguments, "--json")
    assert result.exit_code == 0, result.output
    found: dict[str, Any] = json.loads(result.stdout)
    return found


def test_what_is_noted_is_listed_and_can_be_taken_back(bar: Path) -> None:
    before = (bar / "specs" / "harbour-light.toml").read_bytes()
    run(bar, "tasted", "harbour-light", "--score", "4", "more salt")
    said = flat(bar, "tasted", "harbour-light", "--score", "2", "too smoky")
    assert said.startswith(
        "Harbour Light, tasted twice: 3 of 5 "
        "2026-05-08 4 of 5 more salt 2026-05-08 2 of 5 too smoky"
    )
    assert flat(bar, "tasted") == said
    run(bar, "tasted", "harbour-light", "--take-back")
    assert "tasted once: 4 of 5" in flat(bar, "tasted", "harbour-light")
    run(bar, "tasted", "harbour-light", "--take-back")
    assert (bar / "specs" / "harbour-light.toml").read_bytes() == before
    result = run(bar, "tasted", "harbour-light", "--take-back")
    assert result.exit_code == 2
    assert "no tasting of Harbour Light is noted" in result.stderr


def test_what_was_disliked_comes_later_in_designs_and_is_said_why(bar: Path) -> None:
    before = document(bar, "design", "bollard-sour")["answer"]
    assert before["pours"][0]["ingredient"] == "rye-whiskey"
    for _ in range(2):
        run(bar, "tasted", "harbour-light", "--score", "1")
    after = document(bar, "design", "bollard-sour")["answer"]
    assert after["pours"][0]["ingredient"] != "rye-whiskey"
    pair = next(each for each in after["in_keeping"]["pairs"] if each["tastings"])
    assert (pair["tastings"], pair["mean_score"]) == (2, 1.0)
    assert "in drinks that your bar tasted twice: 1 of 5" in after["in_keeping"]["says"]


def test_the_very_drink_that_was_tasted_says_so(bar: Path) -> None:
    run(bar, "design", "bollard-sour", "--save", "Slow Tide")
    run(bar, "tasted", "slow-tide", "--score", "5", "keep it")
    says = document(bar, "design", "bollard-sour")["answer"]["in_keeping"]["says"]
    assert says.endswith("Your bar tasted it once: 5 of 5.")


def test_a_tasting_is_of_what_was_poured_then(bar: Path) -> None:
    run(bar, "tasted", "harbour-light", "--score", "1")
    path = bar / "specs" / "harbour-light.toml"
    text = path.read_text(encoding="utf-8")
    changed = text.replace('ingredient = "rye-whiskey"', 'ingredient = "bourbon"')
    path.write_text(changed, encoding="utf-8")
    with_bourbon = document(bar, "design", "bollard-sour", "--with", "bourbon")
    pairs = with_bourbon["answer"]["in_keeping"]["pairs"]
    assert not [each for each in pairs if "bourbon" in each["of"] and each["tastings"]]


def test_a_tasting_of_what_nobody_knows_any_more_is_a_mistake_with_its_line(bar: Path) -> None:
    path = bar / "specs" / "low-water.toml"
    note = '\n[[tasted]]\ndate = 2026-04-01\nscore = 4\npoured = ["gin", "gone-syrup"]\n'
    path.write_text(path.read_text(encoding="utf-8") + note, encoding="utf-8")
    result = run(bar, "design", "sour")
    assert result.exit_code == 2
    assert "low-water.toml" in result.stderr
    assert "gone-syrup" in result.stderr
    assert str(path.read_text(encoding="utf-8").count("\n")) in result.stderr


def test_assess_and_the_card_of_the_bar_show_it_and_that_of_guests_does_not(bar: Path) -> None:
    run(bar, "tasted", "harbour-light", "--score", "2", "too smoky")
    assert "Tasted once: 2 of 5; last on 2026-05-08, too smoky." in flat(
        bar, "assess", "harbour-light"
    )
    answer = document(bar, "assess", "harbour-light")["answer"]
    assert [note["words"] for note in answer["tasted"]] == ["too smoky"]
    assert answer["tasted"][0]["counts_for_published_drinks"] == -2.5
    assert "too smoky" in flat(bar, "card", "harbour-light", "--for", "bar")
    assert "too smoky" not in flat(bar, "card", "harbour-light", "--for", "guest")
    assert "too smoky" not in flat(bar, "card", "harbour-light", "--for", "reader")


def test_a_swap_that_is_saved_elsewhere_was_not_tasted(bar: Path) -> None:
    run(bar, "tasted", "rope-store", "--score", "5")
    result = run(bar, "swap", "rope-store", "bourbon", "rye-whiskey", "--save", "Slow Tide")
    assert result.exit_code == 0, result.output
    assert "[[tasted]]" not in (bar / "specs" / "slow-tide.toml").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        (["harbour-light", "--score", "6"], "6 is not in the range"),
        (["harbour-light", "too smoky"], "goes with --score"),
        (["--score", "4"], "name the spec"),
        (["harbour-light", "--score", "4", "--take-back"], "does not go with"),
        (["harbour-lite", "--score", "4"], "harbour-light"),
        (["harbour-light", "--score", "4", " "], "says nothing of a drink"),
        (["harbour-light", "--score", "4", "thin \u202e"], "a mark that nobody sees, U+202E"),
    ],
)
def test_a_slip_is_said_and_nothing_is_written(bar: Path, typed: list[str], says: str) -> None:
    before = [path.read_bytes() for path in sorted((bar / "specs").iterdir())]
    result = run(bar, "tasted", *typed)
    assert result.exit_code == 2
    assert says in result.stderr
    assert [path.read_bytes() for path in sorted((bar / "specs").iterdir())] == before


def test_programs_are_told_what_was_thought_of_every_spec(bar: Path) -> None:
    assert run(bar, "tasted", "harbour-light", "--score", "2", "too thin").exit_code == 0
    assert run(bar, "tasted", "harbour-light", "--score", "3").exit_code == 0
    listed = {each["name"]: each for each in document(bar, "tasted")["specs"]}
    assert len(listed) == len([*(bar / "specs").glob("*.toml")])
    thought = listed["Harbour Light"]
    assert thought["mean_score"] == 2.5
    assert [each["score"] for each in thought["tastings"]] == [2, 3]
    assert listed["Rope Store"] == {"name": "Rope Store", "mean_score": None, "tastings": []}
