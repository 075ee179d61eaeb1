"""The drink that is most in keeping: sets of ingredients, best first, each asked for its pours.

What is in keeping depends on which ingredients are poured, never on how much of each. So sets come
in the order of their worth, and of each it is asked, exactly, whether any pours of it are on target
within the limits. The first that has some is the optimum, and the sets before it are the proof.

A drink is on target where every measure lies in the band of its aim. Where no drink does, the bands
are widened by what the closest drink misses them, and by a quarter of a noticeable difference.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import islice
from typing import Protocol, TypeVar

import numpy as np

from solver.clock import Clock, TimeUpError, Work
from solver.measures import MEASURES, ODDNESS, Measure
from solver.search.enumeration.meet_in_the_middle import MOST_LISTED, Halves
from solver.search.enumeration.pour_vectors import Picks
from solver.search.exact_evaluator import evaluate_one
from solver.search.milp.backend import Backend
from solver.search.minimise import Drinks, Search
from solver.search.nogoods import CandidateSet, Nogoods
from solver.search.problem import Choice, Drink, Goal, Limit, Problem
from solver.search.result import Impossible, Optimal, Stopped, decided
from solver.search.symmetry import representatives
from solver.search.tolerances import SAME_GOAL, UNNOTICED, gap_of

SETS_TRIED_FIRST = 12
"""Sets that are tried before it is asked whether any drink is on target at all: most answers are
among them, and that question takes longer than they do."""

_Answer = TypeVar("_Answer")


@dataclass(frozen=True)
class Targets:
    """The bands that a drink is held to, as limits.

    They are those of the aims where `off` is 0; else no drink is on target, the closest is `off` by
    so many noticeable differences in all, and the bands are wider. `closest` is the closest drink.
    """

    limits: tuple[Limit, ...]
    off: float = 0.0
    closest: Drink | None = None


@dataclass(frozen=True)
class MostInKeeping:
    """The drink, proven: of the `before` sets that are more in keeping, none can be poured so.

    `before` is None where the sets of all drinks within the targets were compared instead.
    """

    drink: Drink
    candidates: CandidateSet
    before: int | None
    targets: Targets


class RankedSets(Protocol):
    """The sets of ingredients that a problem's candidates make, best first."""

    def __call__(self) -> Iterator[CandidateSet]:
        """All of them, the best first, each time they are asked for anew."""
        ...

    def best_of(self, poured: Iterable[frozenset[int]]) -> CandidateSet | None:
        """The best set of some drinks, given by their candidates; None where they have no set."""
        ...


def find_targets(
    problem: Problem, backend: Backend, clock: Clock
) -> Targets | Impossible | Stopped:
    """The bands of the aims, or wider ones if no drink is on target."""
    search = _SetSearch(problem, backend, clock)
    return search.guarded(search.targets)


def most_in_keeping(
    problem: Problem,
    sets: RankedSets,
    backend: Backend,
    clock: Clock,
    targets: Targets | None = None,
) -> MostInKeeping | Impossible | Stopped:
    """The drink of the best of `sets` that has one within the targets.

    `targets` are found first, if not given (`find_targets`).
    """
    search = _SetSearch(problem, backend, clock)
    return search.guarded(lambda: search.run(sets, targets))


def drink_of_set(
    problem: Problem, candidates: CandidateSet, targets: Targets, backend: Backend, clock: Clock
) -> MostInKeeping | Impossible | Stopped:
    """The drink of a set with the most usual pours, within the targets."""
    search = _SetSearch(problem, backend, clock)

    def poured() -> MostInKeeping | None:
        found = search.of_set(candidates, targets)
        return None if found is None else search.poured((0, candidates), targets)

    return search.guarded(poured)


def any_of_set(
    problem: Problem, candidates: CandidateSet, targets: Targets, backend: Backend, clock: Clock
) -> Drink | None:
    """Any drink of a set within the targets; None if there is none.

    Raises:
        TimeUpError, KeyboardInterrupt: there was no time to tell, or the user stopped it.
    """
    return _SetSearch(problem, backend, clock).of_set(candidates, targets)


def bands_as_limits(problem: Problem) -> tuple[Limit, ...]:
    """The bands of the aims, as limits."""
    return tuple(
        Limit("target", aim.measure, low if low > 0 else None, high if high < math.inf else None)
        for aim in problem.aims
        for low, high in (aim.range,)
    )


