"""What is asked for and nothing is near is no answer: the closest is shown as such."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

from click.testing import CliRunner, Result

from solver.cli.main import main
from tests.open_bars import OPEN
from tests.profile_tables import DEMO


def run(*arguments: str, bar: Path = DEMO) -> Result:
    typed = [*arguments, "--bar", str(bar)]
    return CliRunner().invoke(main, typed, obj=OPEN if bar == DEMO else None)


def test_a_volume_that_no_such_drink_has_comes_first_and_ends_with_1() -> None:
    result = run("design", "duo", "--volume", "400 ml")
    assert result.exit_code == 1
    first = result.output.splitlines()[0]
    assert first.startswith("Nothing near 400 mL: the closest has ")
    assert "duo: built on ice" in result.output


def test_a_guest_is_told_no() -> None:
    result = run("check", "duo", "--volume", "400 ml")
    assert result.exit_code == 1
    assert result.output.startswith("No.\n\nNothing near 400 mL")


def test_programs_read_how_far_it_is() -> None:
    result = run("design", "duo", "--abv", "5%", "--json")
    found = json.loads(result.output)
    (far,) = found["far_off"]
    assert result.exit_code == 1
    assert far["measure"] == "abv"
    assert far["asked"] == 5
    assert far["value"] == found["answer"]["finished"]["abv_pct"]
    assert far["steps"] > 2


def test_a_value_that_is_nearly_met_is_answered() -> None:
    (value,) = (json.loads(run("design", "duo", "--json").output)["answer"]["finished"]["abv_pct"],)
    result = run("design", "duo", "--abv", f"{value - 1:.1f}%", "--json")
    assert result.exit_code == 0
    assert json.loads(result.output)["far_off"] == []


def test_what_is_far_from_what_was_asked_is_not_saved(tmp_path: Path) -> None:
    shutil.copytree(DEMO, tmp_path / "demo")
    result = run("design", "duo", "--volume", "400 ml", "--save", "big", bar=tmp_path / "demo")
    assert result.exit_code == 1
    assert "nothing was saved" in result.output
    assert not (tmp_path / "demo" / "specs" / "big.toml").exists()


def test_no_profile_counts_that_has_nothing_near(tmp_path: Path) -> None:
    (tmp_path / "bar.toml").write_text('name = "made up"\n')
    (tmp_path / "shelf.csv").write_text("ingredient,bottle\ngin,700 ml\ntonic-water,200 ml\n")
    result = run("check", "any", "--volume", "900 ml", bar=tmp_path)
    assert result.exit_code == 1
    assert result.output.startswith("No.")
    assert run("check", "any", "--volume", "200 ml", bar=tmp_path).exit_code == 0
