"""Trade-off curves: against all points there are, and against every drink of small problems."""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass, field, replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.clock import Clock, TimeUpError
from solver.explain.pareto_front import Frontier, FrontPoint, frontier, over, under
from solver.measures import MEASURES
from solver.search import minimise
from solver.search.exact_evaluator import evaluate, evaluate_one
from solver.search.milp.cpsat import CpSat
from solver.search.minimise import Drinks
from solver.search.problem import Drink, Limit, Problem
from solver.search.tolerances import OFF_AIM_GAP
from solver.tasks.tradeoff import TwoGoals
from tests.each import each
from tests.search.instances import every_amount, problem

Places = list[tuple[float, float]]

places = st.lists(st.tuples(st.integers(0, 12), st.integers(0, 12)), max_size=40)
EVERYTHING = 10_000


@dataclass
class Listed:
    """An oracle that knows all points; after `patience` questions it decides nothing more."""

    points: Places
    patience: int = EVERYTHING
    asked: int = field(default=0)

    def least_first(self) -> FrontPoint[int] | None:
        return self._best(self.points, 0)

    def least(self, first_below: float, second_below: float) -> FrontPoint[int] | None:
        first, second = under(first_below), under(second_below)
        return self._best([(a, b) for a, b in self.points if a <= first and b <= second], 1)

    def _best(self, points: Places, by: int) -> FrontPoint[int] | None:
        self.asked += 1
        if self.asked > self.patience:
            raise TimeUpError
        if not points:
            return None
        point = min(points, key=lambda p: (p[by], p[1 - by]))
        return FrontPoint(*point, self.points.index(point))


def efficient(points: Places) -> Places:
    """The points that no other is better than, by looking at all of them."""
    kept: Places = []
    for point in sorted(points):
        if not kept or point[1] < under(kept[-1][1]):
            if kept and point[0] <= over(kept[-1][0]):
                kept.pop()
            kept.append(point)
    return kept


def places_of(found: Frontier[int] | Frontier[Drink]) -> Places:
    return [(point.first, point.second) for point in found.points]


@given(places)
def test_the_curve_is_every_efficient_point_and_no_other(points: Places) -> None:
    oracle = Listed(points)
    found = frontier(oracle, EVERYTHING)
    assert found.complete
    assert places_of(found) == efficient(points)
    assert oracle.asked <= 2 * len(found.points) + 2


@given(places, st.integers(2, 8))
def test_a_cap_leaves_efficient_points_and_owns_up_to_where_others_may_lie(
    points: Places, most: int
) -> None:
    found = frontier(Listed(points), most)
    assert len(found.points) <= most
    check_partial(found, points)
    assert not found.undecided
    assert len(found.points) == most or found.complete


@given(places, st.integers(2, 30))
def test_what_was_found_before_time_ran_out_is_efficient_and_the_rest_lies_in_the_gaps(
    points: Places, patience: int
) -> None:
    found = frontier(Listed(points, patience), EVERYTHING)
    check_partial(found, points)
    assert found.complete == (places_of(found) == efficient(points) and not found.undecided)


def check_partial(found: Frontier[int], points: Places) -> None:
    assert set(places_of(found)) <= set(efficient(points))
    check_gaps(found, efficient(points))


def check_gaps(found: Frontier[int] | Frontier[Drink], expected: Places) -> None:
    """What is not found lies in the gaps."""
    known = places_of(found)
    for first, second in expected:
        if any((first, second) == pytest.approx(p, rel=2e-6, abs=2e-6) for p in known):
            continue
        assert any(
            gap.low[0] <= first <= gap.high[0] and gap.low[1] <= second <= gap.high[1]
            for gap in found.gaps
        )


@given(places.filter(len), st.integers(0, 1))
def test_no_time_at_all_gives_no_curve_or_its_one_end(points: Places, patience: int) -> None:
    found = frontier(Listed(points, patience), EVERYTHING)
    assert found.undecided
    assert not found.complete
    assert len(found.points) == patience


def test_points_of_a_cap_lie_all_along_the_curve() -> None:
    line: Places = [(float(n), 1000.0 - n) for n in range(1001)]
    firsts = [first for first, _ in places_of(frontier(Listed(line), 17))]
    assert max(b - a for a, b in itertools.pairwise(firsts)) <= 2 * 1000 / 16


def test_nothing_is_a_complete_curve_without_points() -> None:
    assert frontier(Listed([]), 9) == Frontier(())
    assert frontier(Listed([]), 9).complete


PAIRS = (
    ("cost", "off-aim"), ("abv", "off-aim"), ("bottles", "off-aim"), ("ethanol", "off-aim"),
    ("cost", "sugar"), ("acid", "abv"), ("volume", "cost"), ("cost", "bottles"),
)  # fmt: skip
SHAPES: tuple[dict[str, int], ...] = (
    {"base": 2, "sour": 1, "sweet": 2, "bitter": 1},
    {"base": 2, "sour": 2, "sweet": 1, "modifier": 1},
    {"base": 2, "sweet": 1, "bitter": 1, "lengthener": 1},
)


