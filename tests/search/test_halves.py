"""Boxes of halves lose no drink: checked against drinks, one by one."""

import random
from dataclasses import replace

import numpy as np
import pytest

from solver.measures import CHANGES, MEASURES, SHIFT
from solver.search.best import best
from solver.search.boxes import Tree
from solver.search.clock import Clock
from solver.search.cpsat import CpSat
from solver.search.exact import evaluate, evaluate_one
from solver.search.halves import Halves
from solver.search.inequalities import inequalities
from solver.search.problem import Aim, Drink, Floats, Goal, Limit, PartRule, Problem
from solver.search.result import Optimal
from solver.search.totals import Picks, goal_of, measured
from solver.search.windows import windows
from tests.search.instances import every_drink, problem, random_drink, with_formers
from tests.search.test_relaxation import LONG, SIZES, tightest


def totals(picks: Picks, drink: Drink) -> Floats:
    """The totals of one drink, shape (1, columns)."""
    rows = [picks.pairs.index(pair) for pair in drink]
    return np.asarray(picks.vectors[rows].sum(axis=0)[np.newaxis])


@pytest.mark.parametrize("sizes", [SIZES, LONG], ids=["short", "topped"])
@pytest.mark.parametrize("seed", range(40))
def test_every_drink_keeps_every_inequality_when_limits_lie_exactly_on_its_values(
    seed: int, sizes: dict[str, int]
) -> None:
    given = with_formers(problem(seed, sizes, with_limits=False), seed)
    drink = random_drink(random.Random(seed), given)
    tight = tightest(given, drink)
    asked = inequalities(tight, windows(tight), None)
    sides = asked.sides(totals(Picks.of(tight), drink))
    assert asked.hold(sides).all()


@pytest.mark.parametrize("sizes", [SIZES, LONG], ids=["short", "topped"])
@pytest.mark.parametrize("seed", range(40))
def test_the_distance_of_the_sides_never_exceeds_the_exact_one(
    seed: int, sizes: dict[str, int]
) -> None:
    given = replace(problem(seed, sizes, with_limits=False), choices=())
    drink = random_drink(random.Random(seed), given)
    exact = float(evaluate_one(given, drink).off_aim[0])
    tight = tightest(given, drink)
    asked = inequalities(replace(tight, aims=given.aims), windows(tight), None)
    least = float(asked.distance(asked.sides(totals(Picks.of(tight), drink)))[0])
    assert least <= exact
    if sizes is SIZES:  # what tops a drink widens the window of strengths before ice
        assert least > 0.98 * exact - 0.05


@pytest.mark.parametrize("seed", range(10))
def test_totals_measure_what_the_exact_evaluator_measures(seed: int) -> None:
    given = replace(problem(seed, LONG, goal=Goal.NEAREST), choices=())
    drink = random_drink(random.Random(seed), given)
    values = measured(given, totals(Picks.of(given), drink))
    assert {CHANGES.name, SHIFT.name} <= values.keys()
    exact = evaluate_one(given, drink)
    for name, value in values.items():
        assert value[0] == pytest.approx(exact.values[name][0], rel=1e-12)
    assert goal_of(given, None, values)[0] == pytest.approx(exact.off_aim[0], rel=1e-9)


def ways_of(given: Problem) -> set[Drink]:
    halves = Halves.of(given, Picks.of(given))
    assert halves is not None
    whole = [left.times(right) for left, right in halves.pieces]
    drinks = [halves.picks.drink(row) for each in whole for row in each.picks]
    assert len(set(drinks)) == len(drinks) == halves.drinks
    return set(drinks)


@pytest.mark.parametrize("counts", [(1, 1), (0, 1), (1, 2), (0, 3), (2, 2)])
def test_the_halves_make_every_drink_once(counts: tuple[int, int]) -> None:
    given = problem(3, {"base": 2, "sweet": 1, "modifier": 3})
    parts = (*given.parts[:2], PartRule("modifier", *counts))
    given = replace(given, parts=parts)
    assert ways_of(given) == set(every_drink(given)[0])


def test_the_pieces_of_equal_pours_have_every_drink_of_equal_pours_once() -> None:
    given = replace(problem(3, {"base": 2, "sweet": 2, "modifier": 2, "bitter": 1}), choices=())
    parts = (*given.parts[:2], PartRule("modifier", 0, 2), given.parts[3])
    given = replace(given, parts=parts, equal=frozenset({0, 1, 2}), limits=())
    drinks, amounts = every_drink(given)
    feasible = evaluate(given, amounts).feasible
    equal = {drink for drink, holds in zip(drinks, feasible, strict=True) if holds}
    assert ways_of(given) == equal
    assert {len({given.candidates[i].amounts[k] for i, k in d if i < 6}) for d in equal} == {1}


def test_ways_keep_the_total_of_their_part() -> None:
    given = problem(3, {"base": 2, "modifier": 3})
    parts = (given.parts[0], PartRule("modifier", 0, 3, 15.0, 22.5))
    drinks = ways_of(replace(given, parts=parts))
    poured = {
        round(sum(given.candidates[i].amounts[k] for i, k in d if given.candidates[i].part == 1), 3)
        for d in drinks
    }
    assert poured == {0.0, 22.18}


def test_a_box_knows_the_least_of_what_it_holds() -> None:
    random_ = np.random.default_rng(4)
    sides = random_.normal(size=(101, 3))
    tree = Tree.of(np.arange(101)[:, np.newaxis], sides, sides, sides)
    kept = np.isfinite(tree.sides[:, 0])
    assert sorted(tree.ways[kept, 0]) == list(range(101))
    for level, least in enumerate(tree.least):
        boxes = tree.sides.reshape(2**level, -1, 3)
        assert (boxes.min(axis=1) == least).all()


def test_running_out_of_time_is_not_taken_for_having_looked_at_everything() -> None:
    given = problem(2, SIZES)
    halves = Halves.of(given, Picks.of(given))
    assert halves is not None
    found = halves.best(given, None, np.inf, 0.0, Clock.of(0))
    assert not found.complete


def test_aims_that_are_met_exactly_end_the_search_even_where_one_is_nothing() -> None:
    given = replace(problem(2, {"sour": 2, "sweet": 2}, with_limits=False), choices=())
    drink = random_drink(random.Random(2), given)
    names = ("abv", "sugar", "acid", "volume")
    named = replace(given, limits=tuple(Limit(name, MEASURES[name]) for name in names))
    values = evaluate_one(named, drink).values
    assert values["abv"][0] == 0.0
    aims = tuple(Aim(MEASURES[name], float(values[name][0]), 1.0) for name in names)
    found = best(replace(given, aims=aims), CpSat(), Clock.of(60))
    assert isinstance(found.optimum, Optimal)
    assert found.optimum.value == pytest.approx(0.0, abs=1e-9)
