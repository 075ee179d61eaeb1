"""`equipour prep --aim`: what to add, what holds it back, and how it ends."""

from __future__ import annotations

import json

import pytest

from tests.cli.test_prep import run


def test_a_syrup_is_brought_to_a_brix_in_whole_grams() -> None:
    result = run("prep", "rhubarb-syrup", "--aim", "60 Brix", "--json")
    assert result.exit_code == 0, result.output
    document = json.loads(result.output)
    assert document["met"]
    assert [added["ingredient"] for added in document["added"]] == ["white-sugar"]
    assert document["added"][0]["g"] == int(document["added"][0]["g"])
    assert document["figures"]["brix"] == pytest.approx(60, abs=0.05)


def test_a_spirit_is_brought_to_strength_and_fills_the_bottle() -> None:
    result = run("prep", "gin-navy-strength", "--aim", "abv 40%", "--make", "700 ml", "--json")
    document = json.loads(result.output)
    assert document["volume_ml"] == pytest.approx(700, abs=1)
    assert document["figures"]["abv"] == pytest.approx(40, abs=0.1)


def test_a_juice_is_made_as_sharp_as_lime_and_the_parts_assumed_are_said() -> None:
    result = run("prep", "pineapple-juice", "--aim", "acid 6 g/100ml")
    assert result.exit_code == 0, result.output
    assert "Assumed: citric and malic acid 2:1" in result.output
    assert "Caution: Acid dust" in result.output
    told = run("prep", "pineapple-juice", "--aim", "acid 6 g/100ml", "--acids", "1:1", "--json")
    document = json.loads(told.output)
    grams = {added["ingredient"]: added["g"] for added in document["added"]}
    assert grams["citric-acid"] == pytest.approx(grams["malic-acid"], abs=1)
    assert document["assumed"] == []


def test_an_aim_beyond_what_stays_dissolved_is_not_met_and_the_limit_is_named() -> None:
    result = run("prep", "rhubarb-syrup", "--aim", "68 Brix")
    assert result.exit_code == 1
    said = " ".join(result.output.split())
    assert "The aim is not met" in said
    assert "at 4 °C sugar stays dissolved only up to 64.8 g in 100 g of sugar and water" in said
    warm = run("prep", "rhubarb-syrup", "--aim", "66.5 Brix", "--stored", "20 C")
    assert warm.exit_code == 0, warm.output


def test_an_aim_beyond_what_is_on_the_shelf_names_the_shelf() -> None:
    result = run("prep", "simple-syrup", "--aim", "abv 12%", "--make", "20 L")
    assert result.exit_code == 1
    assert "g of vodka on the shelf" in " ".join(result.output.split())


def test_amounts_that_were_not_found_are_not_called_impossible() -> None:
    asked = ("--aim", "70 Brix", "--stored", "0 C", "--make", "60 L", "--fortify-to-keep")
    result = run("prep", "lemon-juice", *asked)
    assert result.exit_code == 2
    said = " ".join(result.output.split())
    assert "no amounts were found that do that" in said
    assert "nothing tried reaches 78 Delle units" in said


def test_an_aim_takes_a_time_limit() -> None:
    result = run("prep", "rhubarb-syrup", "--aim", "60 Brix", "--time-limit", "20")
    assert result.exit_code == 0, result.output


def test_a_cordial_is_fortified_until_it_keeps_from_yeast() -> None:
    arguments = ("--aim", "sugar 45 g/100ml", "--fortify-to-keep", "--json")
    document = json.loads(run("prep", "rhubarb-syrup", *arguments).output)
    assert document["figures"]["delle"] >= 78 - 1e-6
    assert document["figures"]["sugar"] == pytest.approx(45, abs=0.2)


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("--aim", "sour 4"), "not something a batch can be aimed at"),
        (("--aim", "acid 6 ml"), "measures volume"),
        (("--aim", "acid 2 g/100ml", "--acids", "lots"), "no parts of citric and malic"),
        (("--aim", "abv 20%", "--spirit", "lime-juice"), "no alcohol in lime juice"),
        (("--aim", "60 Brix", "--step", "0 g"), "step of the scale is nothing"),
        (("--aim", "60 Brix", "--make", "2 pieces"), "no amount to make"),
        (("--aim", "60 Brix", "--stock"), "goes with neither --aim nor --serve"),
    ],
)
def test_a_wish_that_cannot_be_read_is_answered_in_one_sentence(
    arguments: tuple[str, ...], said: str
) -> None:
    result = run("prep", "rhubarb-syrup", *arguments)
    assert result.exit_code == 2
    assert said in " ".join(result.output.split())
    assert "Traceback" not in result.output


def test_nothing_known_is_aimed_at_nothing() -> None:
    result = run("prep", "unobtainium", "--aim", "60 Brix")
    assert result.exit_code == 2
    assert "unobtainium" in result.output


def test_acids_are_assumed_only_where_some_are_added() -> None:
    result = run("prep", "lemon-juice", "--aim", "acid 5 g/100ml")
    assert "g  water" in result.output
    assert "Assumed" not in result.output
