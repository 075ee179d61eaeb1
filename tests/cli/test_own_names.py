"""What people call things here: fruit by the piece, the house's own names before others'."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from solver.cli.main import main
from solver.pantry.load_bar import load_bar


@pytest.fixture
def bar(tmp_path: Path) -> Path:
    (tmp_path / "bar.toml").write_text('name = "b"\ncurrency = "EUR"\n', encoding="utf-8")
    return tmp_path


def run(bar: Path, *line: str) -> Result:
    return CliRunner().invoke(main, [*line, "--bar", str(bar)])


def limes_on_hand(bar: Path) -> float | None:
    """How many limes the shelf counts."""
    row = load_bar(bar).stocked("whole-limes")
    assert row is not None
    assert row.ingredient.piece is not None
    return None if row.on_hand is None else row.on_hand / row.ingredient.piece.value


def test_a_bare_number_of_fruit_in_packs_counts_pieces(bar: Path) -> None:
    shelf = "ingredient,bottle,price,on_hand\nwhole-limes,10 pieces,5,\n"
    (bar / "shelf.csv").write_text(shelf, encoding="utf-8")
    assert "Count it first" in run(bar, "stock", "in", "10", "limes").output
    assert run(bar, "stock", "count", "whole-limes", "10").exit_code == 0
    assert limes_on_hand(bar) == 10
    assert run(bar, "stock", "in", "10", "limes").exit_code == 0
    assert limes_on_hand(bar) == 20


@pytest.mark.parametrize(
    ("size", "number", "pieces"),
    [("20 pieces", "1", 20), ("20 pieces", "1.5", 30), ("1 piece", "7", 7), ("each", "7", 7)],
)
def test_what_is_on_hand_is_of_the_size_that_is_told(
    bar: Path, size: str, number: str, pieces: float
) -> None:
    (bar / "shelf.csv").write_text("ingredient,bottle\nwhole-limes,\n", encoding="utf-8")
    line = ("shelf", "set", "whole-limes", "--size", size, "--on-hand", number)
    assert run(bar, *line).exit_code == 0
    assert limes_on_hand(bar) == pytest.approx(pieces)


def test_the_house_s_own_is_suggested_first(bar: Path) -> None:
    lines = ("500 g honey", "500 g water", "2 sticks cinnamon", "simmer 10 min")
    name = "cinnamon and vanilla honey syrup"
    assert run(bar, "recipe", name, *lines).exit_code == 0
    (bar / "shelf.csv").write_text("ingredient,bottle\nvodka,700 ml\n", encoding="utf-8")
    said = run(bar, "design", "sour", "--with", "cinnamon vanilla honey syrup")
    assert said.exit_code == 2
    assert "Did you mean cinnamon-and-vanilla-honey-syrup" in said.output


def test_a_recipe_names_what_goes_in_in_german(bar: Path) -> None:
    said = run(bar, "recipe", "sirup", "200 g Zucker", "200 g Wasser", "100 g Rhabarber")
    assert said.exit_code == 0, said.output
    house = (bar / "house" / "sirup.toml").read_text(encoding="utf-8")
    assert all(key in house for key in ("white-sugar", "water", "rhubarb"))


def test_a_house_syrup_of_that_name_comes_before_the_library_s(bar: Path) -> None:
    assert run(bar, "recipe", "Honigsirup", "500 g honey", "500 g water").exit_code == 0
    (bar / "shelf.csv").write_text("ingredient,bottle\nvodka,700 ml\n", encoding="utf-8")
    assert "Honigsirup" in run(bar, "design", "sour", "--with", "Honigsirup").output
    said = run(bar, "shelf", "add", "Honigsirup")
    assert said.exit_code == 2
    assert "the house has only its recipe" in said.output
