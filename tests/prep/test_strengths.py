"""Which strengths of a syrup are tried, and what a scale can weigh."""

from __future__ import annotations

import pytest

from solver.errors import BadInput
from solver.pantry.load_bar import load_bar
from solver.tasks.prep.scale_batch import scale_grams
from solver.tasks.prep.strength_grid import Grid, GridPoint, read_grid, usual_grid

BAR = load_bar(None)


def test_strengths_are_tried_coarsely_to_both_ends_and_then_finely_around_the_best() -> None:
    grid = Grid(40, 50)
    assert grid.first() == (GridPoint(40), GridPoint(44), GridPoint(48), GridPoint(50))
    assert grid.around(GridPoint(48)) == (
        GridPoint(45),
        GridPoint(46),
        GridPoint(47),
        GridPoint(49),
    )
    assert grid.around(GridPoint(40)) == (GridPoint(41), GridPoint(42), GridPoint(43))
    assert Grid(40, 48).first() == (GridPoint(40), GridPoint(44), GridPoint(48))
    assert Grid(40, 40).first() == (GridPoint(40),)


def test_acids_are_tried_at_both_ends_and_the_middle_and_then_half_way() -> None:
    grid = Grid(40, 40, acids=(0, 2))
    assert grid.first() == (GridPoint(40, 0), GridPoint(40, 1), GridPoint(40, 2))
    assert grid.around(GridPoint(40, 1)) == (GridPoint(40, 0.5), GridPoint(40, 1.5))
    assert grid.around(GridPoint(40, 2)) == (GridPoint(40, 1.5),)


def test_usual_strengths_end_where_sugar_stays_dissolved_in_the_fridge() -> None:
    # Bubník and Kadlec 1995: 64.8 Brix at 4 °C, 66.7 at 20 °C
    assert usual_grid() == Grid(30, 64)
    assert usual_grid(20) == Grid(30, 66)


@pytest.mark.parametrize(
    ("brix", "acid", "grid"),
    [
        (None, None, Grid(30, 64)),
        ("5..80 Brix", None, Grid(5, 80)),
        ("50 Brix", None, Grid(50, 50)),
        (None, "0..10 g/100ml", Grid(30, 64, acids=(0, 10))),
        ("40..50 Brix", "1 g/100ml", Grid(40, 50, acids=(1, 1))),
    ],
)
def test_a_range_is_read_as_it_is_written(brix: str | None, acid: str | None, grid: Grid) -> None:
    assert read_grid(brix, acid, BAR) == grid


@pytest.mark.parametrize(
    ("brix", "acid", "why"),
    [
        ("4.9..80 Brix", None, "no strengths of a syrup"),
        ("5..80.1 Brix", None, "no strengths of a syrup"),
        (">=40 Brix", None, "one end open"),
        (None, "0..10.1 g/100ml", "more acid"),
        (None, "<=2 g/100ml", "one end open"),
    ],
)
def test_what_no_syrup_has_is_refused(brix: str | None, acid: str | None, why: str) -> None:
    with pytest.raises(BadInput, match=why):
        read_grid(brix, acid, BAR)


@pytest.mark.parametrize(
    ("grams", "step", "weighed"),
    [
        (10.4, 1, 10), (10.6, 1, 11), (9.94, 1, 9.9), (9.96, 1, 10), (0.04, 1, 0), (0.06, 1, 0.1),
        (52, 5, 50), (49.3, 5, 49.5), (1234.4, 1, 1234),
    ],
)  # fmt: skip
def test_ten_grams_and_more_are_weighed_in_whole_grams_and_less_in_tenths(
    grams: float, step: float, weighed: float
) -> None:
    assert scale_grams(grams, step) == weighed
