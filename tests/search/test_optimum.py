"""What the search calls best or impossible, against every drink there is."""

import pytest

from solver.search.backend import Backend
from solver.search.cpsat import CpSat
from solver.search.exact import evaluate_one
from solver.search.loop import Clock, Ending, Search
from solver.search.mathopt import MathOpt
from solver.search.problem import Goal, Problem
from tests.search.instances import brute_force, problem

TOLERANCE = 0.02
SHAPES: tuple[dict[str, int], ...] = (
    {"base": 2, "sour": 1, "sweet": 2, "bitter": 1, "lengthener": 1},
    {"base": 2, "sour": 2, "sweet": 2, "modifier": 2},
    {"base": 3, "sour": 1, "sweet": 2, "bitter": 2},
)


def agrees(given: Problem, backend: Backend) -> bool:
    """Whether the search and brute force agree on the optimum, or that there is none."""
    goal = given.goal.measure
    found = Search(given, goal, tolerance=TOLERANCE, backend=backend, clock=Clock.of(60)).run()
    best = brute_force(given)
    if best is None:
        return found.ending is Ending.IMPOSSIBLE and found.drink is None
    if found.ending is not Ending.OPTIMAL or found.drink is None:
        return False
    evaluation = evaluate_one(given, found.drink)
    value = evaluation.off_aim[0] if goal is None else evaluation.values[goal.name][0]
    return (
        bool(evaluation.feasible[0])
        and value == found.value
        and found.value <= best + TOLERANCE + 1e-9
        and found.bound <= best + 1e-9
    )


@pytest.mark.parametrize("goal", list(Goal))
@pytest.mark.parametrize("seed", range(6))
def test_the_optimum_equals_that_of_every_drink_there_is(seed: int, goal: Goal) -> None:
    given = problem(seed, SHAPES[seed % len(SHAPES)], goal=goal)
    assert agrees(given, CpSat())


@pytest.mark.sweep
@pytest.mark.parametrize("goal", list(Goal))
@pytest.mark.parametrize("seed", range(100, 200))
def test_the_optimum_equals_that_of_every_drink_there_is_at_length(seed: int, goal: Goal) -> None:
    given = problem(seed, SHAPES[seed % len(SHAPES)], goal=goal)
    assert agrees(given, CpSat())


@pytest.mark.parametrize("solver", ["highs", "scip"])
@pytest.mark.parametrize("seed", range(2))
def test_a_second_solver_agrees_with_every_drink_there_is(seed: int, solver: str) -> None:
    assert agrees(problem(seed, SHAPES[seed % len(SHAPES)]), MathOpt(solver))


def test_some_of_the_random_problems_are_impossible_and_some_are_not() -> None:
    verdicts = {
        brute_force(problem(seed, SHAPES[seed % len(SHAPES)])) is None for seed in range(10)
    }
    assert verdicts == {True, False}
