"""How unusual an amount is: far from what is usual, and off the lines of a jigger. Our own choice,
as every figure here: nothing in the glass shows it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.harmony.counted import load_counts
from solver.harmony.taste import BarTaste, SaidOfIngredient
from solver.pantry.bar import Bar
from solver.pantry.load_bar import load_bar
from solver.requests.pour_oddness import oddness, usual_amount

BAR = load_bar(None)
COUNTS = load_counts()
GIN = BAR.library.find("gin")


def odd(ml: float, usual: float | None, *, bar: Bar = BAR, key: str = "gin") -> float:
    item = bar.library.find(key)
    return oddness(item, "jigger", [ml], usual, COUNTS, bar)[0]


def of(unit: str) -> Bar:
    return replace(BAR, pour_set=BAR.pour_set.model_copy(update={"unit": unit}))


@pytest.mark.parametrize(
    ("ounces", "counts"),
    [(2, 0), (1.5, 0), (0.75, 0.25), (0.25, 0.25), (0.625, 1), (1.125, 1), (0.8, 1.5)],
)
def test_wholes_and_halves_of_an_ounce_come_before_quarters_and_those_before_eighths(
    ounces: float, counts: float
) -> None:
    bar = of("oz")
    assert odd(ounces * bar.measures.ounce_ml, None, bar=bar) == counts


@pytest.mark.parametrize(
    ("ml", "counts"),
    [(30, 0), (45, 0), (20, 0.1), (40, 0.1), (25, 0.25), (5, 0.25), (22.5, 1), (21, 1.5)],
)
def test_fifteens_come_before_tens_and_those_before_fives_and_their_halves(
    ml: float, counts: float
) -> None:
    assert odd(ml, None, bar=of("ml")) == counts


def test_twice_the_usual_is_as_far_off_as_half_of_it() -> None:
    bar = of("ml")
    assert odd(60, 30, bar=bar) == odd(15, 30, bar=bar) == 4
    assert odd(120, 30, bar=bar) == 16
    assert odd(30, 30, bar=bar) == 0


def test_only_a_jigger_has_lines() -> None:
    item = BAR.library.find("aromatic-bitters")
    assert oddness(item, "dash", [0.77, 0.9], None, COUNTS, BAR) == (0, 0)


def test_what_only_passes_for_a_thing_is_poured_after_it() -> None:
    bar = of("ml")
    assert odd(30, 30, bar=bar, key="bottled-lime-juice") == 0.5
    assert odd(30, 30, bar=bar, key="lime-juice") == 0


def test_the_bar_is_believed_before_its_profile_and_that_before_books() -> None:
    said = BarTaste(said={"gin": SaidOfIngredient(usual_ml=50.0)})
    assert usual_amount(GIN, 45.0, COUNTS, said) == 50
    assert usual_amount(GIN, 45.0, COUNTS, BarTaste()) == 45
    assert usual_amount(GIN, None, COUNTS, BarTaste()) == COUNTS.pours["gin"].usual_ml
