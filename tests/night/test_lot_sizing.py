"""What is got ready by hand can be poured, and a relaxation knows how many batches that takes."""

from __future__ import annotations

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from solver.night.coming_lots import ComingLot, in_turn
from solver.night.large_neighbourhood import wished_serves
from solver.night.lot_sizing import ItemSupply, Settled, units_for
from solver.night.problem import (
    WHOLE_SHARE,
    Night,
    NightDrink,
    NightLot,
    Nights,
    PlanValues,
    Source,
)
from solver.night.rounding_inequalities import fewest
from tests.night.bartender import RefusedError, serve
from tests.night.nights import forecast, keeps_shares, large


@settings(max_examples=30)
@given(st.integers(0, 10**6), st.integers(2, 6))
def test_whatever_the_serves_what_is_got_ready_can_be_poured(seed: int, days: int) -> None:
    question = large(seed, days=days, drinks=4, house=3, bottles=9)
    serves = [[night.drinks // 4] * 4 for night in question.nights]
    units = units_for(question, serves)
    assume(units is not None)  # on the first day nothing can be cooked that is missing
    serve(question, PlanValues(tuple(map(tuple, serves)), tuple(units or ())))


def test_a_juice_is_pressed_on_the_day_and_nothing_is_pressed_too_early() -> None:
    question = Nights(
        days=3,
        values=[1],
        lots=[NightLot(0, 5, 0)],
        sources=[Source(0, 4, (0, 1, 2), 100, keeps=0)],
        drinks=[NightDrink({0: 3}, 0, WHOLE_SHARE, WHOLE_SHARE)],
        nights=[Night(0, 2), Night(2, 3)],
    )
    assert units_for(question, [[2], [3]]) == [{0: 1, 2: 3}]


def test_what_cannot_be_had_is_none() -> None:
    question = Nights(1, [1], [NightLot(0, 5)], [], [NightDrink({0: 3}, 0, 10, 10)], [Night(0, 2)])
    assert units_for(question, [[1]]) == []
    assert units_for(question, [[2]]) is None


def test_what_is_given_of_one_source_takes_no_room_of_another() -> None:
    sources = [Source(0, 5, (0,), 2), Source(0, 3, (0,), 2)]
    question = Nights(1, [1], [], sources, [NightDrink({0: 1}, 0, 10, 10)], [Night(0, 16)])
    settled = ItemSupply(question, 0).settle([16], [(0, 0, 2)])
    assert settled == Settled(((0, 0, 2), (1, 0, 2)), 0, 0)


def test_what_keeps_two_days_is_cooked_every_third_day() -> None:
    batches = [ComingLot(day, day + 2, {day: 1000}, 0) for day in range(6)]
    runs = list(fewest([1] * 6, batches))
    assert ({0: 1, 1: 1, 2: 1}, 1) in runs  # what is poured on day 2
    assert ({1: 1, 2: 1, 3: 1}, 1) in runs
    # 2,500 on two days are three batches of 1,000.
    assert ({0: 1, 1: 1}, 3) in list(fewest([1250, 1250], batches[:2]))
    # What is there already is not cooked.
    assert list(fewest([1, 1], [*batches[:2], ComingLot(0, None, {}, 2)])) == []


@settings(max_examples=20)
@given(st.integers(0, 10**6))
def test_the_wished_drinks_are_within_the_shares_that_were_stated(seed: int) -> None:
    question = forecast(large(seed, days=14, drinks=9, house=1, bottles=4), seed)
    serves = wished_serves(question)
    assert [sum(night) for night in serves] == [night.drinks for night in question.nights]
    assert keeps_shares(question, PlanValues(tuple(map(tuple, serves)), ()))


def lot(first: int, last: int | None) -> ComingLot:
    return ComingLot(first, last, {}, 1)


def test_lots_go_in_turn_where_none_that_comes_later_spoils_sooner() -> None:
    assert in_turn([])
    assert in_turn([lot(0, 2), lot(1, 2), lot(1, None), lot(2, None)])
    assert in_turn([lot(2, 5), lot(0, 1)])
    assert not in_turn([lot(0, 3), lot(1, 2)])
    assert not in_turn([lot(0, None), lot(1, 9)])
    assert not in_turn([lot(0, 1), lot(0, 4), lot(1, 3)])


def test_what_comes_lasts_to_its_last_day_and_no_longer() -> None:
    assert lot(0, 2).lasts_to(2)
    assert not lot(0, 2).lasts_to(3)
    assert lot(0, None).lasts_to(99)


def test_what_stands_until_a_day_is_poured_from_that_day_on() -> None:
    question = Nights(
        days=3,
        values=[1],
        lots=[NightLot(0, 6, None, 1), NightLot(0, 9, None, 7)],
        sources=[Source(0, 4, (0, 1, 2), 100)],
        drinks=[NightDrink({0: 3}, 0, WHOLE_SHARE, WHOLE_SHARE)],
        nights=[Night(0, 1), Night(1, 1), Night(2, 2)],
    )
    assert units_for(question, [[1], [1], [2]]) == [{0: 1, 2: 1}]
    serve(question, PlanValues(((1,), (1,), (2,)), ({0: 1, 2: 1},)))
    with pytest.raises(RefusedError):
        serve(question, PlanValues(((1,), (1,), (2,)), ({1: 2},)))
