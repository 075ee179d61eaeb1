"""The curve of a measure and of what is in keeping, against every drink of small problems."""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace

import numpy as np
import pytest

from solver.clock import Clock
from solver.explain.pareto_front import Frontier, frontier
from solver.measures import MEASURES
from solver.search import in_keeping_curve
from solver.search.exact_evaluator import evaluate, evaluate_one
from solver.search.in_keeping_curve import InKeepingOracle
from solver.search.milp.cpsat import CpSat
from solver.search.most_in_keeping import bands_as_limits
from solver.search.nogoods import CandidateSet
from solver.search.problem import Drink, Limit, Problem
from tests.explain.test_pareto_front import Places, check_gaps, efficient
from tests.search.instances import every_drink
from tests.search.test_most_in_keeping import Listed, every_set, posed

FIRSTS = ("cost", "off-aim", "abv", "bottles", "sugar")
EVERYTHING = 10_000


@dataclass
class Small:
    """A random problem whose sets are in some order of worth; some are no sets at all. One in three
    is held to its targets, of which few drinks are."""

    seed: int
    first: str = field(init=False)
    given: Problem = field(init=False)
    sets: list[CandidateSet] = field(init=False)
    losses: dict[frozenset[int], float] = field(init=False)

    def __post_init__(self) -> None:
        self.first = FIRSTS[self.seed % len(FIRSTS)]
        given = posed(self.seed)
        held = self.first != "off-aim" and self.seed % 3 == 0
        self.given = given.with_limits(*bands_as_limits(given)) if held else given
        self.sets = every_set(given, self.seed)[self.seed % 4 :]
        self.losses = {
            frozenset(i for part in groups for (i,) in part): place / 8
            for place, groups in enumerate(self.sets)
        }

    def loss(self, drink: Drink) -> float | None:
        return self.losses.get(frozenset(i for i, _ in drink))

    def curve(self, clock: Clock | None = None) -> InKeepingOracle:
        return InKeepingOracle(
            self.given, Listed(self.sets), self.loss, MEASURES.get(self.first), CpSat(),
            clock or Clock.of(60),
        )  # fmt: skip

    def places(self) -> Places:
        """Both values of every drink of any set within limits and targets."""
        drinks, amounts = every_drink(self.given)
        free = [Limit(self.first, MEASURES[self.first])] if self.first in MEASURES else []
        found = evaluate(replace(self.given, limits=(*self.given.limits, *free)), amounts)
        values = found.off_aim if self.first == "off-aim" else found.values[self.first]
        return [
            (float(values[at]), loss)
            for at in np.flatnonzero(found.feasible)
            if (loss := self.loss(drinks[at])) is not None
        ]


def agrees(seed: int) -> bool:
    small = Small(seed)
    found = frontier(small.curve(), EVERYTHING)
    feasible = all(evaluate_one(small.given, point.found).feasible[0] for point in found.points)
    expected = [pytest.approx(place, rel=2e-6, abs=2e-6) for place in efficient(small.places())]
    return found.complete and feasible and places_of(found) == expected


def places_of(found: Frontier[Drink]) -> Places:
    return [(point.first, point.second) for point in found.points]


@pytest.mark.parametrize("early", [0, EVERYTHING], ids=["gathered", "asked"])
@pytest.mark.parametrize("seed", range(15))
def test_the_curve_is_that_of_every_drink_there_is(
    seed: int, early: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(in_keeping_curve, "SETS_BEFORE_ENUMERATION", early)
    assert agrees(seed)


@pytest.mark.sweep
@pytest.mark.parametrize("seed", range(15, 300))
def test_the_curve_is_that_of_every_drink_there_is_at_length(seed: int) -> None:
    assert agrees(seed)


def test_some_of_the_curves_are_long_and_some_problems_have_none() -> None:
    lengths = [len(efficient(Small(seed).places())) for seed in range(15)]
    assert min(lengths) == 0
    assert max(lengths) >= 5


@pytest.mark.parametrize("most", [2, 3])
def test_a_cap_leaves_efficient_points_and_owns_up_to_where_others_may_lie(most: int) -> None:
    capped = 0
    for seed in range(6):
        small = Small(seed)
        found = frontier(small.curve(), most)
        check_gaps(found, efficient(small.places()))
        capped += not found.complete
    assert capped


def test_what_few_drinks_can_beat_is_gathered_and_too_many_are_not(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(in_keeping_curve, "SETS_BEFORE_ENUMERATION", 0)
    monkeypatch.setattr("solver.search.front_by_enumeration.MOST_LISTED", 3)
    assert all(agrees(seed) for seed in range(4))


def test_where_the_cheapest_drink_is_of_no_set_the_cheapest_of_any_set_is_found() -> None:
    small = Small(10)
    assert small.first == "cost"
    drinks, amounts = every_drink(small.given)
    free = Limit("cost", MEASURES["cost"])
    found = evaluate(small.given.with_limits(free), amounts)
    costs = np.where(found.feasible, found.values["cost"], np.inf)
    members = frozenset(i for i, _ in drinks[int(costs.argmin())])
    small.sets = [s for s in small.sets if frozenset(i for p in s for (i,) in p) != members]
    del small.losses[members]
    least = small.curve().least_first()
    assert least is not None
    assert least.first == pytest.approx(min(cost for cost, _ in small.places()))


def test_a_clock_that_has_run_out_leaves_the_curve_undecided() -> None:
    assert frontier(Small(0).curve(Clock(-math.inf)), EVERYTHING).undecided
