"""A drink is held to what a guest would notice, and what misses by little says what to pour."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from solver.cli.main import main

BAR = """\
name = "Stern Light"
show = "ml"
pour_set = "five-ml"
[glasses.coupe]
brim = "220 ml"
wash_line = "180 ml"
"""
SHELF = """\
ingredient,bottle,price
bourbon,700 ml,20
rye-whiskey,700 ml,30
white-rum,700 ml,15
"""
STIRRED = {"rye-whiskey": "2 oz", "sweet-vermouth": "1 oz", "aromatic-bitters": "2 dashes"}
SOUR = {"white-rum": "60 ml", "lime-juice": "30 ml", "simple-syrup": "22.5 ml"}


def spec(name: str, profile: str, pours: dict[str, str]) -> str:
    lines = [f'[[pours]]\ningredient = "{key}"\namount = "{said}"\n' for key, said in pours.items()]
    return "\n".join([f'name = "{name}"\nprofile = "{profile}"\n', *lines])


@pytest.fixture
def bar(tmp_path: Path) -> Path:
    (tmp_path / "specs").mkdir()
    (tmp_path / "bar.toml").write_text(BAR, encoding="utf-8")
    others = {*STIRRED, *SOUR} - {"rye-whiskey", "white-rum"}
    rows = SHELF + "".join(f"{key},700 ml,9\n" for key in sorted(others))
    (tmp_path / "shelf.csv").write_text(rows, encoding="utf-8")
    for name, profile, pours in (("Stirred", "stirred", STIRRED), ("Sour", "sour", SOUR)):
        path = tmp_path / "specs" / f"{name.lower()}.toml"
        path.write_text(spec(name, profile, pours), encoding="utf-8")
    return tmp_path


def flat(bar: Path, *arguments: str) -> str:
    result = CliRunner().invoke(main, ["--bar", str(bar), *arguments])
    return " ".join(result.output.split())


def test_a_stirred_drink_that_varies_by_itself_is_not_refused_for_two_per_cent(bar: Path) -> None:
    said = flat(bar, "swap", "stirred", "rye-whiskey", "bourbon", "--pour-set", "quarter-ounce")
    assert "Its own melt spreads strength from 24.7 to 32.6 % vol" in said
    assert "Same strength" in said


def test_another_glass_makes_every_line_smaller_together(bar: Path) -> None:
    said = flat(bar, "rebalance", "--glass", "coupe=150 ml")
    assert "60 mL to 50 mL white rum; 30 mL to 25 mL lime juice, fresh; 22.5 mL to 20 mL" in said
    assert "cannot be saved" not in said


def test_bitters_are_not_poured_otherwise_to_mend_a_number(bar: Path) -> None:
    said = flat(bar, "swap", "stirred", "rye-whiskey", "bourbon")
    assert "dash aromatic" not in said.replace("2 dashes", "")


def test_a_miss_by_little_is_said_as_what_to_pour(bar: Path) -> None:
    said = flat(bar, "rebalance", "--set", "rye-whiskey.abv=41%")
    assert "Pour " in said
    assert "otherwise the same." in said
