"""A drink held to what is in keeping, against every drink of small bars."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Iterable
from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from solver.clock import Clock
from solver.harmony.harmony import worth_of
from solver.requests.asked_drink import AskedDrink
from solver.requests.choose import choose
from solver.requests.demands import Demand
from solver.requests.in_keeping import InKeeping
from solver.requests.request import Request
from solver.search.exact import evaluate_one
from solver.search.lexicographic import Agreed
from solver.search.milp.cpsat import CpSat
from solver.search.problem import Goal
from solver.search.result import Optimal
from solver.tasks.design import design
from solver.tasks.design_result import Explain, Status
from solver.tasks.subproblems import BETTER
from tests.tasks.bars import demo_with, small_bar, small_request, sour
from tests.tasks.truth import SAME, Bools, Truth, placed_of

SEEDS = (3, 5, 6, 10, 28)
"""With every outcome among them, and as few as that: all others are at length."""


class Floored:
    """A random request with a floor, its design, and every drink there is."""

    def __init__(self, seed: int) -> None:
        rng = random.Random(seed)
        bar = small_bar(rng)
        goal = rng.choice([Goal.IN_KEEPING, Goal.CHEAPEST, Goal.LIGHTEST, Goal.FEWEST])
        share = rng.choice([0.3, 0.6, 0.8, 0.9, 0.97])
        wish = replace(small_request(rng, bar), goal=goal, as_in_keeping_as=share)
        self.asked = AskedDrink.of(sour(), bar, wish)
        self.known = Truth(self.asked)
        self.floor = InKeeping(self.asked, self.asked.problem()).floor(share)
        self.found = design(
            sour(), bar, wish, CpSat(), explain=Explain.EVERYTHING, verify=seed % 5 == 0
        )

    def rows(self, dropped: Iterable[Demand] = ()) -> Bools:
        """The drinks on target that keep everything but some demands, and the floor."""
        gone, every = frozenset(dropped), self.known.every
        assert self.found.targets is not None
        kept = np.array([not (set(broken) - gone) for broken in every.broken], dtype=bool)
        held = kept & self.known.held_to(self.found.targets)
        ranks = {
            placed: self.known.rank_of(placed, tuple(gone))
            for placed in {every.placed[row] for row in np.flatnonzero(held)}
        }
        enough = {
            placed
            for placed, rank in ranks.items()
            if rank is not None and worth_of(-rank[0]) >= self.floor
        }
        return np.asarray(held & np.array([placed in enough for placed in every.placed]))


@cache
def check(seed: int) -> str:
    """What came of it, after everything said was held against every drink."""
    posed = Floored(seed)
    found, known = posed.found, posed.known
    if not known.possible:
        assert found.status is Status.IMPOSSIBLE
        assert found.beneath is None
        return "impossible"
    good = posed.rows()
    assert found.verdict is None or isinstance(found.verdict, Agreed)
    if not good.any():
        assert found.status is Status.IMPOSSIBLE
        assert found.answer is None
        assert found.beneath is not None
        reach = known.kept & known.held_to(found.targets) if found.targets else known.kept
        assert known.rank_of(placed_of(found.beneath)) == known.best_rank(reach)
        check_reasons(posed, np.inf)
        return "beneath"
    assert found.status is Status.OPTIMAL
    assert found.answer is not None
    rank = known.rank_of(placed_of(found.answer))
    assert rank is not None
    assert worth_of(-rank[0]) >= posed.floor
    if found.goal is None:
        return "in keeping"
    values = known.every.values[found.goal.name]
    best = float(values[good].min())
    assert found.objective == pytest.approx(best, abs=SAME)
    assert found.answer.values[found.goal.name] == pytest.approx(best, abs=SAME)
    check_reasons(posed, best)
    return "measured"


def check_reasons(posed: Floored, best: float) -> None:
    """What is said to hold a drink back does, what is said not to does not."""
    found = posed.found
    if found.why is None or (found.targets is not None and found.targets.off):
        return
    for reason in found.why.reasons:
        if reason.binding is None:
            continue
        good = posed.rows((reason.demand,))
        if np.isinf(best):
            assert reason.binding == bool(good.any()), reason.demand.name
        else:
            assert found.goal is not None
            least = posed.known.every.values[found.goal.name][good].min()
            assert reason.binding == bool(least < best - BETTER), reason.demand.name


@pytest.mark.parametrize("seed", SEEDS)
def test_what_is_said_of_a_floor_is_so_of_every_drink_there_is(seed: int) -> None:
    check(seed)


def test_the_goal_that_is_told_is_that_of_the_drink_offered_and_not_of_one_as_good() -> None:
    """A gin that is dearer by less than counts is more in keeping than the vodka beside it."""
    bar = demo_with("gin", "vodka", "lemon-juice", "simple-syrup")
    price = {"gin": 20.0, "vodka": 20.0 * (1 - 1e-7)}
    stock = (replace(s, price=price.get(s.ingredient.key, s.price)) for s in bar.stock)
    wish = Request(goal=Goal.CHEAPEST, as_in_keeping_as=0.3)
    asked = AskedDrink.of(sour(), replace(bar, stock=tuple(stock)), wish)
    problem = asked.problem()
    found = choose(problem, InKeeping(asked, problem), CpSat(), Clock.of(60)).result
    assert isinstance(found, Optimal)
    assert "gin" in {problem.candidates[index].ingredient for index, _ in found.drink}
    assert found.value == evaluate_one(problem, found.drink).values["cost"][0]
    assert found.bound < found.value


@pytest.mark.sweep
@pytest.mark.parametrize("seed", range(200))
def test_what_is_said_of_a_floor_is_so_at_length(seed: int) -> None:
    check(seed)


def test_the_random_floors_have_every_outcome() -> None:
    assert Counter(map(check, SEEDS)).keys() >= {"beneath", "measured", "in keeping"}
