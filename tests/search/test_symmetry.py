"""What can stand for what."""

from dataclasses import replace

from solver.measures import MEASURES
from solver.search.problem import Aim, Limit, Problem
from solver.search.symmetry import representatives
from tests.search.instances import problem


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