def traced(given: Problem, pair: tuple[str, str], most: int = EVERYTHING) -> Frontier[Drink]:
    goals = MEASURES[pair[0]], MEASURES.get(pair[1])
    return frontier(TwoGoals(given, goals, CpSat(), Clock.of(60)), most)


def of_every_drink(given: Problem, pair: tuple[str, str]) -> Places:
    """Both values of every drink that keeps the limits."""
    free = tuple(Limit(name, MEASURES[name]) for name in pair if name in MEASURES)
    found = evaluate(replace(given, limits=given.limits + free), every_amount(given))
    values = [found.off_aim if name == "off-aim" else found.values[name] for name in pair]
    return [(float(a), float(b)) for a, b in np.column_stack(values)[found.feasible]]


def agrees(seed: int) -> bool:
    """Whether the curve of a random problem is that of every drink there is."""
    given = problem(seed, SHAPES[seed % len(SHAPES)], with_limits=seed % 2 == 0)
    pair = PAIRS[seed % len(PAIRS)]
    found = traced(given, pair)
    curve = [(point.first, point.second) for point in found.points]
    expected = efficient(of_every_drink(given, pair))
    feasible = all(evaluate_one(given, point.found).feasible[0] for point in found.points)
    return found.complete and feasible and curve == [pytest.approx(p, rel=2e-6) for p in expected]


@each(range(500, 520))
def test_the_curve_of_a_problem_is_that_of_every_drink_there_is(seed: int) -> None:
    assert agrees(seed)


@pytest.mark.sweep
@pytest.mark.parametrize("seed", range(520, 640))
def test_the_curve_of_a_problem_is_that_of_every_drink_there_is_at_length(seed: int) -> None:
    assert agrees(seed)


def test_some_of_the_curves_are_long_and_some_problems_have_none() -> None:
    lengths = []
    for seed in range(500, 520):
        given = problem(seed, SHAPES[seed % len(SHAPES)], with_limits=seed % 2 == 0)
        lengths.append(len(efficient(of_every_drink(given, PAIRS[seed % len(PAIRS)]))))
    assert min(lengths) == 0
    assert max(lengths) > 10


def test_a_solver_of_rows_comes_to_the_same_curve_within_its_tolerance() -> None:
    given = problem(503, SHAPES[0], with_limits=False)
    drawn = TwoGoals(given, (MEASURES["cost"], None), CpSat(), Clock.of(60))
    exact = places_of(frontier(drawn, EVERYTHING))
    drawn.drinks = Drinks(given, by_halves=False)
    on_rows = places_of(frontier(drawn, 4))
    assert len(on_rows) == 4
    for first, second in on_rows:
        assert all(b >= second - OFF_AIM_GAP for a, b in exact if a <= first)


@pytest.mark.parametrize("seed", range(3))
def test_of_what_is_as_good_by_the_second_goal_a_solver_of_rows_finds_the_least_of_the_first(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Every base is there five times, at five prices, and no descent comes by them."""
    monkeypatch.setattr(minimise, "STARTS", 0)
    given = replace(
        problem(seed, {"base": 1, "sour": 1, "sweet": 2}, with_limits=False), choices=()
    )
    base = given.candidates[0]
    twins = [replace(base, ingredient=f"twin-{n}", cost=0.09 - 0.01 * n) for n in range(5)]
    given = replace(given, candidates=(*twins, *given.candidates[1:]))
    drawn = TwoGoals(given, (MEASURES["cost"], None), CpSat(), Clock.of(60))
    drawn.drinks = Drinks(given, by_halves=False)
    point = drawn.least(math.inf, math.inf)
    assert point is not None
    same = [cost for cost, off in of_every_drink(given, PAIRS[0]) if off <= over(point.second)]
    assert point.first == pytest.approx(min(same))


def test_a_clock_that_has_run_out_leaves_the_curve_undecided() -> None:
    given = problem(501, SHAPES[0], with_limits=False)
    drawn = TwoGoals(given, (MEASURES["cost"], None), CpSat(), Clock(-math.inf))
    assert frontier(drawn, EVERYTHING).undecided


def test_what_is_all_but_at_a_bound_lies_in_the_gap_that_is_left() -> None:
    """A search below a bound passes by what is the same as the bound: the gap begins before it."""
    points: Places = [(0.0, 10.0), (5.0 - 1e-6, 5.0), (10.0, 0.0)]
    found = frontier(Listed(points, patience=3), EVERYTHING)
    assert found.undecided
    check_partial(found, points)
