"""What is not certain is said with the answer: the melt's spread, the volume model's error."""

import json
import shutil
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from solver.cli.main import main
from solver.mixture.melt import TECHNIQUES

DEMO = Path(__file__).parents[2] / "demo"
SOUR = ("assess", "2 oz gin", "3/4 oz lemon juice", "3/4 oz simple-syrup", "--technique")


def run(*arguments: str, bar: Path = DEMO) -> str:
    result = CliRunner().invoke(main, [*arguments, "--bar", str(bar)])
    assert result.exit_code == 0, result.output
    return result.output


def uncertain(*arguments: str, bar: Path = DEMO) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(run(*arguments, "--json", bar=bar))["answer"]["uncertain"]
    return found


@pytest.mark.parametrize("technique", ["shake", "build", "blend", "swizzle", "shake-top"])
def test_a_drink_lies_between_the_least_and_the_most_melt(technique: str) -> None:
    melt = uncertain(*SOUR, technique)["melt"]
    answer = json.loads(run(*SOUR, technique, "--json"))["answer"]["finished"]
    assert melt["least"]["abv_pct"] > answer["abv_pct"] > melt["most"]["abv_pct"]
    assert melt["least"]["volume_ml"] < answer["volume_ml"] < melt["most"]["volume_ml"]
    assert melt["least"]["factor"] == TECHNIQUES[technique].spread_low
    water_ml = melt["most"]["volume_ml"] - answer["volume_ml"]
    expected_ml = (TECHNIQUES[technique].spread_high - 1) * answer["melt_ml"]
    # Melt water in a drink takes a little less room than alone: ethanol and water contract.
    assert water_ml == pytest.approx(expected_ml, rel=0.03)
    assert melt["source"]


def test_design_and_assess_say_it_in_one_line() -> None:
    for command in (("design", "highball", "--why"), (*SOUR, "shake")):
        (line,) = [x for x in run(*command).splitlines() if x.startswith("Not certain")]
        assert "times the melt" in line
        assert len(line) <= 80


def test_without_ice_nothing_is_uncertain() -> None:
    toddy = ("assess", "1 oz irish-whiskey", "4 oz water", "--technique", "hot")
    assert uncertain(*toddy)["melt"] is None
    assert "Not certain" not in run(*toddy)


def test_a_bar_that_set_its_own_melt_is_not_told_the_spread_of_others() -> None:
    """The demo bar weighed a stirred drink."""
    assert uncertain(*SOUR, "stir") == {
        "volume_error_pct": pytest.approx(0.25, abs=0.1), "own_melt": True, "melt": None,
    }  # fmt: skip
    assert "this bar set its own" in run(*SOUR, "stir")


def test_a_bar_that_weighed_nothing_is_told_how_far_stirring_strays(tmp_path: Path) -> None:
    bar = tmp_path / "bar"
    shutil.copytree(DEMO, bar)
    settings = bar / "bar.toml"
    text = settings.read_text(encoding="utf-8").partition("[melt.stir]")[0]
    settings.write_text(text, encoding="utf-8")
    melt = uncertain(*SOUR, "stir", bar=bar)["melt"]
    assert melt["least"]["abv_pct"] - melt["most"]["abv_pct"] > 4


def test_the_error_of_the_volume_is_said_where_it_is_worth_a_word() -> None:
    strong_and_sweet = ("assess", "2 oz amaretto", "1 oz gin-navy-strength", "--technique", "none")
    assert uncertain(*strong_and_sweet)["volume_error_pct"] > 0.3
    assert "Not certain: the volume may be 0." in run(*strong_and_sweet)
    assert uncertain(*SOUR, "shake")["volume_error_pct"] < 0.3
    assert "volume may be" not in run(*SOUR, "shake")
