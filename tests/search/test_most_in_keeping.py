"""The drink most in keeping, against every drink there is."""

from __future__ import annotations

import itertools
import random
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import cache

import numpy as np
import pytest

from solver.clock import Clock
from solver.measures import ODDNESS
from solver.search.exact_evaluator import evaluate, keeps_limit
from solver.search.milp.cpsat import CpSat
from solver.search.most_in_keeping import (
    MostInKeeping,
    bands_as_limits,
    most_in_keeping,
    widened_bands,
)
from solver.search.nogoods import CandidateSet
from solver.search.problem import Floats, Goal, Limit, Problem
from solver.search.result import Impossible, Stopped
from solver.search.tolerances import SAME_GOAL
from tests.each import each
from tests.search.instances import every_drink, problem, with_ranges

SHAPES: tuple[dict[str, int], ...] = (
    {"base": 3, "sour": 2, "sweet": 2, "bitter": 1},
    {"base": 2, "sour": 1, "sweet": 2, "modifier": 2},
    {"base": 4, "sweet": 3, "modifier": 1},
)
SEEDS = (*range(24), 45)
"""With drinks on target, off target and none; hundreds more with -m sweep."""


def posed(seed: int) -> Problem:
    """A problem with bands for aims, and amounts of which some are unusual."""
    given = problem(seed, SHAPES[seed % len(SHAPES)], with_limits=seed % 3 == 0)
    rng = random.Random(seed)
    odd = tuple(
        replace(c, oddness=tuple(float(rng.randrange(4)) for _ in c.amounts), cost=c.cost)
        for c in given.candidates
    )
    wide = with_ranges(given) if seed % 2 else given
    aims = tuple(
        replace(
            aim,
            value=max(0.0, aim.range[0] - aim.tolerance / 2),
            until=aim.range[1] + 0.5 * aim.tolerance,
        )
        for aim in wide.aims
    )
    return replace(given, candidates=odd, aims=aims)


def every_set(given: Problem, seed: int) -> list[CandidateSet]:
    """Every set of ingredients that the parts allow, in some order of worth."""
    ways: list[list[tuple[tuple[int, ...], ...]]] = []
    for index, part in enumerate(given.parts):
        mine = [i for i, c in enumerate(given.candidates) if c.part == index]
        ways.append(
            [
                tuple((i,) for i in held)
                for n in range(part.count_low, part.count_high + 1)
                for held in itertools.combinations(mine, n)
            ]
        )
    found: list[CandidateSet] = list(itertools.product(*ways))
    random.Random(seed).shuffle(found)
    return found


@dataclass(frozen=True)
class Listed:
    """Sets in the order of their worth, best first."""

    sets: list[CandidateSet]

    def __call__(self) -> Iterator[CandidateSet]:
        return iter(self.sets)

    def best_of(self, poured: Iterable[frozenset[int]]) -> CandidateSet | None:
        wanted = set(poured)
        return next((s for s in self.sets if frozenset(i for p in s for (i,) in p) in wanted), None)


def expected(given: Problem, sets: list[CandidateSet]) -> tuple[int, float] | None:
    """Place of the first set with a drink on target, or within a quarter of the closest, and the
    least oddness of its drinks; None where there is no drink.
    """
    drinks, amounts = every_drink(given)
    found = evaluate(replace(given, goal=Goal.USUAL), amounts)
    if not found.feasible.any():
        return None
    off = np.where(found.feasible, found.off_aim, np.inf)
    targets = bands_as_limits(given)
    if off.min() > SAME_GOAL:
        targets = widened_bands(given, drinks[int(off.argmin())])
    good = np.flatnonzero(found.feasible & kept(given, targets, amounts))
    place = {frozenset(i for part in s for (i,) in part): at for at, s in enumerate(sets)}
    poured = {at: frozenset(i for i, _ in drinks[at]) for at in good}
    odd = found.values[ODDNESS.name]
    return min(
        ((place[mine], float(odd[at])) for at, mine in poured.items() if mine in place),
        default=None,
    )


def kept(given: Problem, targets: tuple[Limit, ...], amounts: Floats) -> np.ndarray:
    values = evaluate(replace(given, limits=targets, goal=Goal.USUAL), amounts).values
    holds = np.ones(len(amounts), dtype=bool)
    for limit in targets:
        holds &= keeps_limit(limit, values[limit.measure.name])
    return holds


@cache
def known(seed: int) -> tuple[Problem, list[CandidateSet], tuple[int, float] | None]:
    """A problem, its sets and what is `expected` of them: several tests ask about the same."""
    given = posed(seed)
    sets = every_set(given, seed)
    return given, sets, expected(given, sets)


Found = MostInKeeping | Impossible | Stopped


def searched(seed: int) -> Found:
    given, sets, _ = known(seed)
    return most_in_keeping(given, Listed(sets), CpSat(), Clock.of(60))


at_rest = cache(searched)
"""What is found as the search is; other tests change how it goes about it."""


