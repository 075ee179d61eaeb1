"""The drink that is most in keeping: sets of ingredients, best first, each asked for its pours.

What is in keeping depends on which ingredients are poured, never on how much of each. So sets come
in the order of their worth, and of each it is asked, exactly, whether any pours of it are on target
within the limits. The first that has some is the optimum, and the sets before it are the proof.

A drink is on target where every measure lies in the band of its aim. Where no drink does, the bands
are widened by what the closest drink misses them, and by a quarter of a noticeable difference.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from itertools import islice

from solver.measures import MEASURES, ODDNESS, Measure
from solver.search.backend import Backend
from solver.search.best_sets import OutOfTime
from solver.search.clock import Clock
from solver.search.exact import evaluate_one
from solver.search.loop import EXACT, Drinks, Search
from solver.search.problem import Choice, Drink, Goal, Limit, Problem
from solver.search.result import Impossible, Optimal, Stopped, Witness

EARLY = 48
"""Sets that are looked at before it is asked whether any drink is on target at all: most answers
are among them, and the question takes longer than they do."""
QUARTER = 0.25
"""Noticeable differences by which a drink may be further off target than the closest, so that what
goes together decides: our own choice, a quarter of what half of all tasters notice."""

Groups = tuple[tuple[tuple[int, ...], ...], ...]
"""A set: for each part its ingredients, each as the candidates of which one is poured."""


@dataclass(frozen=True)
class MostInKeeping:
    """The drink, proven: of the `before` sets that are more in keeping, none can be poured so.

    `targets` are the bands it was held to. They are those of the aims where `off` is 0; else no
    drink is on target, the closest is `off` by so many noticeable differences in all, and the bands
    are wider.
    """

    drink: Drink
    groups: Groups
    before: int
    targets: tuple[Limit, ...]
    off: float


def most_in_keeping(
    problem: Problem, sets: Callable[[], Iterator[Groups]], backend: Backend, clock: Clock
) -> MostInKeeping | Impossible | Stopped:
    """The drink of `problem` that is most in keeping, by `sets` in the order of their worth."""
    search = _Sets(problem, backend, clock)
    targets = on_target(problem)
    try:
        found = search.first(sets(), targets, EARLY)
        if found is not None:
            return search.poured(found, targets, 0.0)
        closest = Search(problem, None, tolerance=QUARTER / 2, backend=backend, clock=clock).run()
        if not isinstance(closest, Optimal):
            return closest
        off = closest.value if closest.value > EXACT else 0.0
        if off:
            targets = widened(problem, closest.drink)
        found = search.first(sets(), targets, None)
        if found is None:
            # Only sets that nothing forbids count, and the closest drink is none of them.
            return search.closest(sets())
        return search.poured(found, targets, off)
    except OutOfTime:
        return search.stopped(interrupted=False)
    except KeyboardInterrupt:
        return search.stopped(interrupted=True)


def on_target(problem: Problem) -> tuple[Limit, ...]:
    """The bands of the aims, as limits."""
    return tuple(
        Limit("target", aim.measure, low if low > 0 else None, high if high < math.inf else None)
        for aim in problem.aims
        for low, high in (aim.range,)
    )


def widened(problem: Problem, closest: Drink) -> tuple[Limit, ...]:
    """The bands, wider by what the closest drink misses them, and a quarter more."""
    values = evaluate_one(problem, closest).values
    found: list[Limit] = []
    for limit, aim in zip(on_target(problem), problem.aims, strict=True):
        value = float(values[aim.measure.name][0])
        low, high = limit.low, limit.high
        slack = QUARTER * aim.tolerance
        if low is not None and value < low - EXACT:
            low = max(0.0, value - slack)
        if high is not None and value > high + EXACT:
            high = value + slack
        found.append(replace(limit, low=low, high=high))
    return tuple(found)


def only(problem: Problem, groups: Groups) -> tuple[Problem, tuple[int, ...]]:
    """The problem with the ingredients of a set alone, each poured once; and which candidates of
    `problem` its own are.
    """
    kept = tuple(index for part in groups for group in part for index in group)
    position = {old: new for new, old in enumerate(kept)}
    parts = tuple(
        replace(rule, count_low=len(part), count_high=len(part))
        for rule, part in zip(problem.parts, groups, strict=True)
    )
    ours = (
        replace(c, members=frozenset(position[m] for m in c.members if m in position))
        for c in problem.choices
    )
    each = (
        Choice("an ingredient of the set", frozenset(position[m] for m in group), 1, 1)
        for part in groups
        for group in part
        if len(part) > 1 or len(group) > 1
    )
    candidates = tuple(problem.candidates[index] for index in kept)
    return replace(problem, candidates=candidates, parts=parts, choices=(*ours, *each)), kept


class _Sets:
    """Asks sets for drinks."""

    def __init__(self, problem: Problem, backend: Backend, clock: Clock) -> None:
        self.problem = problem
        self.backend = backend
        self.clock = clock
        self.seen: Drink | None = None
        """A drink that keeps the limits, proven to be nothing more."""

    def first(
        self, sets: Iterator[Groups], targets: tuple[Limit, ...], most: int | None
    ) -> tuple[int, Groups] | None:
        """The first of `most` sets that has a drink within limits and targets, and its place."""
        for place, groups in enumerate(islice(sets, most)):
            given, kept = only(self.problem, groups)
            search = self._search(given.with_limits(*targets), None)
            match search.any():
                case Witness(drink=drink):
                    self.seen = _back(drink, kept)
                    return place, groups
                case Stopped(interrupted=True):
                    raise KeyboardInterrupt
                case Stopped():
                    raise OutOfTime
                case Impossible():
                    pass
        return None

    def poured(
        self, found: tuple[int, Groups], targets: tuple[Limit, ...], off: float
    ) -> MostInKeeping | Stopped:
        """The drink of a set with the most usual pours; of those the cheapest, then by name."""
        place, groups = found
        given, kept = only(self.problem, groups)
        given = replace(given.with_limits(*targets), aims=(), goal=Goal.USUAL)
        chosen = self._least(given, ODDNESS)
        if all(candidate.cost is not None for candidate in given.candidates):
            usual = Limit("usual", ODDNESS, None, chosen.value)
            chosen = self._least(
                replace(given, goal=Goal.CHEAPEST).with_limits(usual), MEASURES["cost"]
            )
        return MostInKeeping(_back(chosen.drink, kept), groups, place, targets, off)

    def closest(self, sets: Iterator[Groups]) -> MostInKeeping | Impossible | Stopped:
        """The closest drink of all sets; of equally close ones that of the first."""
        best: tuple[float, int, Groups, Drink] | None = None
        for place, groups in enumerate(sets):
            given, kept = only(self.problem, groups)
            below = math.inf if best is None else best[0] - EXACT
            match self._search(given, None).run(below=below):
                case Optimal(drink=drink, value=value):
                    best = value, place, groups, _back(drink, kept)
                case Stopped(interrupted=True):
                    raise KeyboardInterrupt
                case Stopped():
                    raise OutOfTime
                case Impossible():
                    pass
        if best is None:
            return Impossible()
        off, place, groups, drink = best
        targets = widened(self.problem, drink)
        found = self.first(iter((groups,)), targets, None)
        return self.poured((place, groups), targets, off) if found else Impossible()

    def stopped(self, *, interrupted: bool) -> Stopped:
        """What is known where there was no time for more."""
        value = math.inf
        if self.seen is not None:
            value = float(evaluate_one(self.problem, self.seen).off_aim[0])
        return Stopped(self.seen, value, 0.0, interrupted)

    def _least(self, given: Problem, goal: Measure) -> Optimal:
        match self._search(given, goal).run():
            case Optimal() as found:
                return found
            case Stopped(interrupted=True):
                raise KeyboardInterrupt
            case Stopped():
                raise OutOfTime
            case Impossible():
                message = "a set that has a drink has none"
                raise AssertionError(message)

    def _search(self, given: Problem, goal: Measure | None) -> Search:
        return Search(
            given, goal, tolerance=EXACT, backend=self.backend, clock=self.clock,
            drinks=Drinks.of(given),
        )  # fmt: skip


def _back(drink: Drink, kept: tuple[int, ...]) -> Drink:
    """A drink of a set in terms of the whole problem."""
    return tuple(sorted((kept[candidate], at) for candidate, at in drink))
