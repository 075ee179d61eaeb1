"""Saving a designed drink as a spec of the bar, and choosing what to measure with."""

import json
import shutil
import tomllib
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from solver.cli.main import main

DEMO = Path(__file__).parents[2] / "demo"
QUICK = ("design", "highball", "--with", "gin", "--bottles", "<=2")


@pytest.fixture
def bar(tmp_path: Path) -> Path:
    folder = tmp_path / "bar"
    shutil.copytree(DEMO, folder)
    return folder


def run(bar: Path, *arguments: str) -> Result:
    return CliRunner().invoke(main, [*arguments, "--bar", str(bar)])


def document(bar: Path, *arguments: str) -> dict[str, Any]:
    result = run(bar, *arguments, "--json")
    assert result.exit_code == 0, result.output
    found: dict[str, Any] = json.loads(result.stdout)
    return found


@pytest.mark.parametrize("sizes", [(), ("--pour-set", "five-ml"), ("--pour-set", "eighth-ounce")])
def test_a_saved_drink_assesses_to_what_was_proven(bar: Path, sizes: tuple[str, ...]) -> None:
    found = document(bar, *QUICK, *sizes, "--save", "Slow Tide")["answer"]
    spec = document(bar, "assess", "slow-tide")
    assert spec["answer"]["name"] == "Slow Tide"
    assert spec["answer"]["finished"] == pytest.approx(found["finished"], rel=1e-6)
    assert spec["answer"]["off_aim"] == pytest.approx(found["off_aim"], rel=1e-6)
    assert spec["answer"]["moved"] == []
    assert spec["answer"]["approved"]["abv_pct"] == pytest.approx(
        found["finished"]["abv_pct"], abs=0.01
    )
    assert [limit for limit in spec["limits"] if not limit["kept"]] == []
    assert spec["departures"] == []


def test_a_bar_s_own_ounce_does_not_move_a_saved_pour(bar: Path) -> None:
    """In millilitres of the trade an ounce of 29.57 mL is written as 30; the file must not be."""
    settings = bar / "bar.toml"
    text = settings.read_text(encoding="utf-8")
    text = text.replace('ounce = "30 ml"', 'ounce = "1 oz"').replace('show = "oz"', 'show = "ml"')
    settings.write_text(text, encoding="utf-8")
    found = document(bar, *QUICK, "--save", "Slow Tide")["answer"]
    spec = document(bar, "assess", "slow-tide")["answer"]
    assert spec["finished"] == pytest.approx(found["finished"], rel=1e-5)


def test_the_topper_of_a_saved_drink_stays_one(bar: Path) -> None:
    run(bar, "design", "fizz", "--with", "gin", "--bottles", "<=5", "--save", "Spray")
    stages = tomllib.loads((bar / "specs" / "spray.toml").read_text(encoding="utf-8"))["pours"]
    assert {pour["ingredient"] for pour in stages if pour.get("stage") == "top"} == {"soda-water"}


def test_the_path_is_said_and_the_document_stays_alone_on_standard_output(bar: Path) -> None:
    result = run(bar, *QUICK, "--json", "--save", "Slow Tide")
    json.loads(result.stdout)
    assert f"saved in {bar / 'specs' / 'slow-tide.toml'}" in result.stderr


def test_a_spec_that_is_there_is_kept_unless_it_may_be_replaced(bar: Path) -> None:
    path = bar / "specs" / "harbour-light.toml"
    before = path.read_text(encoding="utf-8")
    refused = run(bar, *QUICK, "--save", "Harbour Light")
    assert refused.exit_code == 2
    assert "--replace" in refused.output
    assert path.read_text(encoding="utf-8") == before
    assert run(bar, *QUICK, "--save", "Harbour Light", "--replace").exit_code == 0
    after = path.read_text(encoding="utf-8")
    assert 'ingredient = "gin"' in after
    assert after.startswith(before.splitlines()[0])


def test_a_name_that_another_file_has_is_refused_before_the_search(bar: Path) -> None:
    path = bar / "specs" / "low-water.toml"
    path.write_text(
        path.read_text(encoding="utf-8").replace('"Low Water"', '"Slow Tide"'), encoding="utf-8"
    )
    result = run(bar, *QUICK, "--save", "slow  tide", "--replace")
    assert result.exit_code == 2
    assert "is taken" in result.output
    assert not (bar / "specs" / "slow-tide.toml").exists()


def test_what_is_impossible_saves_nothing_and_says_so(bar: Path) -> None:
    result = run(bar, "design", "highball", "--abv", ">=70%", "--save", "Slow Tide")
    assert result.exit_code == 1
    assert "nothing was saved" in result.stderr
    assert not (bar / "specs" / "slow-tide.toml").exists()


def test_the_folder_of_specs_is_made_where_there_is_none(bar: Path) -> None:
    shutil.rmtree(bar / "specs")
    assert run(bar, *QUICK, "--save", "Slow Tide").exit_code == 0
    assert (bar / "specs" / "slow-tide.toml").is_file()


def test_a_file_in_its_place_is_one_sentence(bar: Path) -> None:
    shutil.rmtree(bar / "specs")
    (bar / "specs").write_text("", encoding="utf-8")
    result = run(bar, *QUICK, "--save", "Slow Tide")
    assert result.exit_code == 2
    assert "cannot be made" in result.stderr


@pytest.mark.parametrize("name", ["", "   ", "///", "\n"])
def test_a_name_of_nothing_is_refused(bar: Path, name: str) -> None:
    result = run(bar, *QUICK, "--save", name)
    assert result.exit_code == 2
    assert "cannot be the name" in result.output


def test_without_a_bar_there_is_nowhere_to_save(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("EQUIPOUR_BAR", raising=False)
    result = CliRunner().invoke(main, [*QUICK, "--save", "Slow Tide"])
    assert result.exit_code == 2
    assert "no bar to save into" in result.output


def test_replacing_without_saving_is_a_slip() -> None:
    assert run(DEMO, *QUICK, "--replace").exit_code == 2


def test_every_pour_is_one_that_the_chosen_set_measures() -> None:
    pours = document(DEMO, *QUICK, "--pour-set", "five-ml")["answer"]["pours"]
    assert [pour["ml"] % 5 for pour in pours] == [0, 0]
    assert all(pour["amount"].endswith(" mL") for pour in pours)


def test_an_unknown_pour_set_names_those_there_are() -> None:
    result = run(DEMO, *QUICK, "--pour-set", "fiveml")
    assert result.exit_code == 2
    assert "Did you mean five-ml" in result.output


def test_a_spec_of_another_name_in_the_same_file_is_kept(bar: Path) -> None:
    path = bar / "specs" / "low-water.toml"
    text = path.read_text(encoding="utf-8").replace('"Low Water"', '"Slow Tide"')
    path.write_text(text, encoding="utf-8")
    for line in (QUICK, ("assess", "50 ml gin", "10 ml simple-syrup", "--technique", "stir")):
        result = run(bar, *line, "--save", "low water", "--replace")
        assert result.exit_code == 2
        assert "would be in the file of 'Slow Tide'" in result.output
        assert path.read_text(encoding="utf-8") == text
