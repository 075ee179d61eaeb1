"""Two answers contradict each other where one is better than the other says any can be."""

from __future__ import annotations

import pytest

from solver.night.problem import Plan
from solver.night.second_opinion import Verdict, verdict
from solver.night.solve import Aim, NoPlan, NoTime, Planned, Stage, best_plan
from solver.search.clock import Clock
from solver.search.milp.integer_program import CpSat, Highs
from tests.night.nights import few


def planned(*stages: tuple[int, int]) -> Planned:
    """A plan of which each stage came to a value and a bound."""
    pairs = zip(Aim, stages, strict=False)
    return Planned(Plan((), ()), tuple(Stage(aim, *stage) for aim, stage in pairs))


@pytest.mark.parametrize(
    ("second", "said"),
    [
        (planned((100, 100), (50, 50)), Verdict.AGREES),
        (planned((99, 99), (50, 50)), Verdict.DISAGREES),
        (planned((101, 101), (50, 50)), Verdict.DISAGREES),
        (planned((100, 100), (49, 49)), Verdict.DISAGREES),
        (planned((120, 90), (10, 10)), Verdict.OPEN),
        # The last stage need not be at its end where its bound is near enough; one before it must.
        (planned((100, 100), (60, 50)), Verdict.AGREES),
        (planned((120, 100), (10, 10)), Verdict.OPEN),
        (planned((100, 100)), Verdict.OPEN),
        (NoPlan(), Verdict.DISAGREES),
        (NoTime(), Verdict.OPEN),
    ],
)
def test_a_second_answer_is_held_against_the_first(
    second: Planned | NoPlan | NoTime, said: Verdict
) -> None:
    assert verdict(planned((100, 100), (50, 50)), second) is said


def test_no_plan_and_no_plan_agree() -> None:
    assert verdict(NoPlan(), NoPlan()) is Verdict.AGREES
    assert verdict(NoPlan(), planned((1, 1))) is Verdict.DISAGREES


def test_highs_agrees_on_small_bars() -> None:
    for question in few(500, 40, 6):
        first, second = (best_plan(question, s, Clock.of(60)) for s in (CpSat(), Highs()))
        assert verdict(first, second) is Verdict.AGREES
