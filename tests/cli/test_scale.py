"""The command `scale`: what it says, what it saves, how it ends."""

import json
import shutil
import tomllib
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from solver.cli.main import main
from tests.open_bars import OPEN

DEMO = Path(__file__).parents[2] / "demo"


@pytest.fixture
def bar(tmp_path: Path) -> Path:
    folder = tmp_path / "bar"
    shutil.copytree(DEMO, folder)
    return folder


def run(bar: Path, *arguments: str) -> Result:
    return CliRunner().invoke(main, ["scale", *arguments, "--bar", str(bar)], obj=OPEN)


def flat(text: str) -> str:
    return " ".join(text.split())


def test_a_drink_that_keeps_is_saved_for_its_new_glass(bar: Path) -> None:
    asked = ("harbour-light", "--glass", "nick-and-nora", "--pour-set", "five-ml")
    result = run(bar, *asked, "--save", "Harbour Small")
    assert result.exit_code == 0, result.output
    assert "A nick-and-nora usually takes 160 mL to its line; yours is not in bar.toml." in flat(
        result.output
    )
    assert "Same strength, sugar and acid" in flat(result.output)
    saved = tomllib.loads((bar / "specs" / "harbour-small.toml").read_text())
    assert saved["glass"] == "nick-and-nora"
    assert "approved" not in saved


def test_what_is_missed_is_said_with_what_to_pour_and_not_saved(bar: Path) -> None:
    result = run(bar, "rope-store", "--glass", "rocks=98ml", "--save", "Rope Small")
    assert result.exit_code == 1
    said = flat(result.output)
    assert "Pour 1 3/4 oz bourbon whiskey: 0.7 g/100 mL sweeter, otherwise the same." in said
    assert "With --pour-set eighth-ounce it could" in said
    assert "nothing was saved" in said
    assert not (bar / "specs" / "rope-small.toml").exists()


def test_without_a_glass_or_a_volume_it_asks_for_one(bar: Path) -> None:
    result = run(bar, "rope-store")
    assert result.exit_code == 2
    assert "--glass nick-and-nora" in result.output


def test_a_program_reads_how_large_it_is_and_how_full_its_glass(bar: Path) -> None:
    result = run(bar, "weighbridge", "--glass", "coupe=140 ml", "--json")
    found = json.loads(result.stdout)
    assert (found["task"], found["status"], found["glass"]) == ("scale", "kept", "coupe")
    assert found["times"] == pytest.approx(140 / 175)
    assert found["wash_line_ml"] == 140
    assert found["glass_measured"] is True
    found = json.loads(run(bar, "weighbridge", "--glass", "martini", "--json").stdout)
    assert found["glass_measured"] is False


def test_that_it_fits_a_glass_nobody_measured_is_said_of_the_usual_one(bar: Path) -> None:
    asked = ("harbour-light", "--glass", "martini", "--volume", "162 ml")
    said = flat(run(bar, *asked, "--pour-set", "five-ml").output)
    assert "yours is not in bar.toml" in said
    assert "The glass takes" not in said
    kept = flat(run(bar, "low-water", "--glass", "hurricane").output)
    assert "If yours is of the usual size, it fits as it is: no pour changes." in kept
    assert "It fits as it is: no pour changes." in flat(
        run(bar, "low-water", "--glass", "wine").output
    )