def widened_bands(problem: Problem, closest: Drink) -> tuple[Limit, ...]:
    """The bands, wider by what the closest drink misses them, and a quarter more."""
    values = evaluate_one(problem, closest).values
    found: list[Limit] = []
    for limit, aim in zip(bands_as_limits(problem), problem.aims, strict=True):
        value = float(values[aim.measure.name][0])
        low, high = limit.low, limit.high
        slack = UNNOTICED * aim.tolerance
        if low is not None and value < low - SAME_GOAL:
            low = max(0.0, value - slack)
        if high is not None and value > high + SAME_GOAL:
            high = value + slack
        found.append(replace(limit, low=low, high=high))
    return tuple(found)


def problem_of_set(problem: Problem, candidates: CandidateSet) -> tuple[Problem, tuple[int, ...]]:
    """The problem with the ingredients of a set alone, each poured once; and which candidates of
    `problem` its own are.
    """
    kept = tuple(index for part in candidates for one_of in part for index in one_of)
    parts = tuple(
        replace(rule, count_low=len(part), count_high=len(part))
        for rule, part in zip(problem.parts, candidates, strict=True)
    )
    each = (
        Choice("an ingredient of the set", frozenset(one_of), 1, 1)
        for part in candidates
        for one_of in part
        if len(part) > 1 or len(one_of) > 1
    )
    return replace(problem.with_choices(*each).of_candidates(kept), parts=parts), kept


