"""The table of measures agrees with the physics that it may not import."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from solver.measures import ETHANOL_G_ML, GOALS, MEASURES, Form, character_measure
from solver.mixture import COLUMNS, ethanol
from solver.search.problem import Goal


def test_the_density_of_ethanol_is_the_one_of_the_physics() -> None:
    assert ETHANOL_G_ML == ethanol.ETHANOL_G_ML


def test_every_goal_that_may_be_asked_is_one_of_the_search() -> None:
    assert set(GOALS) < set(Goal)


def test_every_measure_that_follows_from_totals_names_a_column() -> None:
    from_totals = [m for m in MEASURES.values() if m.form in {Form.CONCENTRATION, Form.TOTAL}]
    assert from_totals
    assert all(measure.column in COLUMNS for measure in from_totals)


def test_a_tolerance_is_a_share_of_the_aim_but_never_below_its_floor() -> None:
    sugar = MEASURES["sugar"]
    assert sugar.tolerance(10) == 1.0
    assert sugar.tolerance(1) == 0.5


ADDED = """
import json
import sys
from solver.measures import MEASURES, Form, Measure
MEASURES["water"] = Measure(
    "water", "water", "g", "mass", Form.TOTAL, 0, column="water_g", noticeable=5.0,
    less="less watery", more="more watery", help="Water, like <=90 g.",
    less_option=("thicker", "Less water."), more_option=("thinner", "More water."),
)
from click.testing import CliRunner
from solver.cli.main import main
from solver.cli.opened import OpenBars
bars = OpenBars()
for line in sys.stdin:
    done = CliRunner().invoke(main, json.loads(line), obj=bars)
    print(json.dumps([done.exit_code, done.output]), flush=True)
"""
"""A program that adds a measure by one entry, and then answers one command line after another."""

Asked = Callable[..., dict[str, Any]]


@pytest.fixture(scope="module")
def documented() -> Iterator[Asked]:
    with subprocess.Popen(
        [sys.executable, "-c", ADDED], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    ) as program:
        questions, answers = program.stdin, program.stdout
        assert questions
        assert answers

        def asked(*arguments: str) -> dict[str, Any]:
            print(json.dumps([*arguments, "--json"]), file=questions, flush=True)
            code, said = json.loads(answers.readline())
            assert code in {0, 1}, said
            found = json.loads(said)
            assert isinstance(found, dict)
            return found

        yield asked
        questions.close()


@pytest.fixture(scope="module")
def bar(tmp_path_factory: pytest.TempPathFactory) -> Path:
    tmp_path = tmp_path_factory.mktemp("measures")
    shutil.copytree(Path(__file__).parents[1] / "demo", tmp_path / "bar")
    own = tmp_path / "bar" / "profiles" / "dry-land.toml"
    own.write_text(
        'name = "dry-land"\nsays = "invented"\ninherits = "sour"\n[limits]\nwater = "..100 g"\n',
        encoding="utf-8",
    )
    guests = tmp_path / "guests.toml"
    guests.write_text('[[guests]]\nname = "a"\nwater = "<=95 g"\nthicker = 1\n', encoding="utf-8")
    return tmp_path / "bar"


def test_one_entry_makes_an_option_a_limit_an_aim_and_reasons(bar: Path, documented: Asked) -> None:
    at = ("--bar", str(bar))
    usual = documented(*at, "design", "sour")["answer"]["finished"]["water_g"]
    bound = usual - 12
    limited = documented(*at, "design", "sour", "--water", f"<={bound:.1f} g", "--why")
    assert limited["answer"]["finished"]["water_g"] <= bound
    (limit,) = (each for each in limited["limits"] if each["measure"] == "water")
    assert limit["unit"] == "g"
    assert limit["binding"] in {True, False}
    aimed = documented(*at, "design", "sour", "--water", f"{bound:.0f} g")
    assert aimed["answer"]["finished"]["water_g"] == pytest.approx(bound, abs=2.5)
    refused = documented(*at, "check", "sour", "--water", "<=30 g")
    assert refused["status"] == "impossible"
    assert any("water" in each["says"] for each in refused["conflicts"])


def test_one_entry_makes_keys_of_profiles_and_guests_and_an_axis(
    bar: Path, documented: Asked
) -> None:
    at = ("--bar", str(bar))
    own = documented(*at, "design", "dry-land")
    assert own["answer"]["finished"]["water_g"] <= 100
    passed = documented(*at, "design", "dry-land", "--beyond", "water")
    assert all(each["measure"] != "water" for each in passed["limits"])
    guest = documented(*at, "check", "sour", "--requests", str(bar.parent / "guests.toml"))
    assert guest["verdicts"][0]["answer"]["finished"]["water_g"] <= 95
    curve = documented(*at, "tradeoff", "sour", "--between", "water,cost", "--points", "3")
    assert all({"water_g", "cost"} <= point.keys() for point in curve["points"])


@pytest.mark.parametrize(
    ("name", "at", "noticed"),
    [
        # Yu and Pickering 2008 (abstract): 1.03 to 1.32 % vol in wine
        ("abv", 20, 1.0),
        # half of the Weber fractions 0.17 and 0.22 of Schutz and Pilgrim 1957, from memory
        ("sugar", 10, 1.0), ("sugar", 4, 0.5), ("acid", 1, 0.1), ("acid", 0.4, 0.05),
        # common practice, no source: a fill line moved by 5 to 8 mL is visible
        ("volume", 150, 10),
        # our own choice: a tenth of a standard drink of 14 g, and a tenth of a price
        ("ethanol", 20, 1.4), ("cost", 3, 0.3), ("cost", 0.5, 0.1), ("bottles", 4, 1),
        ("sugar_total", 20, 2.0), ("sugar_total", 4, 0.8),
    ],
)  # fmt: skip
def test_a_noticeable_difference_is_that_of_its_source(
    name: str, at: float, noticed: float
) -> None:
    assert MEASURES[name].tolerance(at) == pytest.approx(noticed)


def test_a_character_is_noticed_by_a_quarter_of_what_there_is() -> None:
    """Cain, Science 1977, from memory: Weber fractions of odours from 0.05 to 0.3."""
    smoke = character_measure(["smoke"])
    assert smoke.tolerance(2) == pytest.approx(0.5)
    assert smoke.tolerance(0.1) == pytest.approx(0.1)
