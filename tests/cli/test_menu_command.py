"""`equipour menu`: what it prints, saves and ends with."""

from __future__ import annotations

import json
from datetime import date, timedelta
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from solver.cli.main import main
from tests.plan.bars import bar_in, spec

SHELF = (
    "gin,700 ml,20,9 bottles\nlime-juice,1 l,8,3 bottles\nsimple-syrup,1 l,1,3 bottles\n"
    "strong-black-tea,1 l,0.6,9 bottles\n"
)
SOUR = spec("Sour", gin="50 ml", lime_juice="25 ml", simple_syrup="20 ml")
TEA = spec("=Tea", strong_black_tea="120 ml", simple_syrup="25 ml")


@pytest.fixture
def bar(tmp_path: Path) -> Path:
    bar_in(tmp_path, SHELF, SOUR, TEA)
    return tmp_path


def run(bar: Path, *line: str) -> Result:
    return CliRunner().invoke(main, ["--bar", str(bar), "menu", *line])


def test_a_menu_is_told_in_text_as_a_table_and_as_a_document(bar: Path) -> None:
    line = ("--forecast", "20", "--book", "--share", "10..90%", "--no-buying")
    text = run(bar, *line)
    assert text.exit_code == 0
    assert "Sour                                                    16" in text.stdout
    assert "this one loses the least" in " ".join(text.stdout.split())
    table = run(bar, *line, "--csv").stdout.splitlines()
    assert table[0].startswith("drink,new,serves,first_night,last_night,price,")
    assert table[2].startswith("'=Tea,no,4,2026-05-04,2026-05-04,")
    found = json.loads(run(bar, *line, "--json").stdout)
    assert [(each["spec"], each["serves"]) for each in found["menu"]] == [("Sour", 16), ("=Tea", 4)]


def test_what_is_new_is_saved_as_it_was_offered(bar: Path) -> None:
    line = ("--forecast", "12", "--of", "lime-juice", "--no-buying", "--share", "10..90%")
    found = run(bar, *line, "--save")
    assert found.exit_code == 0, found.output
    told = json.loads(run(bar, *line, "--json").stdout)
    if "nothing was saved" in found.stderr:  # a busy machine may design nothing in time
        assert not any(each["new"] for each in told["menu"])
        return
    saved = [path for path in (bar / "specs").iterdir() if path.name not in {"a.toml", "b.toml"}]
    assert saved
    assert all(f"saved in {path}" in found.stderr for path in saved)
    names = {each["spec"] for each in told["menu"]}  # they are of the book now
    assert any(path.read_text().split('"')[1] in names for path in saved)


def test_a_slip_ends_with_2_and_what_cannot_be_with_1(bar: Path) -> None:
    for line in (
        ("--forecast", "9", "--spend", "3", "--no-buying"),
        ("--forecast", "9", "--book", "--save"),
        ("--forecast", "9", "--unproven"),
        (),
        ("--forecast", "9", "--margin", "110%"),
    ):
        assert run(bar, *line).exit_code == 2, line
    no = run(bar, "--forecast", "9", "--book", "--for", "gin", "--sober", "0%")
    assert no.exit_code == 1
    assert '  a drink for "gin"\n' in no.stdout


def test_why_says_what_would_be_better_without_a_demand(bar: Path) -> None:
    line = ("--forecast", "20", "--book", "--share", "10..60%", "--no-buying", "--sober", "50%")
    found = run(bar, *line, "--why")
    assert found.exit_code == 0
    assert "What holds it back:\n  with more without alcohol a night: " in found.stdout


def test_pouring_nothing_is_no_way_out_and_one_drink_is_told_as_one(tmp_path: Path) -> None:
    CliRunner().invoke(main, ["init", str(tmp_path / "bar"), "--country", "Germany"])
    until = (date.today() + timedelta(days=2)).isoformat()
    line = ["menu", "--forecast", "20", "--until", until, "--book", "--bar"]
    result = CliRunner().invoke(main, [*line, str(tmp_path / "bar")])
    assert result.exit_code == 1, result.output
    assert "There is no such menu of the one drink there is. Proven." in result.output
    assert "with 0 drinks" not in result.output
