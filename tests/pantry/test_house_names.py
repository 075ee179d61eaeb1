"""A name that the house gave to what it makes means that, and never a bought thing of the name."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from solver.cli.main import main
from solver.pantry.load_bar import load_bar

HEAD = "ingredient,bottle,price,on_hand\ngin,700 ml,20,2 bottles\nlemon-juice,1 l,4,1 bottle\n"
ALMOND = """
[house-almond-syrup]
name = "house almond syrup"
kind = "syrup/nut"

[house-almond-syrup.recipe.inputs]
almonds = "300 g"
water = "500 g"
white-sugar = "600 g"
"""
GRENADINE = """
[our-grenadine]
name = "our grenadine"
kind = "syrup/nut"

[our-grenadine.recipe.inputs]
pomegranate-juice = "500 ml"
white-sugar = "500 g"
pistachios = "50 g"
"""
FIGURES = """
abv = { pct = 0, basis = "definition", source = "none" }
sugar = { g_100ml = 80, basis = "estimate", source = "invented" }
acid = { g_100ml = 0, basis = "estimate", source = "invented" }
allergens = []
animal = []
"""


@pytest.fixture
def bar(tmp_path: Path) -> Path:
    (tmp_path / "bar.toml").write_text('name = "Lee Shore"\ncurrency = "EUR"\n', "utf-8")
    (tmp_path / "shelf.csv").write_text(HEAD, "utf-8")
    (tmp_path / "house").mkdir()
    (tmp_path / "house" / "almond.toml").write_text(ALMOND, "utf-8")
    (tmp_path / "house" / "grenadine.toml").write_text(GRENADINE, "utf-8")
    return tmp_path


def ask(bar: Path, *line: str) -> Result:
    return CliRunner().invoke(main, ["--bar", str(bar), *line])


def assessed(bar: Path, pour: str, *more: str) -> dict[str, Any]:
    found = ask(bar, "assess", "2 oz gin", pour, "3/4 oz lemon juice", "--json", *more)
    assert found.exit_code == 0, found.stderr
    document: dict[str, Any] = json.loads(found.stdout)["answer"]
    return document


def buy_grenadine(bar: Path) -> None:
    (bar / "shelf.csv").write_text(f"{HEAD}grenadine,700 ml,6,1 bottle\n", "utf-8")


NAMES = (
    ("almond syrup", "house-almond-syrup"), ("Almond-Syrup", "house-almond-syrup"),
    ("house almond syrup", "house-almond-syrup"), ("grenadine", "our-grenadine"),
    ("house grenadine", "our-grenadine"), ("Grenadine", "our-grenadine"),
)  # fmt: skip


@pytest.mark.parametrize("cooked", [False, True])
def test_the_house_s_own_is_meant_and_its_nuts_are_told(bar: Path, cooked: bool) -> None:
    if cooked:
        for made in ("almond syrup", "grenadine"):
            stocked = ask(bar, "prep", made, "--stock")
            assert stocked.exit_code == 0, stocked.stderr
    for name, key in NAMES:
        document = assessed(bar, f"3/4 oz {name}")
        poured = [pour["ingredient"] for pour in document["pours"]]
        assert (name, poured[1]) == (name, key)
        assert (name, document["allergens"]) == (name, ["nuts"])


def test_a_spec_pours_the_house_s_own_by_the_name_alone(bar: Path) -> None:
    assessed(bar, "3/4 oz grenadine", "--save", "Pink Rope")
    path = bar / "specs" / "pink-rope.toml"
    path.write_text(path.read_text("utf-8").replace("our-grenadine", "grenadine"), "utf-8")
    said = ask(bar, "assess", "pink-rope", "--json")
    assert json.loads(said.stdout)["answer"]["allergens"] == ["nuts"], said.stderr
    assert ask(bar, "prep", "grenadine", "--stock").exit_code == 0
    swapped = ask(bar, "swap", "pink-rope", "grenadine", "almond syrup")
    assert "nothing of almond syrup is in a bottle yet" in swapped.stderr
    assert "our grenadine" in ask(bar, "card", "pink-rope").stdout


def test_of_two_things_of_a_name_neither_is_taken_silently(bar: Path) -> None:
    buy_grenadine(bar)
    both = "our-grenadine of the house, and the bought one"
    for line in (
        ("assess", "2 oz gin", "1 oz grenadine"),
        ("design", "sour", "--with", "grenadine"),
        ("design", "sour", "--feature", "grenadine"),
        ("stock", "in", "grenadine", "1 bottle"),
        ("stock", "open", "grenadine"),
    ):
        said = ask(bar, *line)
        assert (line, said.exit_code) == (line, 2)
        assert both in said.stderr
        assert "bought grenadine" in said.stderr
    assert assessed(bar, "1 oz bought grenadine")["pours"][1]["ingredient"] == "grenadine"
    assert assessed(bar, "1 oz our-grenadine")["allergens"] == ["nuts"]


def test_the_bought_one_is_called_so_wherever_it_is_poured(bar: Path) -> None:
    buy_grenadine(bar)
    assessed(bar, "3/4 oz bought grenadine", "--save", "Pink Rope")
    assert "bought grenadine" in ask(bar, "assess", "pink-rope").stdout
    assert "bought grenadine" in ask(bar, "shelf").stdout


def test_the_bought_one_may_go_into_the_house_s_own(bar: Path) -> None:
    text = GRENADINE.replace("pomegranate-juice", "grenadine")
    (bar / "house" / "grenadine.toml").write_text(text, "utf-8")
    document = assessed(bar, "3/4 oz our grenadine")
    assert document["allergens"] == ["nuts"]
    assert "our-grenadine of the house" in ask(bar, "assess", "2 oz gin", "1 oz grenadine").stderr


def test_what_goes_in_by_a_name_of_ours_is_not_what_comes_out(bar: Path) -> None:
    text = GRENADINE.replace("pomegranate-juice", '"house grenadine"')
    (bar / "house" / "grenadine.toml").write_text(text, "utf-8")
    opened = load_bar(bar)
    assert "our-grenadine" not in opened.inputs["our-grenadine"]
    assert opened.library.find("house grenadine").key in opened.inputs["our-grenadine"]


def test_a_house_file_of_something_bought_takes_no_name(bar: Path) -> None:
    text = GRENADINE.split("\n[our-grenadine.recipe")[0] + "bought = true\n" + FIGURES
    (bar / "house" / "grenadine.toml").write_text(text, "utf-8")
    opened = load_bar(bar)
    assert opened.library.find("grenadine").key == "grenadine"
    assert "our-grenadine" in opened.own - opened.house


def test_recipes_pour_the_house_s_own_too(bar: Path) -> None:
    said = ask(bar, "recipe", "pink foam", "100 ml grenadine", "100 ml water")
    assert said.exit_code == 0, said.stderr
    opened = load_bar(bar)
    assert opened.inputs["pink-foam"] == ("our-grenadine", "water")


def test_what_recipes_are_made_of_stays_what_it_is(bar: Path) -> None:
    text = ALMOND.replace("house-almond-syrup", "house-sugar").replace("almond syrup", "sugar")
    (bar / "house" / "sugar.toml").write_text(text, "utf-8")
    library = load_bar(bar).library
    assert (library.find("sugar").key, library.find("water").key) == ("white-sugar", "water")
