"""Guests answered, as a bartender types them."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from solver.cli.main import main
from tests.tasks.bars import DEMO

TWO = """
[[guests]]
name = "table 4"
without = ["dairy", "nuts"]
with = "mezcal"

[[guests]]
name = "table 5"
profile = "stirred"
standard_drinks = "<=1"
drier = 1
"""


def run(*arguments: str) -> Result:
    return CliRunner().invoke(main, ["--bar", str(DEMO), "check", *arguments])


def document(*arguments: str) -> dict[str, object]:
    found = json.loads(run(*arguments, "--json").output)
    assert isinstance(found, dict)
    return found


def finished(found: dict[str, object], name: str) -> float:
    answer = found["answer"]
    assert isinstance(answer, dict)
    return float(answer["finished"][name])


def test_yes_comes_first_and_the_drink_after_it() -> None:
    result = run("sour", "--without", "dairy", "--with", "mezcal")
    assert result.exit_code == 0
    assert result.output.startswith("Yes.\n\nsour: shake\n")
    assert "mezcal" in result.output


def test_no_comes_with_the_reason_and_ways_out_and_exit_code_1() -> None:
    result = run("stirred", "--abv", "<=15%")
    assert result.exit_code == 1
    assert result.output.startswith("No.\n")
    assert "These cannot hold together:\n  strength at least 19 % vol" in result.output
    assert "It would be possible\n  with strength up to" in result.output


@pytest.mark.parametrize(
    ("wish", "key", "sign"),
    [
        ("drier", "sugar_g_100ml", -1), ("sweeter", "sugar_g_100ml", 1),
        ("lighter", "abv_pct", -1), ("stronger", "abv_pct", 1),
        ("tarter", "acid_g_100ml", 1), ("rounder", "acid_g_100ml", -1),
        ("longer", "volume_ml", 1), ("shorter", "volume_ml", -1),
    ],
)  # fmt: skip
def test_a_step_is_noticed_in_the_glass(wish: str, key: str, sign: int) -> None:
    noticed = {"sugar_g_100ml": 0.69, "abv_pct": 1.0, "acid_g_100ml": 0.08, "volume_ml": 10.0}
    tall = ("sour", "--glass", "highball")
    served = finished(document(*tall), key)
    wished = finished(document(*tall, f"--{wish}"), key)
    twice = finished(document(*tall, f"--{wish}", "2"), key)
    assert sign * (wished - served) >= noticed[key] * 0.95
    assert sign * (twice - served) >= noticed[key] * 1.9


def test_standard_drinks_are_those_of_where_the_bar_is() -> None:
    found = document("highball", "--standard-drinks", "<=1")
    assert finished(found, "ethanol_g") <= 12.0  # Germany: 12 g, BZgA; see defaults.toml


def test_what_is_not_known_to_be_safe_is_not_offered_and_said_to_be_left_out() -> None:
    found = document("stirred", "--without", "nuts", "--alternatives", "3")
    left_out = found["left_out"]
    assert isinstance(left_out, list)
    assert "fernet" in left_out
    assert isinstance(found["alternatives"], list)
    for answer in (found["answer"], *found["alternatives"]):
        assert not {pour["ingredient"] for pour in answer["pours"]} & set(left_out)
        assert "nuts" not in answer["allergens"]
    assert "Left out, as too little is known" in run("stirred", "--without", "nuts").output
    assert document("stirred")["left_out"] == []


def test_several_guests_get_a_verdict_each_from_toml_and_from_lines(tmp_path: Path) -> None:
    toml = tmp_path / "guests.toml"
    toml.write_text(TWO, encoding="utf-8")
    lines = tmp_path / "guests.jsonl"
    lines.write_text(
        '{"name": "table 4", "without": ["dairy", "nuts"], "with": "mezcal"}\n\n'
        '{"name": "table 5", "profile": "stirred", "standard_drinks": "<=1", "drier": 1}\n',
        encoding="utf-8",
    )
    said = [run("sour", "--requests", str(file)) for file in (toml, lines)]
    assert said[0].exit_code == 1
    assert said[0].output == said[1].output
    assert "table 4: yes, sour." in said[0].output
    assert "table 5: no." in said[0].output
    found = document("sour", "--requests", str(toml))
    verdicts = found["verdicts"]
    assert isinstance(verdicts, list)
    assert [(v["name"], v["status"]) for v in verdicts] == [
        ("table 4", "optimal"),
        ("table 5", "impossible"),
    ]
    assert verdicts[1]["conflicts"]
    assert verdicts[1]["ways_out"]


@pytest.mark.parametrize(
    ("name", "text", "said"),
    [
        ("g.toml", "[[guests]]\nname = 'a'\nwithout = ['milkk']\n", "g.toml, line 1"),
        ("g.toml", "[[guests]]\nname = 'a'\ndrier = 'very'\n", "g.toml, line 3"),
        ("g.toml", "[[guests]]\nname = 'a'\nwhisper = 1\n", "g.toml, line 3"),
        ("g.toml", "[[guests]]\nname = 'a'\nprofile = 'sowr'\n", "Did you mean sour"),
        ("g.toml", "guests = 3\n", "is not a list of guests"),
        ("g.toml", "", "there is no guest in the file"),
        ("g.jsonl", '{"name": "a"}\n{"name": \n', "g.jsonl, line 2"),
        ("g.jsonl", '["a"]\n', "a guest is not written like that"),
        ("g.jsonl", '{"name": "a", "abv": "17 ml"}\n', "g.jsonl, line 1"),
    ],
)
def test_a_slip_in_the_file_is_named_before_anybody_is_answered(
    tmp_path: Path, name: str, text: str, said: str
) -> None:
    file = tmp_path / name
    file.write_text(text, encoding="utf-8")
    result = run("sour", "--requests", str(file))
    assert result.exit_code == 2
    assert result.stdout == ""
    assert said in " ".join(result.stderr.split())


def test_without_a_profile_nor_a_file_there_is_nothing_to_check() -> None:
    assert run().exit_code == 2
