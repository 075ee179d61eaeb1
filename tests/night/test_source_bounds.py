"""What is never got ready beyond a bound is what nobody could pour."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.clock import Clock
from solver.night.best_plan import NightAim, NoPlan, Planned, best_plan
from solver.night.problem import WHOLE_SHARE, Night, NightDrink, NightLot, Nights, Source
from solver.night.source_bounds import most_needed, with_source_bounds
from solver.search.milp.integer_program import CpSatProgram
from tests.night.nights import few


def least_paid(question: Nights) -> int | None:
    found = best_plan(question, CpSatProgram(), Clock.of(60), 0.0, (NightAim.COST,))
    match found:
        case Planned():
            return found.stages[0].value
        case NoPlan():
            return None
    raise AssertionError


@pytest.mark.parametrize("block", range(2))
def test_no_plan_is_lost_and_none_gets_dearer(block: int) -> None:
    """But for what is to be used up: of that nothing is cooked only to be rid of what goes in."""
    bounded = possible = 0
    for each in few(20_000, 40_000 + 1000 * block, 60):
        question = replace(each, use_up=())
        within = with_source_bounds(question)
        bounded += within != question
        paid = least_paid(question)
        assert least_paid(within) == paid
        possible += paid is not None
    assert bounded > 20
    assert 10 < possible < 60


def kept(
    days: int, *lots: NightLot, nights: tuple[int, ...] = (0, 1, 2), keeps: int | None = None
) -> int:
    """Units at most of a batch of 10 ticks on three days of 4 ticks each."""
    question = Nights(
        days=days,
        values=[1, 1],
        lots=lots,
        sources=[Source(0, 10, tuple(range(days)), 99, keeps, takes={1: 1})],
        drinks=[NightDrink({0: 2}, 0, WHOLE_SHARE, WHOLE_SHARE)],
        nights=[Night(day, 2) for day in nights],
    )
    return most_needed(question)[1][0]


def test_of_what_keeps_to_the_end_there_are_no_spare_units() -> None:
    assert kept(3) == 2
    assert kept(3, keeps=2) == 2
    assert kept(3, keeps=1) == 2 + 2
    assert kept(3, nights=(2,), keeps=0) == 1


def test_what_is_there_all_along_is_not_got_ready() -> None:
    assert kept(3, NightLot(0, 2)) == 1
    assert kept(3, NightLot(0, 12), keeps=0) == 0
    assert kept(3, NightLot(0, 12, 1)) == 2
    assert kept(3, NightLot(0, 12, first=1)) == 2
    assert kept(3, NightLot(0, 12, first=1), nights=(1, 2)) == 0
