"""A recipe of the house is handed on whole, to whom it may be: steps, days, cautions."""

from __future__ import annotations

import html
import re
from pathlib import Path

import pytest
from click.testing import CliRunner

from solver.cli.main import main
from solver.drinks.card import Reader
from solver.pantry.bar import Bar
from solver.pantry.load_bar import load_bar
from solver.pantry.spec import read_specs
from solver.pantry.vocabulary import STEPS, STRAINERS
from solver.show.pages.card.made import cards_as
from solver.show.words import languages, words_of
from solver.tasks.prep.prepare import find_recipe, prepare
from solver.tasks.prep.shelf_life import ALWAYS

HOUSE = """
[pumpkin-syrup]
name = "pumpkin syrup"
kind = "syrup/fruit"
character = ["vegetal", "warm-spice"]
abv = { pct = 1.3, basis = "estimate", source = "made up" }
sugar = { g_100ml = 48, basis = "estimate", source = "made up" }
acid = { g_100ml = 0.05, basis = "estimate", source = "made up" }
acids = { malic = 1.0 }
allergens = []
animal = []
life = { days = 12, basis = "estimate", source = "made up" }

[pumpkin-syrup.recipe]
made = 2026-11-20

[pumpkin-syrup.recipe.inputs]
pumpkin = "600 g"
water = "1 l"
white-sugar = "900 g"
cassia = "6 g"
nutmeg = "1 g"

[[pumpkin-syrup.recipe.steps]]
do = "simmer"
time = "15 min"

[[pumpkin-syrup.recipe.steps]]
do = "strain"
through = "cloth"

[[pumpkin-syrup.recipe.steps]]
do = "fortify"
ingredient = "vodka"
amount = "60 ml"
"""
SPEC = """
name = "Lantern"
technique = "shake"
glass = "coupe"
[[pours]]
ingredient = "overproof-rum"
amount = "1 oz"
[[pours]]
ingredient = "pumpkin-syrup"
amount = "3/4 oz"
[[pours]]
ingredient = "lemon-juice"
amount = "3/4 oz"
"""
FORMS = ("txt", "html", "svg")


@pytest.fixture(scope="module")
def bar(tmp_path_factory: pytest.TempPathFactory) -> Bar:
    folder = tmp_path_factory.mktemp("bar")
    (folder / "house").mkdir()
    (folder / "specs").mkdir()
    (folder / "bar.toml").write_text('name = "made up"\ntoday = 2026-11-26\n')
    (folder / "house" / "house.toml").write_text(HOUSE)
    (folder / "specs" / "lantern.toml").write_text(SPEC)
    (folder / "shelf.csv").write_text(
        "ingredient,bottle,price,on_hand,opened\noverproof-rum,700 ml,30,1 bottle,\n"
        "pumpkin-syrup,700 ml,,1 bottle,2026-11-20\nlemon-juice,,,1 l,\n"
    )
    return load_bar(folder)


def card(bar: Bar, reader: str, form: str = "txt", language: str = "en") -> str:
    made = cards_as(
        form, read_specs(bar.specs), bar, Reader(reader), words_of(language), bar.today,
        size="page", book=False,
    ).decode()  # fmt: skip
    plain = html.unescape(re.sub(r"<style.*?</style>|<[^>]*>", " ", made, flags=re.DOTALL))
    return " ".join(plain.split())


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("reader", ["bar", "reader"])
def test_who_may_cook_it_is_told_all_that_prep_says(bar: Bar, reader: str, form: str) -> None:
    said = card(bar, reader, form)
    assert "600 g pumpkin" in said
    assert "simmer 15 min, strain through a cloth, once it is cool, add the vodka" in said
    prep = prepare(find_recipe("pumpkin-syrup", bar), bar, bar.today)
    assert "keeps 12 days in the cold" in said
    cautions = [*prep.told.kitchen_cautions, *prep.keeping.hazards]
    assert {"pH", "coumarin"} <= {w for each in cautions for w in re.findall(r"\w+", each)}
    for each in cautions:
        assert each == ALWAYS or each in said
    assert "no promise that it is safe" in said


@pytest.mark.parametrize("form", FORMS)
def test_a_guest_sees_nothing_of_the_kitchen(bar: Bar, form: str) -> None:
    said = card(bar, "guest", form)
    for word in ("simmer", "600 g", "coumarin", "keeps", "flame", "no promise"):
        assert word not in said


@pytest.mark.parametrize("form", FORMS)
def test_what_is_poured_near_a_flame_is_said_to_whoever_pours_it(bar: Bar, form: str) -> None:
    for reader in ("bar", "reader"):
        assert "keep it away from flame" in card(bar, reader, form)


def test_the_date_of_the_bars_own_bottle_is_for_the_bar(bar: Bar) -> None:
    assert "use by 2026-12-" in card(bar, "bar")
    assert "use by" not in card(bar, "reader")


def test_what_nobody_measured_says_how_much_of_it_is_expected(bar: Bar) -> None:
    volume = prepare(find_recipe("pumpkin-syrup", bar), bar, bar.today).figures.volume_ml.value
    assert f"gives about {round(volume, -1):.0f} mL" in card(bar, "reader")


@pytest.mark.parametrize("language", languages())
def test_every_step_and_strainer_has_words(language: str) -> None:
    words = words_of(language).table
    assert set(STEPS) <= set(words["cook"])
    assert set(STRAINERS) == set(words["strainer"])


def test_a_name_of_another_thing_brings_no_recipe_with_it() -> None:
    """The raw rhubarb of a syrup that also answers to rhubarb is no syrup."""
    demo = Path(__file__).parents[2] / "demo"
    said = CliRunner().invoke(main, ["card", "harbour-light", "--bar", str(demo)]).output
    assert said.count("simmer 25 min") == 1


def test_what_goes_into_a_recipe_is_called_as_the_language_or_the_bar_calls_it(
    tmp_path: Path,
) -> None:
    (tmp_path / "bar.toml").write_text('name = "made up"\ntoday = 2026-11-26\n')
    (tmp_path / "shelf.csv").write_text(
        "ingredient,bottle,price,on_hand,label\nheavy-cream,1 l,4,1 bottle,Sahne vom Hof\n"
        "whole-egg,10 pieces,3,20 pieces,\nwhite-sugar,1 kg,1,1 kg,\ndark-rum,700 ml,20,1 bottle,\n"
    )
    inputs = ("500 g heavy cream", "4 whole eggs", "200 g white sugar", "200 ml dark rum")
    (tmp_path / "specs").mkdir()
    (tmp_path / "specs" / "flip.toml").write_text(
        'name = "Flip"\npours = [{ ingredient = "egg-cream", amount = "90 ml" }]\n'
    )
    for line in (("recipe", "egg cream", *inputs), ("card", "flip", "--language", "de")):
        said = CliRunner().invoke(main, [*line, "--bar", str(tmp_path)])
        assert said.exit_code == 0, said.stderr
    plain = " ".join(said.stdout.split())
    assert "500 g Sahne vom Hof, 4 Stück Ei, 200 g weißer Zucker, 200 ml dunkler Rum" in plain
