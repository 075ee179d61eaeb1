"""Two answers contradict each other where one is better than the other says any can be."""

from __future__ import annotations

import pytest

from solver.clock import Clock
from solver.night.best_plan import WASTE_FIRST, NoPlan, NoTime, Planned, ProofStage, best_plan
from solver.night.problem import PlanValues
from solver.night.second_opinion import SecondVerdict, second_verdict
from solver.search.milp.highs import Highs
from solver.search.milp.integer_program import CpSatProgram
from tests.night.nights import few


def planned(*stages: tuple[int, int]) -> Planned:
    """A plan of which each stage came to a value and a bound."""
    pairs = zip(WASTE_FIRST, stages, strict=False)
    return Planned(PlanValues((), ()), tuple(ProofStage(aim, *stage) for aim, stage in pairs))


@pytest.mark.parametrize(
    ("second", "said"),
    [
        (planned((100, 100), (50, 50)), SecondVerdict.AGREES),
        (planned((99, 99), (50, 50)), SecondVerdict.DISAGREES),
        (planned((101, 101), (50, 50)), SecondVerdict.DISAGREES),
        (planned((100, 100), (49, 49)), SecondVerdict.DISAGREES),
        (planned((120, 90), (10, 10)), SecondVerdict.OPEN),
        # The last stage need not be at its end where its bound is near enough; one before it must.
        (planned((100, 100), (60, 50)), SecondVerdict.AGREES),
        (planned((120, 100), (10, 10)), SecondVerdict.OPEN),
        (planned((100, 100)), SecondVerdict.OPEN),
        (NoPlan(), SecondVerdict.DISAGREES),
        (NoTime(), SecondVerdict.OPEN),
    ],
)
def test_a_second_answer_is_held_against_the_first(
    second: Planned | NoPlan | NoTime, said: SecondVerdict
) -> None:
    assert second_verdict(planned((100, 100), (50, 50)), second) is said


def test_no_plan_and_no_plan_agree() -> None:
    assert second_verdict(NoPlan(), NoPlan()) is SecondVerdict.AGREES
    assert second_verdict(NoPlan(), planned((1, 1))) is SecondVerdict.DISAGREES


def test_highs_agrees_on_small_bars() -> None:
    for question in few(500, 40, 6):
        first, second = (best_plan(question, s, Clock.of(60)) for s in (CpSatProgram(), Highs()))
        assert second_verdict(first, second) is SecondVerdict.AGREES
