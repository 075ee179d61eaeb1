"""Boxes of halves lose no drink: checked against drinks, one by one."""

import itertools
import math
import random
from dataclasses import replace

import numpy as np
import pytest

from solver.clock import Clock, Done, TimeUpError, Work
from solver.measures import CHANGES, MEASURES, SHIFT, Measure
from solver.search.enumeration import dual_tree, meet_in_the_middle
from solver.search.enumeration.bounds import inequalities
from solver.search.enumeration.fillings import count_of_all_fillings
from solver.search.enumeration.kd_tree import KdTree
from solver.search.enumeration.meet_in_the_middle import Halves
from solver.search.enumeration.pour_vectors import Picks, goal_of, measured
from solver.search.exact import evaluate, evaluate_one
from solver.search.intervals import least_goal, windows
from solver.search.lexicographic import best
from solver.search.milp.cpsat import CpSat
from solver.search.problem import Aim, Drink, Floats, Goal, Limit, PartRule, Problem
from solver.search.result import Optimal
from tests.each import each
from tests.search.instances import (
    SWEETEST,
    every_amount,
    every_drink,
    problem,
    random_drink,
    with_formers,
)
from tests.search.test_relaxation import LONG, SIZES, tightest


def totals(picks: Picks, drink: Drink) -> Floats:
    """The totals of one drink, shape (1, columns)."""
    rows = [picks.pairs.index(pair) for pair in drink]
    return np.asarray(picks.vectors[rows].sum(axis=0)[np.newaxis])


@each(itertools.product(range(40), [SIZES, LONG]))
def test_every_drink_keeps_every_inequality_when_limits_lie_exactly_on_its_values(
    seed: int, sizes: dict[str, int]
) -> None:
    given = with_formers(problem(seed, sizes, with_limits=False), seed)
    drink = random_drink(random.Random(seed), given)
    tight = tightest(given, drink)
    asked = inequalities(tight, windows(tight), None)
    lhs = asked.lhs(totals(Picks.of(tight), drink))
    assert asked.hold(lhs).all()


@each(itertools.product(range(60), ["none", "build"]))
def test_a_drink_sweeter_than_any_that_is_poured_keeps_every_inequality_too(
    seed: int, technique: str
) -> None:
    given = problem(seed, SWEETEST, with_limits=False, techniques=(technique,))
    drink = random_drink(random.Random(seed), given)
    tight = tightest(given, drink)
    asked = inequalities(tight, windows(tight), None)
    assert asked.hold(asked.lhs(totals(Picks.of(tight), drink))).all()


@each(itertools.product(range(40), [SIZES, LONG]))
def test_the_distance_of_the_sides_never_exceeds_the_exact_one(
    seed: int, sizes: dict[str, int]
) -> None:
    given = replace(problem(seed, sizes, with_limits=False), choices=())
    drink = random_drink(random.Random(seed), given)
    exact = float(evaluate_one(given, drink).off_aim[0])
    tight = tightest(given, drink)
    asked = inequalities(replace(tight, aims=given.aims), windows(tight), None)
    least = float(asked.goal_bound(asked.lhs(totals(Picks.of(tight), drink)))[0])
    assert least <= exact
    if sizes is SIZES:  # what tops a drink widens the window of strengths before ice
        assert least > 0.98 * exact - 0.05


@each(range(10))
def test_totals_measure_what_the_exact_evaluator_measures(seed: int) -> None:
    given = replace(problem(seed, LONG, goal=Goal.NEAREST), choices=())
    drink = random_drink(random.Random(seed), given)
    values = measured(given, totals(Picks.of(given), drink))
    assert {CHANGES.name, SHIFT.name} <= values.keys()
    exact = evaluate_one(given, drink)
    for name, value in values.items():
        assert value[0] == pytest.approx(exact.values[name][0], rel=1e-12)
    assert goal_of(given, None, values)[0] == pytest.approx(exact.off_aim[0], rel=1e-9)


def halves_of(given: Problem) -> Halves:
    halves = Halves.of(given, Picks.of(given), Clock.of(60))
    assert halves is not None
    return halves


@each(itertools.product(range(20), [True, False]))
def test_comparisons_that_never_cut_are_left_out_and_no_others(
    seed: int, any_will_do: bool
) -> None:
    given = problem(seed, SIZES)
    halves, clock = halves_of(given), Clock.of(60)
    ((one, other),) = halves.pieces
    vectors = np.vstack([halves.picks.vectors, np.zeros(halves.picks.vectors.shape[1])])
    asked = inequalities(given, windows(given), None, any_will_do=any_will_do)
    functions = asked.lhs(vectors)
    left, right = (each.sums(functions, clock) for each in (one, other))
    fewer, kept = asked.without_redundant(left.max(axis=0) + right.max(axis=0))
    random_ = np.random.default_rng(seed)
    rows = random_.integers(len(left), size=500), random_.integers(len(right), size=500)
    sums = left[rows[0]] + right[rows[1]]
    assert (fewer.hold(sums[:, kept]) == asked.hold(sums)).all()
    assert (fewer.goal_bound(sums[:, kept]) == asked.goal_bound(sums)).all()
    assert np.allclose(one.sums(fewer.lhs(vectors), clock), left[:, kept])
    cuts = (left[:, np.newaxis] + right).max(axis=(0, 1))[: len(asked.most)] > asked.most
    assert (kept[1 : len(asked.most)] == cuts[1:]).all()
    assert fewer.axes.shape[1] >= 1
    if any_will_do:
        assert fewer.axes.shape[1] <= max(1, len({limit.measure for limit in given.limits}) + 1)


