"""Rows about whole units hold for whole units, and rule out parts of them."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from solver.night.coming_lots import ComingLot
from solver.night.rounding_inequalities import poured_of_units, wasted

THREE = st.tuples(st.integers(0, 3), st.integers(0, 3), st.integers(0, 3))


@given(st.integers(1, 40), st.integers(0, 30), st.integers(1, 60), THREE)
def test_no_day_pours_more_than_the_row_of_its_whole_units_says(
    size: int, there: int, most: int, units: tuple[int, int, int]
) -> None:
    lots = [ComingLot(0, None, {}, there)]
    lots += [ComingLot(day, day + 1, {day: size}, 0) for day in range(3)]
    for day, terms, constant in poured_of_units([most] * 3, lots):
        alive = sum(units[on] for on in (day - 1, day) if on >= 0)
        can_be_poured = min(most, there + size * alive)
        assert can_be_poured <= constant + sum(c * units[v] for v, c in terms.items())


@given(st.integers(1, 40), st.integers(0, 60), st.integers(0, 4))
def test_no_units_spoil_less_than_their_row_says(size: int, most: int, units: int) -> None:
    for last, terms, least in wasted([most, most, 0], [ComingLot(0, 1, {7: size}, 0)]):
        assert last == 1
        spoils = max(0, units * size - 2 * most)
        assert spoils - terms[7] * units >= least


def test_a_tenth_of_a_batch_gives_a_tenth_of_what_a_day_needs() -> None:
    batch = [ComingLot(0, 2, {5: 1000}, 0)]
    assert list(poured_of_units([300], batch)) == [(0, {5: 300}, 0)]
    # With 100 there: nobody needs more than 200 of a batch.
    assert list(poured_of_units([300], [*batch, ComingLot(0, None, {}, 100)])) == [
        (0, {5: 200}, 100)
    ]
    # 2,300 are two batches and a part: the third gives 300.
    assert list(poured_of_units([2300], batch)) == [(0, {5: 300}, 1400)]


def test_of_a_batch_that_nobody_can_pour_in_time_a_part_spoils() -> None:
    batch = ComingLot(1, 2, {5: 1000}, 0)
    assert list(wasted([0, 200, 200, 200], [batch])) == [(2, {5: 600}, 0)]
    assert list(wasted([0, 200, 200, 200], [ComingLot(1, None, {5: 1000}, 0)])) == []