def agrees(seed: int, found: Found) -> bool:
    given, sets, wanted = known(seed)
    if wanted is None:
        return isinstance(found, Impossible)
    if not isinstance(found, MostInKeeping):
        return False
    one = evaluate(replace(given, goal=Goal.USUAL), given.amounts(found.drink)[np.newaxis])
    oddness = float(one.values[ODDNESS.name][0])
    return (
        bool(one.feasible[0])
        and bool(kept(given, found.targets.limits, given.amounts(found.drink)[np.newaxis])[0])
        and found.candidates == sets[wanted[0]]
        and found.before in {None, wanted[0]}
        and abs(oddness - wanted[1]) < 1e-9
    )


@each(SEEDS)
def test_the_first_set_with_a_drink_on_target_is_found_with_its_most_usual_pours(
    seed: int,
) -> None:
    assert agrees(seed, at_rest(seed))


@pytest.mark.sweep
@pytest.mark.parametrize("seed", range(1000, 1300))
def test_the_first_set_with_a_drink_on_target_is_found_at_length(seed: int) -> None:
    assert agrees(seed, searched(seed))
    known.cache_clear()


@pytest.mark.parametrize("seed", SEEDS[::10])
def test_a_solver_of_rows_comes_to_the_same_set(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("solver.search.enumeration.meet_in_the_middle.MOST_FILLINGS", 0)
    _, sets, wanted = known(seed)
    found = searched(seed)
    if wanted is None:
        assert found == Impossible()
    else:
        assert isinstance(found, MostInKeeping)
        assert found.candidates == sets[wanted[0]]
        assert found.before in {None, wanted[0]}


@pytest.mark.parametrize("seed", SEEDS)
def test_sets_that_are_tried_one_by_one_come_to_the_same(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """However soon what is in them rules them out."""
    monkeypatch.setattr("solver.search.most_in_keeping.MOST_LISTED", -1)
    monkeypatch.setattr("solver.search.most_in_keeping.SETS_TRIED_FIRST", 0)
    monkeypatch.setattr("solver.search.nogoods.TRIED_BEFORE_SINGLES", seed % 3)
    monkeypatch.setattr("solver.search.nogoods.TRIED_BEFORE_PAIRS", 2 + seed % 5)
    assert agrees(seed, searched(seed))


def test_the_random_problems_are_on_target_off_target_and_impossible() -> None:
    kinds: set[str] = set()
    for seed in SEEDS:
        found = at_rest(seed)
        if isinstance(found, MostInKeeping):
            kinds.add("off target" if found.targets.off > 0 else "on target")
        else:
            kinds.add(type(found).__name__)
    assert kinds == {"on target", "off target", "Impossible"}


@each(range(6))
def test_bands_are_wider_by_what_the_closest_misses_and_a_quarter_of_what_is_noticed(
    seed: int,
) -> None:
    given = posed(seed)
    drink = every_drink(given)[0][0]
    values = evaluate(replace(given, goal=Goal.USUAL), given.amounts(drink)[np.newaxis]).values
    for aim, limit in zip(given.aims, widened_bands(given, drink), strict=True):
        value, (low, high) = float(values[aim.measure.name][0]), aim.range
        step = aim.tolerance / 4
        least = max(0.0, value - step) if value < low - SAME_GOAL else low
        most = value + step if value > high + SAME_GOAL else high
        assert (limit.low or 0.0, limit.high or np.inf) == (least, most)


def test_a_bar_that_forbids_the_closest_gets_the_closest_of_the_rest() -> None:
    """Sets that are never offered leave no drink on target: then the closest of the others."""
    given = next(posed(s) for s in range(200) if _alone_on_target(posed(s)))
    drinks, amounts = every_drink(given)
    found = evaluate(given, amounts)
    best = drinks[int(np.where(found.feasible, found.off_aim, np.inf).argmin())]
    members = frozenset(i for i, _ in best)
    sets = [s for s in every_set(given, 0) if frozenset(i for p in s for (i,) in p) != members]
    rest = most_in_keeping(given, Listed(sets), CpSat(), Clock.of(60))
    assert isinstance(rest, MostInKeeping)
    others = [d for d in range(len(drinks)) if frozenset(i for i, _ in drinks[d]) != members]
    least = np.where(found.feasible, found.off_aim, np.inf)[others].min()
    assert rest.targets.off == pytest.approx(least, abs=1e-8)


def _alone_on_target(given: Problem) -> bool:
    drinks, amounts = every_drink(given)
    found = evaluate(given, amounts)
    close = found.feasible & (found.off_aim <= SAME_GOAL)
    members = {frozenset(i for i, _ in d) for d, c in zip(drinks, close, strict=True) if c}
    return len(members) == 1 and int(found.feasible.sum()) > 50


@pytest.mark.parametrize("looks", [0, 1, 2, 3, 5, 8, 13, 40])
def test_without_time_nothing_is_called_most_in_keeping(looks: int) -> None:
    given, sets, _ = known(3)
    whole = at_rest(3)
    found = most_in_keeping(given, Listed(sets), CpSat(), _Short(looks))
    assert isinstance(found, Stopped) or found == whole


class _Short(Clock):
    """A clock that runs out when it has been looked at so many times."""

    def __init__(self, looks: int) -> None:
        super().__init__(0.0)
        object.__setattr__(self, "looks", looks)

    @property
    def left(self) -> float:
        object.__setattr__(self, "looks", self.looks - 1)  # type: ignore[attr-defined]
        return 60.0 if self.looks > 0 else 0.0  # type: ignore[attr-defined]