def ways_of(given: Problem) -> set[Drink]:
    halves = halves_of(given)
    drinks: list[Drink] = []
    for piece in halves.pieces:
        left, right = (half.picks(np.arange(len(half))) for half in piece)
        drinks += [halves.picks.drink(np.append(one, other)) for one in left for other in right]
    assert len(set(drinks)) == len(drinks) == count_of_all_fillings(given)
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
    lhs = random_.normal(size=(101, 3))
    tree = KdTree.of(np.arange(101), lhs, lhs, Clock.of(60))
    kept = np.isfinite(tree.lhs[:, 0])
    assert sorted(tree.fillings[kept]) == list(range(101))
    for level, least in enumerate(tree.least):
        boxes = tree.lhs.reshape(2**level, -1, 3)
        assert (boxes.min(axis=1) == least).all()


def test_running_out_of_time_is_not_taken_for_having_looked_at_everything() -> None:
    given = problem(2, SIZES)
    halves = halves_of(given)
    with pytest.raises(TimeUpError):
        halves.look(given, None, np.inf, 0.0, Clock.of(0), lambda _: None)


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


@each(itertools.product(range(15), [None, MEASURES["ethanol"], MEASURES["volume"]]))
def test_no_drink_has_less_than_the_least_goal_and_some_may_have_it(
    seed: int, goal: Measure | None
) -> None:
    given = problem(seed, {"base": 2, "sour": 2, "sweet": 2})
    names = ("ethanol", "volume")
    given = given.with_limits(*(Limit(name, MEASURES[name], 14.0) for name in names))
    aims = (*given.aims, *(replace(aim, value=1.3 * aim.value) for aim in given.aims))
    given = replace(given, aims=aims, choices=())
    found = evaluate(given, every_amount(given))
    least = least_goal(given, windows(given), goal)
    assert (found.of(goal)[found.feasible] >= least).all()
    if goal is None:  # two aims of each measure cannot both be met
        assert least > 0.5


def test_what_cannot_be_bettered_ends_the_search() -> None:
    given = replace(problem(2, SIZES, with_limits=False), choices=())
    halves = halves_of(given)
    strong = given.with_limits(Limit("strong", MEASURES["abv"], 20.0))
    aims = (Aim(MEASURES["abv"], 15.0, 1.0),)
    aimed = replace(strong, aims=aims)
    offered: list[Drink] = []
    halves.look(aimed, None, np.inf, 0.5, Clock.of(60), offered.append)
    assert 5.0 <= evaluate_one(aimed, offered[-1]).off_aim[0] <= 5.5
    offered.clear()
    halves.look(aimed, None, 5.0 - 1e-6, 0.0, Clock.of(60), offered.append)
    assert not offered


@pytest.mark.parametrize("seed", range(8))
def test_the_share_of_drinks_that_is_settled_grows_up_to_all(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(meet_in_the_middle, "FEW", 0)
    monkeypatch.setattr(dual_tree, "TOLD_EVERY", 1)
    monkeypatch.setattr(dual_tree, "BATCH", 4)
    given = problem(seed, SIZES, with_limits=False)
    told: list[Done | None] = []
    clock = Clock.of(60, told.append)
    halves = Halves.of(given, Picks.of(given), clock)
    assert halves is not None
    halves.look(given, None, math.inf, 1e-9, clock, lambda _: None)
    shares = [each.done for each in told if each is not None and each.work is Work.BOXES]
    assert len(shares) > 1
    assert shares == sorted(shares)
    assert shares[0] == 0.0
    assert shares[-1] <= 1.0


@pytest.mark.parametrize("seed", range(30))
def test_a_sample_beforehand_neither_loses_nor_invents_a_drink(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(dual_tree, "SAMPLED_FROM", 0)
    monkeypatch.setattr(meet_in_the_middle, "FEW", 0)
    given = problem(seed, {"base": 2, "sweet": 2, "sour": 2})
    drinks, amounts = every_drink(given)
    feasible = evaluate(given, amounts).feasible
    exact = {drink for drink, holds in zip(drinks, feasible, strict=True) if holds}
    halves, clock = halves_of(given), Clock.of(60)
    offered: list[Drink] = []
    halves.look(given, None, math.inf, math.inf, clock, offered.append)
    assert len(offered) == min(len(exact), 1)
    assert set(offered) <= exact
    found = halves.every(given, len(exact), clock)
    assert found is not None
    assert len(found) == len(exact)
    assert {halves.picks.drink(row) for row in found} == exact


def test_far_more_drinks_than_there_is_room_for_are_told_from_a_sample(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    given = replace(problem(3, SIZES, with_limits=False), choices=())
    monkeypatch.setattr(dual_tree, "SAMPLED_FROM", 0)
    monkeypatch.delattr(KdTree, "of")  # nothing is sorted
    assert halves_of(given).every(given, 100, Clock.of(60)) is None
