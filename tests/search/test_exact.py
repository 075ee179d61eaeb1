"""The exact evaluator, and what a solver of rows may claim by it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.search.clock import Clock
from solver.search.cpsat import CpSat
from solver.search.exact import evaluate, evaluate_one
from solver.search.loop import Drinks, Search
from solver.search.result import Impossible, Optimal
from tests.search.instances import every_drink, problem


def test_an_ingredient_is_not_poured_in_two_parts() -> None:
    given = problem(0, {"base": 1, "sweet": 1}, with_limits=False)
    one, other = given.candidates
    same = replace(other, ingredient=one.ingredient)
    twice = replace(given, candidates=(one, same), choices=())
    apart = replace(given, choices=())
    drink = ((0, 0), (1, 0))
    assert evaluate_one(apart, drink).feasible[0]
    assert not evaluate_one(twice, drink).feasible[0]


@pytest.mark.parametrize("seed", range(12))
def test_a_bound_of_rows_holds_however_loose_the_tolerance(seed: int) -> None:
    given = problem(seed, {"base": 2, "sour": 1, "sweet": 2})
    _, amounts = every_drink(given)
    found = evaluate(given, amounts)
    rows = Drinks.of(given, by_halves=False)
    search = Search(given, None, tolerance=0.5, backend=CpSat(), clock=Clock.of(60), drinks=rows)
    match search.run():
        case Optimal(bound=bound, value=value):
            best = found.off_aim[found.feasible].min()
            assert bound <= best + 1e-9
            assert value - best <= 0.5 + 1e-9
        case Impossible():
            assert not found.feasible.any()
        case stopped:
            pytest.fail(f"{stopped}")
