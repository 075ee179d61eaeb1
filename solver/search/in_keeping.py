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
from solver.search.best import tolerance_of
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
    try:
        return search.run(sets) or Impossible()
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
    """Asks sets for drinks. Where there is no time to tell, OutOfTime is raised, and
    KeyboardInterrupt where the user stopped it: None is a proof that there is nothing.
    """

    def __init__(self, problem: Problem, backend: Backend, clock: Clock) -> None:
        self.problem = problem
        self.backend = backend
        self.clock = clock
        self.seen: Drink | None = None
        """A drink that keeps the limits, proven to be nothing more."""

    def run(self, sets: Callable[[], Iterator[Groups]]) -> MostInKeeping | None:
        """The drink of the first set that has one on target, or as close as any."""
        targets = on_target(self.problem)
        found = self._first(islice(sets(), EARLY), targets)
        if found is not None:
            return self._poured(found, targets, 0.0)
        off, whole = 0.0, Drinks.of(self.problem)
        if self._any(self.problem.with_limits(*targets), whole) is None:
            closest = self._least(self.problem, None, whole)
            if closest is None:
                return None
            self.seen = closest.drink
            off, targets = closest.value, widened(self.problem, closest.drink)
        found = self._first(sets(), targets)
        # Of what is never poured together there are no sets: the closest may be none of them.
        return self._closest(sets()) if found is None else self._poured(found, targets, off)

    def stopped(self, *, interrupted: bool) -> Stopped:
        """What is known where there was no time for more."""
        value = math.inf
        if self.seen is not None:
            value = float(evaluate_one(self.problem, self.seen).off_aim[0])
        return Stopped(self.seen, value, 0.0, interrupted)

    def _first(
        self, sets: Iterator[Groups], targets: tuple[Limit, ...]
    ) -> tuple[int, Groups] | None:
        """The first set that has a drink within limits and targets, and its place."""
        for place, groups in enumerate(sets):
            given, kept = only(self.problem, groups)
            drink = self._any(given.with_limits(*targets), Drinks.of(given))
            if drink is not None:
                self.seen = _back(drink, kept)
                return place, groups
        return None

    def _poured(
        self, found: tuple[int, Groups], targets: tuple[Limit, ...], off: float
    ) -> MostInKeeping:
        """The drink of a set with the most usual pours; of those the cheapest, then by name."""
        place, groups = found
        given, kept = only(self.problem, groups)
        drinks = Drinks.of(given)
        given = replace(given.with_limits(*targets), aims=(), goal=Goal.USUAL)
        usual = self._least(given, ODDNESS, drinks)
        if usual is None:
            message = "a set that has a drink has none"
            raise AssertionError(message)
        chosen = usual
        if all(candidate.cost is not None for candidate in given.candidates):
            as_usual = given.with_limits(Limit("usual", ODDNESS, None, usual.value))
            priced = replace(as_usual, goal=Goal.CHEAPEST)
            chosen = self._least(priced, MEASURES["cost"], drinks) or usual
        return MostInKeeping(_back(chosen.drink, kept), groups, place, targets, off)

    def _closest(self, sets: Iterator[Groups]) -> MostInKeeping | None:
        """The closest drink of all sets; of equally close ones that of the first."""
        best: tuple[float, int, Groups, Drink] | None = None
        for place, groups in enumerate(sets):
            given, kept = only(self.problem, groups)
            below = math.inf if best is None else best[0] - EXACT
            found = self._least(given, None, Drinks.of(given), below)
            if found is not None:
                best = found.value, place, groups, _back(found.drink, kept)
        if best is None:
            return None
        off, place, groups, drink = best
        return self._poured((place, groups), widened(self.problem, drink), off)

    def _any(self, given: Problem, drinks: Drinks) -> Drink | None:
        match self._search(given, None, drinks).any():
            case Witness(drink=drink):
                return drink
            case Impossible():
                return None
            case Stopped() as stopped:
                raise _cause(stopped)

    def _least(
        self, given: Problem, goal: Measure | None, drinks: Drinks, below: float = math.inf
    ) -> Optimal | None:
        match self._search(given, goal, drinks).run(below=below):
            case Optimal() as found:
                return found
            case Impossible():
                return None
            case Stopped() as stopped:
                self.seen = self.seen or (stopped.incumbent if given is self.problem else None)
                raise _cause(stopped)

    def _search(self, given: Problem, goal: Measure | None, drinks: Drinks) -> Search:
        return Search(
            given, goal, tolerance=tolerance_of(goal), backend=self.backend, clock=self.clock,
            drinks=drinks,
        )  # fmt: skip


def _cause(stopped: Stopped) -> BaseException:
    """What stopped a search: the user, or the clock."""
    return KeyboardInterrupt() if stopped.interrupted else OutOfTime()


def _back(drink: Drink, kept: tuple[int, ...]) -> Drink:
    """A drink of a set in terms of the whole problem."""
    return tuple(sorted((kept[candidate], at) for candidate, at in drink))
