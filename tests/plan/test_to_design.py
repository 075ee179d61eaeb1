"""A plan names a command for what is left only where that could find a drink."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from solver.cli.main import main
from solver.tasks.plan.to_design import profile_to_design
from tests.plan.bars import bar_in, spec

SHELF = (
    "gin,700 ml,20,9 bottles\nlemon-juice,1 l,8,1 bottle\nsimple-syrup,1 l,1,2 bottles\n"
    "soda-water,200 ml,0.5,9 bottles\ntonic-water,200 ml,0.5,9 bottles\n"
    "whole-milk,1 l,1.2,2 bottles\nsparkling-wine,750 ml,7,6 bottles\n"
    "red-bitter,700 ml,17,2 bottles\n"
)
KEYS = ("tonic-water", "soda-water", "sparkling-wine", "whole-milk", "lemon-juice", "gin")


@pytest.mark.parametrize("key", KEYS)
def test_the_profile_that_is_named_takes_it(tmp_path: Path, key: str) -> None:
    bar = bar_in(tmp_path, SHELF, spec("Any", gin="50 ml"))
    name = profile_to_design(bar.bottles.find(key), ("sour",), bar)
    assert (name is None) == (key == "whole-milk")
    if name is not None:
        asked = ["design", name, "--feature", key, "--bar", str(tmp_path)]
        said = CliRunner().invoke(main, asked)
        assert "No part of the profile" not in said.output
        assert said.exit_code == 0, said.output


def test_a_profile_that_the_shelf_cannot_fill_is_not_named(tmp_path: Path) -> None:
    shelf = "gin,700 ml,20,9 bottles\nlemon-juice,1 l,8,1 bottle\n"  # nothing sweet
    bar = bar_in(tmp_path, shelf, spec("Any", gin="50 ml"))
    lemon = bar.bottles.find("lemon-juice")
    assert profile_to_design(lemon, ("sour", None), bar) not in ("sour", "flip")


def test_what_the_bars_own_drinks_are_comes_first(tmp_path: Path) -> None:
    bar = bar_in(tmp_path, SHELF, spec("Any", gin="50 ml"))
    lemon = bar.bottles.find("lemon-juice")
    assert profile_to_design(lemon, (None, "no such profile", "collins"), bar) == "collins"
