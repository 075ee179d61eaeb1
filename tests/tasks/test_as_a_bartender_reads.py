"""Answers as a bartender reads them, on small bars too (common practice, no source)."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path

import pytest
from click.testing import CliRunner

from solver.cli.main import main
from tests.open_bars import OPEN
from tests.profile_tables import DEMO

FEW = ("gin", "bourbon", "white-rum", "tequila-blanco", "orange-liqueur", "red-bitter",
       "sweet-vermouth", "aromatic-bitters", "lemon-juice", "lime-juice", "simple-syrup",
       "soda-water")  # fmt: skip
MORE = (*FEW, "blended-scotch", "jamaican-rum", "grapefruit-juice", "orange-juice",
        "pineapple-juice", "egg-white", "elderflower-liqueur", "sparkling-wine")  # fmt: skip


@pytest.fixture(scope="module")
def small(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder: Path = tmp_path_factory.mktemp("small")
    (folder / "bar.toml").write_text('name = "made up"\n')
    rows = "".join(f"{key},700 ml\n" for key in MORE) + "white-sugar,1000 g\n"
    (folder / "shelf.csv").write_text(f"ingredient,bottle\n{rows}")
    return folder


@cache
def designed(bar: Path, *arguments: str) -> dict[str, object]:
    typed = ["design", *arguments, "--bar", str(bar), "--json"]
    result = CliRunner().invoke(main, typed, obj=OPEN if bar == DEMO else None)
    assert result.exit_code == 0, result.output
    found: dict[str, object] = json.loads(result.output)
    return found


def poured(answer: object) -> dict[str, float]:
    assert isinstance(answer, dict)
    return {pour["ingredient"]: pour["ml"] for pour in answer["pours"]}


def test_where_there_is_whiskey_a_stirred_drink_with_sweet_vermouth_is_of_it(small: Path) -> None:
    assert list(poured(designed(small, "stirred")["answer"])) == [
        "bourbon", "sweet-vermouth", "aromatic-bitters",
    ]  # fmt: skip


def test_a_split_stirred_base_is_not_whiskey_with_gin(small: Path) -> None:
    pours = poured(designed(small, "stirred-split")["answer"])
    assert "gin" not in pours
    assert "bourbon" in pours


@pytest.mark.parametrize("profile", ["zero-proof-long", "smash", "sour-rocks"])
def test_a_bar_of_a_dozen_bottles_pours_what_every_bar_does(small: Path, profile: str) -> None:
    pours = poured(designed(small, profile)["answer"])
    assert "lemon-juice" in pours
    assert pours["simple-syrup"] == pytest.approx(pours["lemon-juice"], rel=0.34)


def test_the_other_long_drinks_without_alcohol_are_not_the_same_with_another_syrup(
    small: Path,
) -> None:
    found = designed(small, "zero-proof-long", "--alternatives", "2")
    others = found["alternatives"]
    assert isinstance(others, list)
    juices = {"grapefruit-juice", "orange-juice", "pineapple-juice"}
    assert [len(juices & set(poured(each))) for each in others] in ([1], [1, 1])


def test_under_a_foam_there_is_no_more_syrup_than_lemon() -> None:
    pours = poured(designed(DEMO, "sour-foam")["answer"])
    assert pours["simple-syrup"] <= pours["lemon-juice"]


def test_muddled_lime_has_its_two_spoons_of_sugar() -> None:
    answer = designed(DEMO, "muddled")["answer"]
    assert isinstance(answer, dict)
    grams = [pour["g"] for pour in answer["pours"] if pour["ingredient"] == "white-sugar"]
    assert 10 <= grams[0] <= 14


def test_a_fizz_with_cream_stands_in_no_ice() -> None:
    typed = ["design", "fizz-cream", "--bar", str(DEMO)]
    said = CliRunner().invoke(main, typed, obj=OPEN).output
    assert said.startswith("fizz-cream: shaken, strained and topped, up in a tall fizz glass\n")


def test_a_sling_is_called_topped_where_something_tops_it_and_is_none_without(
    small: Path,
) -> None:
    def first_line(*arguments: str) -> str:
        return CliRunner().invoke(main, ["design", "sling", *arguments]).output.splitlines()[0]

    made, served = "sling: shaken", "on fresh ice in a collins glass"
    assert first_line("--bar", str(DEMO)) == f"{made}, strained and topped, {served}"
    assert first_line("--without", "mixer", "--bar", str(DEMO)).startswith("This shelf has no such")
    juice = first_line("--without", "mixer", "--bar", str(small))
    assert juice == f"{made} with ice and strained, {served}"


@pytest.mark.parametrize("profile", ["collins", "fizz", "royale"])
def test_there_is_less_syrup_where_a_sweet_liqueur_comes_in(profile: str, small: Path) -> None:
    """Whatever room a bar's own glasses leave for more of the rest."""
    for bar in (DEMO, small):
        plain = poured(designed(bar, profile)["answer"])["simple-syrup"]
        sweet = poured(designed(bar, profile, "--with", "elderflower-liqueur")["answer"])
        assert plain == pytest.approx({"royale": 15}.get(profile, 22.5), rel=0.02)
        assert sweet["simple-syrup"] <= plain - 7.3


def test_a_long_muddled_drink_has_its_two_small_spoons_of_sugar(small: Path) -> None:
    answer = designed(small, "muddled-long", "--with", "white-sugar")["answer"]
    assert isinstance(answer, dict)
    grams = [pour["g"] for pour in answer["pours"] if pour["ingredient"] == "white-sugar"]
    assert 9 <= grams[0] <= 12


def test_of_a_sweet_liqueur_a_spritz_has_less_than_of_a_bitter_one() -> None:
    bitter = poured(designed(DEMO, "spritz")["answer"])
    sweet = poured(designed(DEMO, "spritz", "--with", "elderflower-liqueur")["answer"])
    assert bitter["light-orange-bitter"] == 60
    assert sweet["elderflower-liqueur"] <= 45
    assert sweet["sparkling-wine"] == bitter["sparkling-wine"]


def test_a_split_stirred_drink_is_two_of_spirits_to_one_of_vermouth() -> None:
    pours = poured(designed(DEMO, "stirred-split")["answer"])
    assert pours == {
        "cognac": 30, "rye-whiskey": 30, "sweet-vermouth": 30, "aromatic-bitters": 1.8,
    }  # fmt: skip


def test_a_sour_under_a_foam_leaves_room_for_it_in_a_coupe(small: Path) -> None:
    answer = designed(small, "sour-foam")["answer"]
    assert isinstance(answer, dict)
    assert 130 <= answer["finished"]["volume_ml"] <= 175
