"""Fewest changed pours, then least change, then closest: against every drink there is."""

from __future__ import annotations

import random
from dataclasses import replace

import numpy as np
import pytest

from solver.clock import Clock
from solver.measures import CHANGES, SHIFT
from solver.search.exact_evaluator import evaluate, evaluate_one
from solver.search.lexicographic import best
from solver.search.milp.cpsat import CpSat
from solver.search.problem import Floats, Goal, PouredBefore, Problem
from solver.search.result import Impossible, Optimal
from solver.search.tolerances import GOAL_GAPS, SAME_GOAL
from tests.each import each
from tests.search.instances import every_amount, problem, random_drink

SHAPES: tuple[dict[str, int], ...] = (
    {"base": 3, "sour": 2, "sweet": 2, "bitter": 1},
    {"base": 2, "sour": 1, "sweet": 2, "modifier": 2},
    {"base": 2, "sour": 1, "sweet": 1, "bitter": 1, "lengthener": 1},
)
SEEDS = (*range(24), 35, 38)
"""With one change, with several, and with none that is possible; hundreds more with -m sweep."""


def ranking(given: Problem) -> tuple[float, float, float] | None:
    """Least changes, least shift of those, least distance of those; None if nothing is feasible."""
    found = evaluate(given, every_amount(given))
    left = found.feasible
    if not left.any():
        return None
    best_so_far: list[float] = []
    for values in (found.values[CHANGES.name], found.values[SHIFT.name], found.off_aim):
        least = float(values[left].min())
        left = left & (values <= least + SAME_GOAL)
        best_so_far.append(least)
    return best_so_far[0], best_so_far[1], best_so_far[2]


def agrees(seed: int) -> bool:
    """Whether the search and brute force come to the same three values, or to none."""
    given = problem(seed, SHAPES[seed % len(SHAPES)], goal=Goal.NEAREST)
    found = best(given, CpSat(), Clock.of(60))
    expected = ranking(given)
    if expected is None:
        return isinstance(found.chosen, Impossible)
    if not isinstance(found.chosen, Optimal):
        return False
    one = evaluate_one(found.problem, found.chosen.drink)
    values = (one.values[CHANGES.name][0], one.values[SHIFT.name][0], one.off_aim[0])
    return bool(one.feasible[0]) and bool(np.allclose(values, expected, rtol=0, atol=1e-8))


@each(SEEDS)
def test_the_nearest_drink_is_the_nearest_of_all_there_are(seed: int) -> None:
    assert agrees(seed)


@pytest.mark.sweep
@pytest.mark.parametrize("seed", range(1000, 1200))
def test_the_nearest_drink_is_the_nearest_of_all_there_are_at_length(seed: int) -> None:
    assert agrees(seed)


def test_the_random_problems_ask_for_one_change_or_several_or_nothing() -> None:
    found = [ranking(problem(s, SHAPES[s % len(SHAPES)], goal=Goal.NEAREST)) for s in SEEDS]
    counts = {each[0] for each in found if each is not None}
    assert None in found
    assert {1.0, 2.0, 3.0} <= counts


@pytest.mark.parametrize("seed", range(3))
def test_a_solver_of_rows_comes_to_as_few_changes(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("solver.search.enumeration.meet_in_the_middle.MOST_FILLINGS", 0)
    given = problem(seed, SHAPES[seed % len(SHAPES)], goal=Goal.NEAREST)
    found = best(given, CpSat(), Clock.of(60))
    expected = ranking(given)
    if expected is None:
        assert found.chosen == Impossible()
    else:
        assert isinstance(found.chosen, Optimal)
        assert found.chosen.compared is None
        values = evaluate_one(found.problem, found.chosen.drink).values
        assert values[CHANGES.name][0] == expected[0]
        assert values[SHIFT.name][0] <= expected[1] + GOAL_GAPS["shift"] + SAME_GOAL


def test_a_stand_in_is_a_change_at_any_amount_and_shifts_by_the_difference() -> None:
    amounts: Floats = np.array([0.0, 15.0, 30.0])
    kept, stands_in = PouredBefore(30.0, 7.5, same=True), PouredBefore(30.0, 7.5)
    assert kept.changes(amounts).tolist() == [1.0, 1.0, 0.0]
    assert kept.shift(amounts).tolist() == [4.0, 2.0, 0.0]
    assert stands_in.changes(amounts).tolist() == [0.0, 1.0, 1.0]
    assert stands_in.shift(amounts).tolist() == [0.0, 2.0, 0.0]


@pytest.mark.parametrize("seed", range(6))
def test_the_drink_that_changes_are_counted_from_is_its_own_nearest(seed: int) -> None:
    given = problem(seed, SHAPES[seed % len(SHAPES)], goal=Goal.NEAREST, with_limits=False)
    drink = random_drink(random.Random(seed), given)
    amounts = given.amounts(drink).tolist()
    poured_before = [PouredBefore(amount, 2.5, same=amount > 0) for amount in amounts]
    candidates = [
        replace(each, before=before)
        for each, before in zip(given.candidates, poured_before, strict=True)
    ]
    found = best(replace(given, candidates=tuple(candidates), choices=()), CpSat(), Clock.of(60))
    assert isinstance(found.optimum, Optimal)
    assert isinstance(found.chosen, Optimal)
    assert found.optimum.value == 0.0
    assert found.problem.amounts(found.chosen.drink).sum() == pytest.approx(sum(amounts))