class _SetSearch:
    """Searches ranked sets for one with a drink. A result of None proves that there is none.

    Every method but `guarded` raises TimeUpError where the time is up, and KeyboardInterrupt where
    the user stopped it.
    """

    def __init__(self, problem: Problem, backend: Backend, clock: Clock) -> None:
        self.problem = problem
        self.backend = backend
        self.clock = clock
        self.compared: int | None = None
        self.seen: Drink | None = None
        """A drink that keeps the limits, proven to be nothing more."""

    def guarded(self, work: Callable[[], _Answer | None]) -> _Answer | Impossible | Stopped:
        """The result of `work`: Impossible for None, Stopped where time or user ended it."""
        try:
            return work() or Impossible(self.compared)
        except TimeUpError:
            return self.stopped(interrupted=False)
        except KeyboardInterrupt:
            return self.stopped(interrupted=True)

    def run(self, sets: RankedSets, targets: Targets | None) -> MostInKeeping | None:
        """The drink of the first set that has one on target, or as close as any."""
        if targets is None:
            aimed = Targets(bands_as_limits(self.problem))
            early = self._first(islice(sets(), SETS_TRIED_FIRST), aimed)
            if early is not None:
                return self.poured(early, aimed)
            targets = self.targets()
        if targets is None:
            return None
        found = self._best_of_all(sets, targets) or self._first(sets(), targets)
        # Some drinks have no set (what is never poured together): the closest may be one of them.
        return self._closest(sets) if found is None else self.poured(found, targets)

    def _best_of_all(self, sets: RankedSets, targets: Targets) -> tuple[None, CandidateSet] | None:
        """The best set of all drinks within the targets.

        None where there are too many drinks, or none that has a set. It pays where few drinks are
        within the targets, as most sets then have none.
        """
        picks = Picks.of(self.problem)
        halves = Halves.of(self.problem, picks, self.clock)
        held = self.problem.with_limits(*targets.limits)
        drinks = halves.every(held, MOST_LISTED, self.clock) if halves else None
        if drinks is None:
            return None
        candidates = np.unique(np.sort(np.append(picks.candidate, -1)[drinks], axis=1), axis=0)
        best = sets.best_of(frozenset(row) - {-1} for row in candidates.tolist())
        return None if best is None else (None, best)

    def targets(self) -> Targets | None:
        """The bands of the aims, or wider ones where no drink is on target."""
        whole = representatives(self.problem)
        drinks, aimed = Drinks(whole, shelf=self.problem), bands_as_limits(whole)
        if self._any(whole.with_limits(*aimed), drinks) is not None:
            return Targets(aimed)
        found = self._search(whole, None, drinks).run()
        match found:
            case Impossible(compared=compared):
                self.compared = compared
            case Optimal(drink=drink) | Stopped(incumbent=drink) if drink is not None:
                self.seen = self._own(whole, drink)
        closest = decided(found)
        if closest is None:
            return None
        return Targets(widened_bands(whole, closest.drink), closest.value, self.seen)

    def _own(self, whole: Problem, drink: Drink) -> Drink:
        """A drink of representatives in terms of the problem itself."""
        places = {(c.part, c.ingredient): i for i, c in enumerate(self.problem.candidates)}
        poured = ((whole.candidates[index], at) for index, at in drink)
        return tuple(sorted((places[each.part, each.ingredient], at) for each, at in poured))

    def stopped(self, *, interrupted: bool) -> Stopped:
        """What is known where there was no time for more."""
        value = math.inf
        if self.seen is not None:
            value = float(evaluate_one(self.problem, self.seen).off_aim[0])
        return Stopped(self.seen, value, 0.0, interrupted)

    def _first(
        self, sets: Iterator[CandidateSet], targets: Targets
    ) -> tuple[int, CandidateSet] | None:
        """The first set that has a drink within limits and targets, and its place."""
        nogoods = Nogoods(self.problem.with_limits(*targets.limits), self.clock)
        for place, candidates in enumerate(sets):
            self.clock.tell(Work.SETS, place)
            if nogoods.rule_out(candidates, place):
                continue
            drink = self.of_set(candidates, targets)
            if drink is not None:
                self.seen = drink
                return place, candidates
        return None

    def of_set(self, candidates: CandidateSet, targets: Targets) -> Drink | None:
        """Any drink of a set within limits and targets; None if there is none."""
        given, kept = problem_of_set(self.problem, candidates)
        drink = self._any(given.with_limits(*targets.limits), Drinks(given))
        return None if drink is None else _back(drink, kept)

    def poured(self, found: tuple[int | None, CandidateSet], targets: Targets) -> MostInKeeping:
        """The drink of a set with the most usual pours; of those the cheapest, then by name."""
        place, candidates = found
        given, kept = problem_of_set(self.problem, candidates)
        drinks = Drinks(given)
        given = replace(given.with_limits(*targets.limits), aims=(), goal=Goal.USUAL)
        usual = self._least(given, ODDNESS, drinks)
        if usual is None:
            message = "a set that has a drink has none"
            raise AssertionError(message)
        chosen = usual
        if all(candidate.cost is not None for candidate in given.candidates):
            as_usual = given.with_limits(Limit("usual", ODDNESS, None, usual.value))
            priced = replace(as_usual, goal=Goal.CHEAPEST)
            chosen = self._least(priced, MEASURES["cost"], drinks) or usual
        return MostInKeeping(_back(chosen.drink, kept), candidates, place, targets)

    def _closest(self, sets: RankedSets) -> MostInKeeping | None:
        """As close as the closest drink of any set: of that, what is most in keeping."""
        off, closest = math.inf, None
        for candidates in sets():
            given, kept = problem_of_set(self.problem, candidates)
            below = off - SAME_GOAL if closest else math.inf
            found = self._least(given, None, Drinks(given), below)
            if found is not None:
                off, closest = found.value, _back(found.drink, kept)
        if closest is None:
            return None
        targets = Targets(widened_bands(self.problem, closest), off, closest)
        first = self._first(sets(), targets)
        return None if first is None else self.poured(first, targets)

    def _any(self, given: Problem, drinks: Drinks) -> Drink | None:
        found = decided(self._search(given, None, drinks).any())
        return None if found is None else found.drink

    def _least(
        self, given: Problem, goal: Measure | None, drinks: Drinks, below: float = math.inf
    ) -> Optimal | None:
        return decided(self._search(given, goal, drinks).run(below=below))

    def _search(self, given: Problem, goal: Measure | None, drinks: Drinks) -> Search:
        return Search(
            given, goal, tolerance=gap_of(goal), backend=self.backend, clock=self.clock,
            drinks=drinks,
        )  # fmt: skip


def _back(drink: Drink, kept: tuple[int, ...]) -> Drink:
    """A drink of a set in terms of the whole problem."""
    return tuple(sorted((kept[candidate], at) for candidate, at in drink))
