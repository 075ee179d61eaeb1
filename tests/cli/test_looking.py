"""Looking at a drink, the shelf, an ingredient, the profiles."""

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from solver.cli.main import main

DEMO = str(Path(__file__).parents[2] / "demo")


def run(*arguments: str) -> Result:
    return CliRunner().invoke(main, [*arguments, "--bar", DEMO])


def test_an_existing_drink_is_weaker_and_larger_in_the_glass_than_before_ice() -> None:
    result = run("assess", "2 oz gin", "3/4 oz lemon juice", "3/4 oz simple-syrup")
    assert result.exit_code == 0, result.output
    strength = next(line for line in result.output.splitlines() if "strength" in line).split()
    volume = next(line for line in result.output.splitlines() if "volume" in line).split()
    assert float(strength[1]) > float(strength[2])
    assert float(volume[1]) < float(volume[2])


def test_a_pour_of_nothing_known_gets_one_sentence() -> None:
    result = run("assess", "2 oz unobtainium")
    assert result.exit_code == 2
    assert "unobtainium" in result.output


def test_an_ingredient_without_an_amount_is_not_taken_for_a_misspelling() -> None:
    result = run("assess", "mezcal")
    assert result.exit_code == 2
    assert "without an amount" in result.output
    assert "Did you mean" not in result.output


def test_an_ingredient_tells_its_sources_and_its_allergens() -> None:
    result = run("ingredients", "egg-white")
    assert result.exit_code == 0
    assert "allergens  egg" in result.output
    assert "USDA" in result.output


def test_no_two_columns_of_the_shelf_run_into_each_other(tmp_path: Path) -> None:
    (tmp_path / "bar.toml").write_text('name = "b"\ncurrency = "USD"\n', encoding="utf-8")
    (tmp_path / "shelf.csv").write_text(
        "ingredient,bottle,price,on_hand\ncitric-acid,1 kg,12345.50,1112.25 bottles\n",
        encoding="utf-8",
    )
    said = CliRunner().invoke(main, ["shelf", "--bar", str(tmp_path)]).stdout
    assert "0.0 100.00 1112.25 x 1000 g 12345.50" in said


def test_the_shelf_lists_every_bottle_and_the_house_ingredients() -> None:
    result = run("shelf")
    assert "rye-whiskey" in result.output
    assert "rhubarb-syrup" in result.output
    assert "45.0" in next(x for x in result.output.splitlines() if x.startswith("rye-whiskey"))


def test_what_is_on_hand_is_said_in_what_it_is_bought_in(tmp_path: Path) -> None:
    (tmp_path / "bar.toml").write_text('name = "b"\ncurrency = "USD"\n', encoding="utf-8")
    (tmp_path / "shelf.csv").write_text(
        "ingredient,bottle,price,on_hand\nsoda-water,200 ml,0.5,24 bottles\n"
        "whole-limes,1 piece,0.4,20 pieces\ngin,750 ml,30,\nbourbon,,,300 ml\n"
        "tequila-blanco,25.4 fl. oz,32,2 bottles\n",
        encoding="utf-8",
    )
    lines = CliRunner().invoke(main, ["shelf", "--bar", str(tmp_path)]).stdout.splitlines()
    said = {line.split()[0]: " ".join(line.split()[4:]) for line in lines if line.strip()}
    assert said["soda-water"] == "24 x 200 mL 0.50"
    assert said["whole-limes"] == "20 pieces 0.40"
    assert said["gin"] == "? x 750 mL 30.00"
    assert said["bourbon"] == "300 mL"
    assert said["tequila-blanco"] == "2 x 25.4 oz 32.00"
    assert max(map(len, lines)) <= 80


def test_what_the_library_knows_is_not_called_a_shelf(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("EQUIPOUR_BAR", raising=False)
    said = CliRunner().invoke(main, ["shelf"]).stdout
    assert said.startswith("There is no bar here: below is all that the library knows.")
    (tmp_path / "bar.toml").write_text('name = "b"', encoding="utf-8")
    said = CliRunner().invoke(main, ["shelf"]).stdout
    assert said.startswith("This bar has no shelf.csv: below is all that the library knows.")
    assert "library knows" not in run("shelf").stdout


def test_the_profiles_include_the_bar_s_own() -> None:
    names = {line.split()[0] for line in run("profiles").output.splitlines()}
    assert {"sour", "stirred", "bollard-sour"} <= names


def test_a_profile_tells_its_parts_its_aims_and_its_source() -> None:
    result = run("profiles", "sour")
    for said in ("base", "1 1/4..2 1/2 oz", "strength", "15..19.7 % vol", "from memory"):
        assert said in result.output


def document(*arguments: str) -> dict[str, Any]:
    result = run(*arguments, "--json")
    assert result.exit_code == 0, result.output
    found: dict[str, Any] = json.loads(result.stdout)
    assert found["format"] == 1
    assert found["task"] == arguments[0]
    return found


def test_the_shelf_as_a_document_has_stock_and_prices_as_numbers_with_their_unit() -> None:
    listed = document("shelf")["bottles"]
    bottles = {bottle["ingredient"]: bottle for bottle in listed}
    assert bottles["gin"]["on_hand_ml"] == pytest.approx(1400)
    assert bottles["gin"]["bottle_ml"] == 700
    assert bottles["demerara-sugar"]["bottle_g"] == 1000
    assert bottles["rye-whiskey"]["abv_pct"] == 45
    assert bottles["lemon-juice"]["opened"] == "2026-05-08"
    assert len(listed) == len(run("shelf").output.splitlines()) - 4


def test_an_ingredient_as_a_document_has_a_source_for_every_figure() -> None:
    (lime,) = document("ingredients", "lime-juice")["ingredients"]
    assert lime["acid_g_100ml"]["value"] == 5.6  # the bar's own figure, from its shelf
    figures = [value for value in lime.values() if isinstance(value, dict) and "value" in value]
    assert len(figures) >= 3
    assert all(figure["basis"] and figure["source"] for figure in figures)


def test_every_ingredient_is_in_the_document() -> None:
    keys = [item["ingredient"] for item in document("ingredients")["ingredients"]]
    assert keys == [line.split()[0] for line in run("ingredients").output.splitlines()]
    assert len(keys) == len(set(keys)) > 150


def test_a_profile_as_a_document_is_in_numbers() -> None:
    (sour,) = document("profiles", "sour")["profiles"]
    assert {"measure": "abv", "unit": "% vol", "low": 15.0, "high": 19.7} in sour["aims"]
    assert {"measure": "abv", "unit": "% vol", "low": 12.0, "high": 22.0} in sour["limits"]
    base = next(part for part in sour["parts"] if part["part"] == "base")
    assert base["each"] == {"low": 37.5, "high": 75.0, "unit": "ml"}  # this bar's ounce is 30 mL
    assert base["count"] == {"low": 1, "high": 1}


def test_every_profile_is_in_the_document() -> None:
    names = [profile["name"] for profile in document("profiles")["profiles"]]
    assert names == [line.split()[0] for line in run("profiles").output.splitlines()]
