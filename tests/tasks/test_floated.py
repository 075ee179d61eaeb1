"""A drink with something laid on it is told as two."""

from __future__ import annotations

import json

import pytest
from click.testing import CliRunner

from solver.cli.main import main
from solver.drinks.assess import Assessment, assess, find_drink
from solver.pantry.bar import Bar
from solver.pantry.load_bar import load_bar
from tests.tasks.bars import DEMO, demo

FERRY = ("1 1/2 oz irish-whiskey", "1/2 oz almond-spice-syrup", "4 oz brewed-coffee")


def made(bar: Bar, *pours: str, top: tuple[str, ...] = (), technique: str = "hot") -> Assessment:
    return assess(find_drink(pours, top, bar), bar, technique=technique)


@pytest.mark.parametrize("technique", ["hot", "shake", "stir"])
def test_under_a_float_is_the_drink_without_it(technique: str) -> None:
    bar = demo()
    whole = made(bar, *FERRY, top=("3/4 oz heavy-cream",), technique=technique)
    alone = made(bar, *FERRY, technique=technique)
    assert whole.floated is not None
    assert [item.key for item in whole.floated.items] == ["heavy-cream"]
    assert float(whole.floated.under.abv_pct) == pytest.approx(alone.values["abv"])
    assert float(whole.floated.under.volume_ml) == pytest.approx(alone.values["volume"])
    assert float(whole.floated.under.abv_pct) > (whole.values["abv"] or 0.0)


@pytest.mark.parametrize("top", ["2 oz soda-water", "2 oz sparkling-wine", "2 oz ginger-beer"])
def test_what_fizzes_is_no_float(top: str) -> None:
    assert made(demo(), "2 oz gin", top=(top,), technique="shake-top").floated is None


def test_nothing_on_top_is_no_float() -> None:
    assert made(demo(), *FERRY).floated is None


@pytest.mark.parametrize("profile", ["hot-coffee", "sour-float"])
def test_a_design_tells_both(profile: str) -> None:
    library = str(DEMO) if profile == "hot-coffee" else None
    line = [*(["--bar", library] if library else []), "design", profile]
    said = CliRunner().invoke(main, line).output
    document = json.loads(CliRunner().invoke(main, [*line, "--json"]).output)
    assert "\nUnder the " in said
    under = document["answer"]["under_float"]
    assert under["abv_pct"] > document["answer"]["finished"]["abv_pct"]
    assert under["volume_ml"] < document["answer"]["finished"]["volume_ml"]


@pytest.mark.parametrize(
    ("form", "language", "said"),
    [("txt", "en", "Under the heavy cream"), ("html", "en", "Under the heavy cream"),
     ("svg", "en", "Under the heavy cream"), ("txt", "de", "Darunter, ohne Schlagsahne")],
)  # fmt: skip
def test_a_card_tells_both(form: str, language: str, said: str) -> None:
    line = ["--bar", str(DEMO), "card", "last-ferry", "--as", form, "--language", language]
    assert said in CliRunner().invoke(main, line).output


def test_a_spec_tells_both() -> None:
    bar = load_bar(DEMO)
    said = CliRunner().invoke(main, ["--bar", str(DEMO), "assess", "last-ferry"]).output
    assert "Under the heavy cream: 10.0 % vol" in said
    assert assess(find_drink(("last-ferry",), (), bar), bar).floated is not None
