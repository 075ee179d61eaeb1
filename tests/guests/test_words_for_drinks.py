"""A word for what holds alcohol speaks against a drink, in whatever garnish or step it stands."""

from __future__ import annotations

import json
import shutil
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st

from solver.cli.main import main
from solver.pantry.bar import Bar
from solver.pantry.load_bar import load_bar
from solver.pantry.mentions import Mentions
from tests.ingredient_tables import ROOT

DEMO = ROOT / "demo"
WINES = ("wine", "mead", "ice wine", "mulled wine", "bubbly", "Sekt", "Rotwein", "wines")
EVERYDAY = (
    *WINES, "151", "booze", "liquor", "grain alcohol", "Schnaps", "eggnog", "nocino", "single malt",
    "hard seltzer", "spirits", "beers",
)  # fmt: skip


@cache
def bar() -> Bar:
    return load_bar(DEMO)


def in_steps(mentions: Mentions, text: str) -> tuple[str, ...]:
    return mentions.notes(text).may_hold_alcohol + mentions.unknown_in_steps(text).may_hold_alcohol


def in_garnish(mentions: Mentions, text: str) -> tuple[str, ...]:
    told = mentions.garnish(text)
    return told.alcohol + told.may_hold_alcohol


@given(
    word=st.sampled_from(EVERYDAY),
    step=st.sampled_from(["Float 15 ml of {}", "Add {}", "Top with dry {}.", "Add 1 oz of {}"]),
)
def test_an_everyday_word_for_a_drink_may_hold_alcohol(word: str, step: str) -> None:
    mentions = bar().mentions
    assert in_steps(mentions, step.format(word))
    assert in_garnish(mentions, f"{word}-soaked leaf")
    assert in_garnish(mentions, f"leaf in {word}")


@pytest.mark.parametrize("wine", WINES)
def test_a_word_for_a_wine_may_hold_sulphites(wine: str) -> None:
    mentions = bar().mentions
    assert "sulphites" in mentions.notes(f"Float 15 ml of {wine}").may_contain
    assert "sulphites" in mentions.garnish(f"leaf in {wine}").may_contain


def test_any_name_of_what_holds_alcohol_tells_so() -> None:
    mentions = bar().mentions
    silent = [
        name
        for item in bar().bottles
        if item.abv.value > 0
        for name in (item.key, item.name, *item.aliases)
        if not in_steps(mentions, f"Add 10 ml of {name}")
        or not in_garnish(mentions, f"{name} leaf")
    ]
    assert silent == []


@pytest.mark.parametrize(
    ("drink", "allergen"),
    [("nocino", "nuts"), ("ale", "gluten"), ("beers", "gluten"), ("Eierlikör", "milk")],
)
def test_what_such_a_drink_usually_holds_is_possible_in_a_step(drink: str, allergen: str) -> None:
    assert allergen in bar().mentions.notes(f"Top with {drink}").may_contain


@pytest.mark.parametrize("garnish", ["bourbon vanilla", "split Bourbon vanilla pod"])
def test_vanilla_from_bourbon_is_no_whiskey(garnish: str) -> None:
    assert "bourbon whiskey" not in in_garnish(bar().mentions, garnish)


@pytest.mark.parametrize(
    "text",
    ["Strain into a chilled wine glass", "Strain into a wineglass", "Pour into white wine glasses",
     "Champagne-flutes from the freezer", "Strain into a martini glass", "Ohne Alkohol",
     "Top up without wine", "Shake 15 seconds", "Crack pepper over it", "Serve neat",
     "Whip the cream lightly", "Season, clarify", "Mit Limettenscheibe servieren"],
)  # fmt: skip
def test_a_glass_called_after_a_drink_holds_none_of_it(text: str) -> None:
    assert in_steps(bar().mentions, text) == ()


def test_a_drink_at_the_end_of_a_step_is_none_of_the_glass_in_the_next() -> None:
    assert in_steps(bar().mentions, "Add wine\nGlass from the freezer") == ("wine",)
    assert in_steps(bar().mentions, "Add wine, glass from the freezer") == ("wine",)


def zero(folder: Path, *lines: str) -> Path:
    """The demonstration bar with a drink of tea alone, and what is written of it beside."""
    shutil.copytree(DEMO, folder)
    (folder / "specs" / "tea-tide.toml").write_text(
        "\n".join(
            (
                'name = "Tea Tide"', 'technique = "shake"', *lines, "[[pours]]",
                'ingredient = "strong-black-tea"', 'amount = "90 ml"',
            )
        ),
        encoding="utf-8",
    )  # fmt: skip
    return folder


