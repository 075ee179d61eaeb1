"""What the program itself warns of is said in the language of the card, with its names and days."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner

from solver.cli.main import main
from solver.drinks.assess import assess, find_drink
from solver.pantry.ingredient import Ingredient
from solver.pantry.library import load_library
from solver.pantry.load_bar import load_bar
from solver.show.words import languages, words_of
from solver.tasks.prep.shelf_life import keeping_of

BAR = """name = "Lee Shore"
currency = "EUR"
today = 2026-11-26
"""
SHELF = """ingredient,bottle,price,on_hand,opened,use_by
gin,700 ml,20,6 bottles,,
sweet-vermouth,750 ml,10,3 bottles,,2026-09-30
tonic-water,200 ml,1,48 bottles,,
soda-water,200 ml,1,48 bottles,,
ginger-root,1 kg,6,1 kg,,
"""
OTHERS = [each for each in languages() if each != "en"]


@pytest.fixture
def bar(tmp_path: Path) -> Path:
    (tmp_path / "bar.toml").write_text(BAR, "utf-8")
    (tmp_path / "shelf.csv").write_text(SHELF, "utf-8")
    for line in (
        ("recipe", "ginger gin", "700 ml gin", "80 g ginger", "steep 3 days"),
        ("prep", "ginger-gin", "--stock"),
        ("shelf", "add", "harbour gin", "--like", "gin", "--abv", "41.2%"),
    ):
        said = CliRunner().invoke(main, ["--bar", str(tmp_path), *line])
        assert said.exit_code == 0, said.stderr
    return tmp_path


@pytest.mark.parametrize("language", OTHERS)
def test_cautions_of_the_program_are_said_with_names_and_days(bar: Path, language: str) -> None:
    opened, words = load_bar(bar), words_of(language)
    names = ("ginger gin", "sweet vermouth", "tonic water", "soda water", "harbour gin")
    drink = assess(find_drink([f"20 ml {name}" for name in names], (), opened), opened)
    said = [words.called(each, "caution") for each in drink.guest.cautions]
    own = " ".join(run.text for each in said for run in each.runs if not run.language)
    for day in (date(2026, 9, 30), date(2026, 11, 29)):
        assert words.day(day) in own
    left = {run.text for each in said for run in each.runs if run.language}
    assert left == {"ginger gin", "harbour gin"}, said  # the bar's own names
    assert len(said) == 5


@pytest.mark.parametrize("language", OTHERS)
def test_a_caution_of_the_bar_stays_as_it_is(language: str) -> None:
    text = "Ask the cook (2026): it is past"
    assert [run.language for run in words_of(language).called(text, "caution").runs] == ["en"]


def test_almond_milk_is_no_dairy_and_milk_is() -> None:
    library = load_library()
    figures = {
        "brix": 10.0, "sugar_g_100ml": 10.0, "acid_g_100ml": 0.0, "abv_pct": 0.0, "activity": 0.98,
    }  # fmt: skip
    milk = library.find("whole-milk")
    almond = milk.model_copy(update={"name": "almond milk", "allergens": frozenset({"nuts"})})
    untold = almond.model_copy(update={"allergens": None})

    def dairy(item: Ingredient) -> list[str]:
        found = keeping_of([item], strained=True, **figures)
        return [each for each in found.hazards if each.startswith("Dairy")]

    assert dairy(almond) == []
    assert dairy(milk)
    assert dairy(untold)


def test_what_a_house_recipe_takes_is_said_in_german(bar: Path) -> None:
    spec = 'name = "Fin"\n[[pours]]\ningredient = "ginger-gin"\namount = "45 ml"\n'
    (bar / "specs").mkdir()
    (bar / "specs" / "fin.toml").write_text(spec, "utf-8")
    said = CliRunner().invoke(main, ["--bar", str(bar), "card", "fin", "--language", "de"]).stdout
    assert "3 Tage zugedeckt ziehen lassen" in " ".join(said.split())


@pytest.mark.parametrize("language", OTHERS)
def test_everything_of_the_library_has_a_name(language: str) -> None:
    words = words_of(language)
    names = [item.name for item in load_library()]
    assert [each for each in names if not words.called(each).is_of_page] == []
