"""What has no price: it is poured where the cost is not asked about, and nowhere else."""

import math
import random
from dataclasses import replace

import numpy as np
import pytest

from solver.clock import Clock
from solver.measures import MEASURES, Measure
from solver.search.exact_evaluator import evaluate
from solver.search.milp.backend import Backend
from solver.search.milp.cpsat import CpSat
from solver.search.minimise import Drinks, Search
from solver.search.problem import Aim, Goal, Limit, Problem
from solver.search.result import Impossible, Optimal, Result
from solver.search.tolerances import gap_of
from tests.search.instances import every_amount, problem

COST = MEASURES["cost"]
SIZES = {"base": 3, "sour": 2, "sweet": 2, "bitter": 1}


def unpriced(seed: int) -> Problem:
    """A problem in which half of what may be poured has no price."""
    rng = random.Random(seed)
    given = replace(problem(seed, SIZES, with_limits=False), choices=())
    priced = [None if rng.random() < 0.5 else each.cost for each in given.candidates]
    pairs = zip(given.candidates, priced, strict=True)
    return replace(given, candidates=tuple(replace(c, cost=cost) for c, cost in pairs))


def asked_of(seed: int) -> tuple[Problem, Measure | None]:
    """The cost asked about, in one of four ways, and the goal."""
    given = unpriced(seed)
    bound = random.Random(seed).uniform(0.5, 3.0)
    return (
        (given.with_limits(Limit("most", COST, None, bound)), None),
        (given.with_limits(Limit("least", COST, bound, None)), None),
        (replace(given, aims=(*given.aims, Aim(COST, bound, 0.1))), None),
        (replace(given, goal=Goal.CHEAPEST), COST),
    )[seed % 4]


def least(given: Problem, goal: Measure | None) -> float | None:
    """By hand: the least goal of the drinks that have a price and keep the limits."""
    amounts = every_amount(given)
    priced = np.array([c.cost is not None for c in given.candidates])
    whole = amounts[~(amounts[:, ~priced] > 0).any(axis=1)]
    found = evaluate(given, whole)
    values = found.of(goal)[found.feasible]
    return float(values.min()) if len(values) else None


def searched(given: Problem, goal: Measure | None, *, by_halves: bool) -> Result:
    backend: Backend = CpSat()
    return Search(
        given,
        goal,
        tolerance=gap_of(goal),
        backend=backend,
        clock=Clock.of(60),
        drinks=Drinks(given, by_halves=by_halves),
    ).run()


@pytest.mark.parametrize("by_halves", [True, False])
@pytest.mark.parametrize("seed", range(8))
def test_where_the_cost_is_asked_about_a_drink_has_one(seed: int, by_halves: bool) -> None:
    given, goal = asked_of(seed)
    expected = least(given, goal)
    found = searched(given, goal, by_halves=by_halves)
    if expected is None:
        assert isinstance(found, Impossible)
        return
    assert isinstance(found, Optimal)
    assert math.isfinite(found.value)
    assert found.value == pytest.approx(expected, abs=1e-9 if by_halves else gap_of(goal))
    assert all(given.candidates[c].cost is not None for c, _ in found.drink)


@pytest.mark.parametrize("seed", range(4))
def test_where_it_is_not_a_price_does_not_matter(seed: int) -> None:
    found = searched(unpriced(seed), None, by_halves=True)
    given = replace(problem(seed, SIZES, with_limits=False), choices=())
    assert found == searched(given, None, by_halves=True)
