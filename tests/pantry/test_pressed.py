"""Whole fruit is there as its juice, and is taken by the piece."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from hypothesis import given
from hypothesis import strategies as st

from solver.cli.main import main
from solver.files.sheet import parse_sheet
from solver.pantry.library import load_library
from solver.pantry.load_bar import load_bar
from solver.pantry.pressed import taken_as_fruit, with_juices
from solver.pantry.shelf import Shelf
from solver.pantry.stocked import Stocked
from solver.quantities import Measures
from tests.price.test_one_cost import SHELF, bar_in

LIBRARY = load_library()
LIMES = LIBRARY.find("whole-limes")
JUICE_OF_ONE_ML = 28 * 0.87
LIME_G = 80.0
DAY = date(2026, 5, 8)


def run(root: Path, *line: str) -> Result:
    return CliRunner().invoke(main, [*line, "--bar", str(root)])


def shelf_of(*rows: Stocked) -> Shelf:
    sheet = parse_sheet(b"ingredient\n", Path("shelf.csv"), "ingredient", ("ingredient",))
    return Shelf(rows, sheet, LIBRARY, Measures())


def test_limes_are_lime_juice_as_far_as_they_go(tmp_path: Path) -> None:
    row = load_bar(bar_in(tmp_path)).stocked("lime-juice")
    assert row is not None
    assert row.fruit is not None
    assert row.on_hand == pytest.approx(20 * JUICE_OF_ONE_ML)
    assert row.price_per_unit == pytest.approx(0.35 / JUICE_OF_ONE_ML)
    assert row.use_by is None


def test_fruit_that_nobody_counted_gives_juice_that_nobody_counted() -> None:
    stock, past = with_juices([Stocked(LIMES)], [], LIBRARY)
    assert [(row.ingredient.key, row.on_hand) for row in stock] == [
        ("whole-limes", None), ("lime-juice", None),
    ]  # fmt: skip
    assert past == ()


def test_juice_of_fruit_past_its_day_is_past_it_too(tmp_path: Path) -> None:
    bar = load_bar(bar_in(tmp_path, SHELF.replace("20 pieces,", "20 pieces,2026-05-01")))
    assert bar.past_row("lime-juice") is not None
    assert all(row.ingredient.key != "lime-juice" for row in bar.stock)
    assert "lime-juice" not in run(tmp_path, "stock", "past").stdout


def test_juice_on_the_shelf_is_what_is_poured(tmp_path: Path) -> None:
    bar = load_bar(bar_in(tmp_path, f"{SHELF}lime-juice,,,100 ml,\n"))
    row = bar.stocked("lime-juice")
    assert row is not None
    assert row.fruit is None
    assert row.on_hand == 100
    assert row.price_per_unit == pytest.approx(0.35 / JUICE_OF_ONE_ML)


def test_a_sour_is_designed_with_limes_alone(tmp_path: Path) -> None:
    root = bar_in(tmp_path)
    found = run(root, "design", "sour")
    assert found.exit_code == 0, found.output
    assert "lime juice" in found.stdout
    with_30_ml = ("design", "sour", "--with", "lime-juice=30 ml", "--serves")
    assert run(root, *with_30_ml, "16").exit_code == 0
    assert run(root, *with_30_ml, "17").exit_code == 1
    assert "lime-juice" not in run(root, "shelf").stdout


@given(
    there=st.one_of(st.none(), st.floats(0, 5000)),
    poured_ml=st.floats(0.1, 3000),
)
def test_whole_pieces_are_pressed_unless_the_last_is_cut(
    there: float | None, poured_ml: float
) -> None:
    shelf = shelf_of(Stocked(LIMES, on_hand=there))
    taken = taken_as_fruit({"gin": 60.0, "lime-juice": poured_ml}, shelf, LIBRARY, DAY)
    grams = taken.pop("whole-limes")
    needed = poured_ml / JUICE_OF_ONE_ML * LIME_G
    assert taken == {"gin": 60.0}
    assert needed * (1 - 1e-6) - 1e-3 <= grams < needed + LIME_G
    pieces = grams / LIME_G
    assert pieces == pytest.approx(round(pieces)) or grams == pytest.approx(max(needed, there or 0))


def test_juice_that_is_there_or_has_no_fruit_stays_juice() -> None:
    juice = LIBRARY.find("lime-juice")
    both = shelf_of(Stocked(LIMES, on_hand=800), Stocked(juice, on_hand=40))
    none = shelf_of(Stocked(LIMES, on_hand=0), Stocked(juice, on_hand=0))
    for shelf in (both, none, shelf_of()):
        taken = taken_as_fruit({"lime-juice": 30.0}, shelf, LIBRARY, DAY)
        assert taken == {"lime-juice": 30.0}


def test_juice_that_nobody_counts_is_taken_of_the_fruit_that_somebody_does() -> None:
    juice = LIBRARY.find("lime-juice")
    shelf = shelf_of(Stocked(LIMES, on_hand=800), Stocked(juice, 1000))
    taken = taken_as_fruit({"lime-juice": JUICE_OF_ONE_ML}, shelf, LIBRARY, DAY)
    assert taken == {"whole-limes": pytest.approx(LIME_G)}
    neither = shelf_of(Stocked(LIMES), Stocked(juice, 1000))
    assert taken_as_fruit({"lime-juice": 30.0}, neither, LIBRARY, DAY) == {"lime-juice": 30.0}


@pytest.mark.parametrize("spoiled", [False, True])
def test_an_empty_or_spoiled_bottle_of_juice_is_refilled_by_its_fruit(*, spoiled: bool) -> None:
    juice, limes = LIBRARY.find("lime-juice"), Stocked(LIMES, on_hand=800)
    row = Stocked(juice, 1000, 5.0, on_hand=0)
    if spoiled:
        row = Stocked(juice, 1000, 5.0, on_hand=500, dated=DAY - timedelta(1))
    good, old = ([limes], [row]) if spoiled else ([limes, row], [])
    stock, past = with_juices(good, old, LIBRARY)
    found = [each for each in stock if each.ingredient.key == "lime-juice"]
    assert [each.on_hand for each in found] == [pytest.approx(800 / LIME_G * JUICE_OF_ONE_ML)]
    assert found[0].use_by is None
    assert past == ((row,) if spoiled else ())
    taken = taken_as_fruit({"lime-juice": JUICE_OF_ONE_ML}, shelf_of(limes, row), LIBRARY, DAY)
    assert taken == {"whole-limes": pytest.approx(LIME_G)}


def test_an_empty_bottle_of_juice_is_poured_from_limes_and_stays_on_the_shelf(
    tmp_path: Path,
) -> None:
    root = bar_in(tmp_path, f"{SHELF}lime-juice,,,0,\n")
    found = run(root, "design", "sour", "--with", "lime-juice=30 ml", "--serves", "16")
    assert found.exit_code == 0, found.output
    assert "lime-juice" in run(root, "shelf", "--json").stdout


def test_sold_drinks_take_limes(tmp_path: Path) -> None:
    root = bar_in(tmp_path)
    (tmp_path / "sales.csv").write_text("drink,number\nmine,3\n", encoding="utf-8")
    found = run(root, "stock", "sold", str(tmp_path / "sales.csv"))
    assert found.exit_code == 0, found.output
    # 3 × 22.5 mL of what each gives, 24.36 mL: 2.8 limes
    assert "3 pieces   17 pieces" in found.stdout
    assert "17 pieces" in (root / "shelf.csv").read_text(encoding="utf-8")
    assert "not on the shelf" not in found.output


def test_more_limes_than_there_are_is_refused_in_limes(tmp_path: Path) -> None:
    root = bar_in(tmp_path)
    (tmp_path / "sales.csv").write_text("drink,number\nmine,22\n", encoding="utf-8")
    refused = run(root, "stock", "sold", str(tmp_path / "sales.csv"))
    assert refused.exit_code == 2
    assert "whole-limes (21 pieces poured, 20 there)" in refused.stderr


EGG = LIBRARY.find("whole-egg")
EGG_ML, WHITE_ML = 50 / 1.03, 33 / 1.035
"""One large egg and its white (USDA FoodData Central: 50 and 33 g)."""


def test_eggs_are_there_as_white_and_yolk() -> None:
    stock, _ = with_juices([Stocked(EGG, EGG_ML, 0.3, on_hand=10 * EGG_ML)], [], LIBRARY)
    found = {row.ingredient.key: row for row in stock}
    assert set(found) == {"whole-egg", "egg-white", "egg-yolk"}
    white = found["egg-white"]
    assert white.on_hand == pytest.approx(10 * WHITE_ML, rel=0.01)
    assert white.price_per_unit == pytest.approx(0.3 / WHITE_ML, rel=0.01)


def test_white_from_a_carton_is_what_is_poured() -> None:
    carton = Stocked(LIBRARY.find("egg-white"), 1000, on_hand=400)
    stock, _ = with_juices([Stocked(EGG, on_hand=10 * EGG_ML), carton], [], LIBRARY)
    white = next(row for row in stock if row.ingredient.key == "egg-white")
    assert white == replace(carton, in_fruit=white.in_fruit)
    assert white.in_fruit == pytest.approx(10 * WHITE_ML, rel=0.01)
    shelf = shelf_of(Stocked(EGG, on_hand=10 * EGG_ML), carton)
    assert taken_as_fruit({"egg-white": 25.0}, shelf, LIBRARY, DAY) == {"egg-white": 25.0}


@given(
    whites=st.integers(0, 20), yolks=st.integers(0, 20), whole=st.integers(0, 20),
)  # fmt: skip
def test_an_egg_is_taken_once_for_its_white_and_its_yolk(
    whites: int, yolks: int, whole: int
) -> None:
    piece = {key: LIBRARY.find(key).piece for key in ("egg-white", "egg-yolk", "whole-egg")}
    of_one = {key: figure.value for key, figure in piece.items() if figure is not None}
    amounts = {
        "egg-white": whites * of_one["egg-white"],
        "whole-egg": whole * of_one["whole-egg"],
        "egg-yolk": yolks * of_one["egg-yolk"],
    }
    shelf = shelf_of(Stocked(EGG, on_hand=100 * of_one["whole-egg"]))
    taken = taken_as_fruit(amounts, shelf, LIBRARY, DAY)
    assert set(taken) == {"whole-egg"}
    eggs = taken["whole-egg"] / of_one["whole-egg"]
    assert eggs == pytest.approx(whole + max(whites, yolks))


def test_a_sour_with_foam_is_designed_with_eggs_alone(tmp_path: Path) -> None:
    shelf = SHELF.replace("whole-limes", "whole-egg,1 piece,0.30,4 pieces,\nwhole-limes")
    root = bar_in(tmp_path, shelf)
    found = run(root, "design", "sour-foam")
    assert found.exit_code == 0, found.output
    assert "egg white" in found.stdout
    assert "egg-white" not in run(root, "shelf").stdout
