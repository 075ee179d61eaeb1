"""A house recipe without a file written by hand, and what came out of one."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from solver.cli import terminal
from solver.cli.main import main
from solver.pantry.load_bar import load_bar
from solver.tasks.prep import find_recipe, prepare

GINGER = ("1 L water", "800 g honey", "120 g fresh ginger", "simmer 20 min", "strain cloth")


@pytest.fixture
def bar(tmp_path: Path) -> Path:
    made = CliRunner().invoke(main, ["init", str(tmp_path / "bar"), "--yes"])
    assert made.exit_code == 0
    return tmp_path / "bar"


def recipe(bar: Path, *line: str, typed: str | None = None) -> Result:
    return CliRunner().invoke(main, ["--bar", str(bar), "recipe", *line], input=typed)


def house(bar: Path) -> dict[str, str]:
    return {path.name: path.read_text("utf-8") for path in (bar / "house").iterdir()}


def test_what_is_said_becomes_a_recipe_that_can_be_poured(bar: Path) -> None:
    said = recipe(bar, "honey ginger syrup", *GINGER)
    assert said.exit_code == 0, said.stderr
    assert "honey ginger syrup: syrup with spice or herbs (syrup/spice)" in said.stdout
    assert "Of animal origin: honey" in said.stdout
    assert "never for infants" in said.stdout
    opened = load_bar(bar)
    made = prepare(find_recipe("honey ginger syrup", opened), opened, opened.today)
    assert [put.key for put in made.puts] == ["water", "honey", "ginger-root"]
    assert [step.do for step in made.recipe.table.steps] == ["simmer", "strain"]
    poured = CliRunner().invoke(
        main, ["--bar", str(bar), "design", "sour", "--with", "honey ginger syrup"]
    )
    assert poured.exit_code == 0
    assert "honey ginger syrup" in poured.stdout


def test_what_changes_no_weight_stands_beside_its_step(bar: Path) -> None:
    said = recipe(
        bar, "Tide Mark", "500 g sugar", "500 g water", "stir", "simmer 5 min", "cool", "bottle it"
    )
    assert said.exit_code == 0, said.stderr
    assert "Then: simmer 5 min [stir], cool [bottle it]." in said.stdout
    steps = load_bar(bar).recipes["tide-mark"].table.steps
    assert [step.note for step in steps] == ["stir", "bottle it"]


def test_nothing_is_written_where_it_is_only_tried(bar: Path) -> None:
    before = house(bar)
    said = recipe(bar, "honey ginger syrup", *GINGER, "--dry-run")
    assert said.exit_code == 0
    assert "Nothing was written" in said.stdout
    assert house(bar) == before


def test_what_is_there_is_not_written_over_without_a_word(bar: Path) -> None:
    recipe(bar, "honey ginger syrup", *GINGER)
    before = house(bar)
    again = recipe(bar, "Honey Ginger Syrup", "1 L water", "1 kg sugar")
    assert again.exit_code == 2
    assert "--replace" in again.stderr
    assert house(bar) == before


def test_another_recipe_leaves_all_else_of_its_file(bar: Path) -> None:
    recipe(bar, "honey ginger syrup", *GINGER)
    path = bar / "house" / "honey-ginger-syrup.toml"
    own = 'cautions = ["Mind the pods."]\nallergens = ["nuts"]\n'
    text = path.read_text("utf-8")
    path.write_text(text.replace("character =", f"{own}character ="), encoding="utf-8")
    said = recipe(bar, "honey ginger syrup", "1 L water", "1 kg honey", "--replace")
    assert said.exit_code == 0, said.stderr
    assert own in path.read_text("utf-8")
    assert "tree nuts" in said.stdout or "nuts" in said.stdout
    table = load_bar(bar).recipes["honey-ginger-syrup"].table
    assert dict(table.inputs) == {"water": "1 L", "honey": "1 kg"}
    assert table.steps == ()


def test_what_came_out_is_noted_in_place_of_what_came_out_before(bar: Path) -> None:
    recipe(bar, "honey ginger syrup", *GINGER)
    for weight, brix in (("1.35 kg", "42"), ("1.4 kg", "41 Brix")):
        said = recipe(bar, "honey ginger syrup", "--weight", weight, "--brix", brix)
        assert said.exit_code == 0, said.stderr
    opened = load_bar(bar)
    table = opened.recipes["honey-ginger-syrup"].table
    assert (table.measured.weight, table.measured.brix) == ("1.4 kg", "41 Brix")
    assert table.made == opened.today
    assert house(bar)["honey-ginger-syrup.toml"].count("made = ") == 1


def test_what_came_out_stands_in_a_file_written_by_hand(bar: Path) -> None:
    before = house(bar)["ginger-syrup.toml"]
    said = recipe(bar, "ginger-syrup", "--weight", "985 g", "--brix", "52", "--made", "2026-05-01")
    assert said.exit_code == 0, said.stderr
    after = house(bar)["ginger-syrup.toml"]
    assert [line for line in before.splitlines() if line not in after.splitlines()] == []
    assert "made = 2026-05-01" in after


def test_a_measurement_that_cannot_be_is_refused_and_changes_nothing(bar: Path) -> None:
    before = house(bar)
    for line in (["--weight", "5 kg"], ["--weight", "5"], ["--brix", "x"], []):
        said = recipe(bar, "ginger-syrup", *line)
        assert said.exit_code == 2, line
        assert said.stderr.startswith("equipour: ")
    assert house(bar) == before


def test_a_name_of_the_library_becomes_one_of_the_house(bar: Path) -> None:
    said = recipe(bar, "rich syrup", "1 kg sugar", "500 g water")
    assert said.exit_code == 0, said.stderr
    assert "house-rich-syrup.toml" in house(bar)
    again = recipe(bar, "rich syrup", "1 kg sugar", "500 g water")
    assert "there is a recipe for house-rich-syrup already" in again.stderr


@pytest.mark.parametrize(
    ("lines", "kind"),
    [
        (("500 g sugar", "500 g water"), "syrup/plain"),
        (("500 g honey", "200 g water"), "syrup/honey"),
        (("300 g raspberries", "500 g sugar", "300 g water", "strain"), "syrup/fruit"),
        (("500 g sugar", "400 ml lime juice", "20 g citric acid"), "syrup/cordial"),
        (("200 g almonds", "500 g sugar", "500 g water", "strain cloth"), "syrup/nut"),
        (("700 ml gin", "10 g black tea leaves", "steep 1 h", "strain"), "spirit/gin"),
        (("700 ml vodka", "400 g sugar", "300 g raspberries", "strain"), "liqueur/fruit"),
        (("20 g salt", "80 g water"), "seasoning/saline"),
        (("20 g malic acid", "200 g water"), "acid/solution"),
        (("10 g black tea leaves", "1 L water", "steep 5 min", "strain"), "brew/tea"),
    ],
)
def test_its_kind_is_found_out(bar: Path, lines: tuple[str, ...], kind: str) -> None:
    said = recipe(bar, "Tide Mark", *lines, "--dry-run", "--json")
    assert said.exit_code == 0, said.stderr
    found = json.loads(said.stdout)
    assert found["kind"] == kind
    assert found["written"] is False


def test_a_kind_that_nothing_tells_is_asked_for(bar: Path) -> None:
    said = recipe(bar, "Tide Mark", "1 L water")
    assert said.exit_code == 2
    assert "--kind" in said.stderr
    said = recipe(bar, "Tide Mark", "1 L water", "--kind", "water", "--character", "saline")
    assert said.exit_code == 0, said.stderr


def test_a_slip_in_each_line_is_told_and_nothing_is_written(bar: Path) -> None:
    before = house(bar)
    said = recipe(bar, "Tide Mark", "1 L watr", "500 g sugar", "simmer")
    assert said.exit_code == 2
    assert said.stderr.count("equipour: ") + said.stderr.count("\n") >= 2
    assert "Did you mean water" in said.stderr
    assert "how long" in said.stderr
    assert house(bar) == before


def test_in_a_pipe_nothing_is_asked(bar: Path) -> None:
    said = recipe(bar, typed="Tide Mark\n500 g sugar\n")
    assert said.exit_code == 2
    assert "say what it is called" in said.stderr


@pytest.fixture
def somebody(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(terminal, "is_there", lambda: True)


@pytest.mark.usefixtures("somebody")
def test_on_a_terminal_it_is_asked_line_by_line(bar: Path) -> None:
    typed = [
        "Tide Mark", "500 g suger", "1", "500 ml watr", "0", "500 ml water", "simmer", "",
        "990 grammes of it", "994 g", "50", "y",
    ]  # fmt: skip
    said = recipe(bar, typed="\n".join(typed) + "\n")
    assert said.exit_code == 0, said.stderr
    assert "Which:  1 white-sugar" in said.stderr
    assert "does not say how long" in said.stderr
    assert "equipour recipe 'Tide Mark' '500 g white-sugar' '500 ml water'" in said.stderr
    table = load_bar(bar).recipes["tide-mark"].table
    assert dict(table.inputs) == {"white-sugar": "500 g", "water": "500 ml"}
    assert (table.measured.weight, table.measured.brix) == ("994 g", "50 Brix")


@pytest.mark.usefixtures("somebody")
def test_on_a_terminal_a_no_writes_nothing(bar: Path) -> None:
    before = house(bar)
    said = recipe(bar, "Tide Mark", typed="500 g sugar\n500 g water\n\n\n\nn\n")
    assert said.exit_code == 0, said.stderr
    assert house(bar) == before


def test_thousands_with_a_point_are_never_read_as_one(bar: Path) -> None:
    refused = recipe(bar, "x syrup", "1.000 g sugar", "1 l water")
    assert refused.exit_code == 2
    assert "'1.000' can be read two ways" in refused.output