def run(folder: Path, *words: str) -> str:
    result = CliRunner().invoke(main, [*words, "--bar", str(folder)])
    assert result.exit_code in (0, 1, 3), result.output
    return " ".join(result.stdout.split())


@pytest.mark.parametrize(
    ("line", "named"),
    [
        ('steps = ["Float 15 ml of wine"]', "wine"),
        ('steps = ["Add mead"]', "mead"),
        ('steps = ["Add 1 oz of 151"]', "151"),
        ('garnish = "Bourbon cherry"', "bourbon"),
        ('garnish = "cherry in bourbon"', "bourbon"),
        ('garnish = "gin-cured cucumber"', "gin"),
        ('garnish = "vodka gummy bear"', "vodka"),
    ],
)
def test_nothing_says_that_such_a_drink_is_without_alcohol(
    tmp_path: Path, line: str, named: str
) -> None:
    folder = zero(tmp_path / "bar", line)
    card = run(folder, "card", "tea-tide", "--for", "guest")
    assert "Perhaps not without alcohol" in card
    assert f"May hold alcohol: {named}" in card
    assert f"May hold alcohol: {named}" in run(folder, "assess", "tea-tide")
    made: dict[str, Any] = json.loads(run(folder, "assess", "tea-tide", "--json"))["answer"]
    assert any(named in each for each in made["may_hold_alcohol"])
    batch = run(folder, "batch", "tea-tide", "--serves", "4", "--label")
    assert f"May hold alcohol: {named}" in batch
    plan = run(folder, "plan", "--drinks", "2", "tea-tide=100%")
    assert f"may hold alcohol: {named}" in plan.casefold()


def test_a_dash_that_hardly_shows_is_not_called_without_alcohol(tmp_path: Path) -> None:
    folder = zero(tmp_path / "bar", 'garnish = "none"')
    spec = folder / "specs" / "tea-tide.toml"
    dash = '\n[[pours]]\ningredient = "aromatic-bitters"\namount = "1 dash"\n'
    spec.write_text(spec.read_text(encoding="utf-8") + dash, encoding="utf-8")
    assert "Hardly any alcohol" in run(folder, "card", "tea-tide", "--for", "guest")


@pytest.mark.parametrize(
    ("added", "limit"),
    [
        ("60 ml gin", ("--standard-drinks", "<=0.5")),
        ("wine", ("--abv", "<=1%")),
        ("151", ("--lighter",)),
        ("something of Pernod", ("--standard-drinks", "<=0.5")),
    ],
)
def test_what_steps_add_uncounted_is_not_promised_to_who_asks_for_little(
    tmp_path: Path, added: str, limit: tuple[str, ...]
) -> None:
    folder = zero(tmp_path / "bar", f'steps = ["Add {added}"]')
    said = run(folder, "check", "tea-tide", *limit)
    assert said.startswith("No.")
    assert "may add alcohol that no figure counts: write it as a pour" in said


def test_what_steps_add_does_not_matter_to_who_asks_for_less_sugar(tmp_path: Path) -> None:
    folder = zero(tmp_path / "bar", 'steps = ["Add wine"]')
    assert "no figure counts" not in run(folder, "check", "tea-tide", "--sugar", "<=1 g/100ml")


@pytest.mark.parametrize("named", ["wine", "moonshine", "absinthe"])
def test_figures_own_up_to_whatever_drink_steps_add(tmp_path: Path, named: str) -> None:
    folder = zero(tmp_path / "bar", f'steps = ["Float 15 ml of {named}"]')
    without = f"Strength and standard drinks are without what the steps add: {named}."
    assert without in run(folder, "assess", "tea-tide")
    assert without in run(folder, "batch", "tea-tide", "--serves", "4", "--label")


def test_a_shot_beside_a_drink_may_hold_alcohol_and_one_of_coffee_does_not() -> None:
    assert in_steps(bar().mentions, "Serve with a shot on the side") == ("shot",)
    assert in_garnish(bar().mentions, "a shot on the side") == ("shot",)
    for said in ("Add a double shot of espresso", "Pull an espresso shot", "Serve in a shot glass"):
        assert in_steps(bar().mentions, said) == ()
