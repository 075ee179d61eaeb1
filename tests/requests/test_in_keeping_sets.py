"""Sets of ingredients as candidates of a problem."""

from __future__ import annotations

from solver.clock import Clock
from solver.requests.asked_drink import AskedDrink
from solver.requests.in_keeping_sets import InKeepingSets
from solver.requests.request import Request
from solver.search.sets.best_first import best_first
from tests.tasks.bars import demo, sour


def test_a_set_of_which_one_thing_is_in_no_bottle_is_no_set_of_candidates() -> None:
    asked = AskedDrink.of(sour(), demo(), Request())
    problem = asked.problem()
    known = InKeepingSets(asked, problem)
    best = next(best_first(known.question(problem), Clock.of(60))).ingredients
    whole = known.candidate_set(best)
    assert whole is not None
    bottles = dict(known.candidate_at)
    for one_of in (one_of for part in whole for one_of in part):
        known.candidate_at = {at: i for at, i in bottles.items() if i not in one_of}
        assert known.candidate_set(best) is None
