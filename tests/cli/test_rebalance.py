"""The command `rebalance`: one table, what it writes, and how it ends."""

import json
import shutil
import tomllib
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from solver.cli.main import main

DEMO = Path(__file__).parents[2] / "demo"
WEAK_LEMONS = ("--set", "lemon-juice.acid=4g/100ml")


@pytest.fixture
def bar(tmp_path: Path) -> Path:
    folder = tmp_path / "bar"
    shutil.copytree(DEMO, folder)
    return folder


def run(bar: Path, *arguments: str) -> Result:
    return CliRunner().invoke(main, ["rebalance", *arguments, "--bar", str(bar)])


def flat(text: str) -> str:
    return " ".join(text.split())


def test_one_table_says_of_every_spec_what_becomes_of_it() -> None:
    result = run(DEMO, *WEAK_LEMONS)
    assert result.exit_code == 1
    said = flat(result.output)
    assert said.startswith("lemon juice, fresh with acid 4g/100ml:")
    assert "re-balanced Dry Dock 1/2 oz to 3/4 oz lemon juice, fresh" in said
    assert "poured as it was: acid 0.54 instead of 0.74 g/100 mL" in said
    assert "cannot be saved Harbour Light" in said
    assert "cannot hold together: strength at least" in said
    assert "not concerned Last Ferry" in said
    assert "Of 7 specs: 1 cannot be saved, 1 re-balanced, 5 not concerned; " in said
    assert "Labels, local rules and licensed practice come before" in said


def test_what_a_guest_must_know_anew_is_said() -> None:
    said = flat(run(DEMO, "--out-of", "almond-spice-syrup").output)
    assert "allergens and animal origin: gone: contains nuts" in said


SMOKED = """
[smoked-honey]
name = "smoked honey"
kind = "syrup/spice"
character = {character}
abv = {{ pct = 0, basis = "computed", source = "invented" }}
sugar = {{ g_100ml = 84, basis = "computed", source = "invented" }}
acid = {{ g_100ml = 0, basis = "computed", source = "invented" }}
density = {{ g_ml = 1.31, basis = "computed", source = "invented" }}
allergens = []
animal = ["honey"]
allergens_source = "invented"
cautions = ["Invented: taste before serving."]
"""


def test_what_the_house_smokes_stands_in_for_nothing_quiet(bar: Path) -> None:
    shelf = (bar / "shelf.csv").read_text(encoding="utf-8").splitlines()
    sweet = ("simple-syrup", "rich-", "white-sugar", "maple", "honey", "demerara", "agave")
    rest = [row for row in shelf if not row.startswith(sweet)]
    more = f"smoked-honey{',' * shelf[0].count(',')}"
    (bar / "shelf.csv").write_text("\n".join([*rest, more]), encoding="utf-8")
    house = bar / "house" / "smoked-honey.toml"
    house.write_text(SMOKED.format(character='["honey"]'), encoding="utf-8")
    said = flat(run(bar, "--out-of", "rhubarb-syrup").output)
    assert "smoked honey; no rhubarb syrup" in said
    assert "caution, new: Invented: taste before serving." in said
    house.write_text(SMOKED.format(character='["honey", "smoke"]'), encoding="utf-8")
    assert "smoked honey" not in run(bar, "--out-of", "rhubarb-syrup").output


def test_nothing_lost_ends_well_and_the_document_counts() -> None:
    result = run(DEMO, "--out-of", "bourbon", "--json")
    assert result.exit_code == 0
    found = json.loads(result.stdout)
    assert (found["task"], found["status"]) == ("rebalance", "kept")
    assert found["counts"]["re-balanced"] == 1
    states = {spec["file"]: spec["state"] for spec in found["specs"]}
    assert states["rope-store.toml"] == "re-balanced"
    changed = next(spec for spec in found["specs"] if spec["file"] == "rope-store.toml")
    assert changed["result"]["changed_pours"] == 1


def test_applying_writes_the_specs_and_says_what_is_left_to_write(bar: Path) -> None:
    result = run(bar, *WEAK_LEMONS, "--apply")
    path = bar / "specs" / "dry-dock.toml"
    assert f"written: {path}" in result.stderr
    assert "write acid=4g/100ml into its overrides" in result.stderr
    pours = {p["ingredient"]: p["amount"] for p in tomllib.loads(path.read_text())["pours"]}
    assert pours["lemon-juice"] == "3/4 oz"
    assert path.read_text().startswith("# Invented for the demonstration.")
    light = bar / "specs" / "harbour-light.toml"
    assert light.read_bytes() == (DEMO / "specs" / "harbour-light.toml").read_bytes()


def test_applying_nothing_says_so(bar: Path) -> None:
    result = run(bar, "--out-of", "heavy-cream", "--apply")
    assert "nothing was written, as no spec was re-balanced" in result.stderr


def test_without_apply_nothing_is_written(bar: Path) -> None:
    before = {path: path.read_bytes() for path in bar.rglob("*") if path.is_file()}
    run(bar, *WEAK_LEMONS)
    assert {path: path.read_bytes() for path in bar.rglob("*") if path.is_file()} == before


def test_a_bar_without_specs_has_an_empty_book(bar: Path) -> None:
    shutil.rmtree(bar / "specs")
    result = run(bar)
    assert result.exit_code == 0
    assert result.output == "The bar has no specs.\n"


def test_a_slip_is_one_sentence() -> None:
    result = run(DEMO, "--set", "rye-whiskey.abv")
    assert result.exit_code == 2
    assert result.stderr.count("\n") == 1
