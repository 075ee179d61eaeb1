"""What can stand for what."""

from dataclasses import replace

from solver.clock import Clock
from solver.measures import MEASURES, ODDNESS
from solver.search.exact import evaluate
from solver.search.lexicographic import best
from solver.search.milp.cpsat import CpSat
from solver.search.problem import Aim, Goal, Limit, Problem
from solver.search.result import Optimal
from solver.search.symmetry import representatives
from tests.search.instances import every_drink, problem


def twins() -> Problem:
    """A problem with a base that is there twice, at two prices."""
    given = replace(problem(1, {"base": 1, "sweet": 1}, with_limits=False), choices=())
    base = given.candidates[0]
    twin = replace(base, ingredient="twin", cost=(base.cost or 0.0) + 1.0)
    return replace(given, candidates=(*given.candidates, twin))


def names(given: Problem) -> set[str]:
    return {candidate.ingredient for candidate in given.candidates}


def test_the_cheaper_of_two_that_are_alike_stands_for_both() -> None:
    assert "twin" not in names(representatives(twins()))


def test_a_price_stays_where_the_cost_must_be_high_or_near_something() -> None:
    dear = Limit("dear", MEASURES["cost"], low=1.0)
    near = Aim(MEASURES["cost"], 2.0, 0.1)
    assert "twin" in names(representatives(twins().with_limits(dear)))
    given = twins()
    assert "twin" in names(representatives(replace(given, aims=(*given.aims, near))))


def test_a_dearer_twin_stays_where_its_pours_are_more_usual_and_that_is_asked() -> None:
    given = twins()
    ways = {"base-0": 2.0, "twin": 0.0}
    asked = replace(
        given,
        candidates=tuple(
            replace(each, oddness=(ways.get(each.ingredient, 0.0),) * len(each.amounts))
            for each in given.candidates
        ),
        goal=Goal.USUAL,
    )
    assert "twin" not in names(representatives(replace(asked, goal=Goal.CHEAPEST)))
    found = best(asked, CpSat(), Clock.of(60)).optimum
    assert isinstance(found, Optimal)
    every = evaluate(asked, every_drink(asked)[1])
    assert found.value == every.of(ODDNESS)[every.feasible].min()
