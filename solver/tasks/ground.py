"""The problems that a request poses without some of its demands, solved and remembered."""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace

from solver.measures import Measure
from solver.reasons.conflicts import UndecidedError
from solver.search.backend import Backend
from solver.search.best import best, tolerance_of
from solver.search.classes import representatives
from solver.search.clock import Clock
from solver.search.exact import kept_limits
from solver.search.loop import Drinks, Search
from solver.search.problem import Aim, Choice, Drink, Limit, Problem
from solver.search.result import Impossible, Optimal, Result, Stopped, Witness
from solver.tasks.demands import Asked, Demand, Kind

SAME_BOTTLES = frozenset({Kind.LEAST, Kind.MOST, Kind.WITH, Kind.CHARACTER})
"""Kinds of demands that can be dropped without another set of bottles and pours."""


@dataclass(frozen=True)
class Solved:
    """A problem and its proven optimum."""

    problem: Problem
    drink: Drink
    value: float


class Ground:
    """Solves one request with demands dropped or moved; what is alike is built once.

    A question has three answers: a drink; None, the proof that there is none; and, where there was
    no time to tell, UndecidedError.
    """

    def __init__(self, asked: Asked, backend: Backend, clock: Clock) -> None:
        self.asked = asked
        self.backend = backend
        self.clock = clock
        self._bases: dict[tuple[frozenset[Demand], int], tuple[Problem, Drinks]] = {}

    def within(self, seconds: float) -> Ground:
        """The same, what is built shared, for questions that may take so long together."""
        share = Ground(self.asked, self.backend, self.clock.within(seconds))
        share._bases = self._bases
        return share

    def problem(
        self, dropped: Collection[Demand], moved: Mapping[Demand, float] | None = None,
        *, bought: int = 0,
    ) -> tuple[Problem, Drinks]:  # fmt: skip
        """The problem without some demands and with others moved, and its drinks."""
        gone = frozenset(dropped)
        other_bottles = frozenset(demand for demand in gone if demand.kind not in SAME_BOTTLES)
        key = (other_bottles, bought)
        if key not in self._bases:
            shelf = self.asked.problem(other_bottles, bought=bought)
            base = representatives(shelf)
            self._bases[key] = base, Drinks.of(base, shelf=shelf)
        base, drinks = self._bases[key]
        moved = moved or {}
        limits: list[Limit] = []
        for demand in self.asked.demands:
            if demand not in gone:
                limit = replace(demand, bound=moved.get(demand, demand.bound)).limit
                if limit is not None:
                    limits.append(replace(limit, name=demand.name))
        free = {demand.name for demand in gone}
        choices = tuple(
            Choice(c.name, c.members, 0, c.high) if c.name in free else c for c in base.choices
        )
        return replace(base, limits=tuple(limits), choices=choices), drinks

    def best(
        self, dropped: Collection[Demand] = (), moved: Mapping[Demand, float] | None = None, *,
        below: float = math.inf,
    ) -> Solved | None:  # fmt: skip
        """The optimum of the request's own goal, among drinks with a goal under `below`."""
        problem, drinks = self.problem(dropped, moved)
        search = self._search(problem, drinks, problem.goal.measure)
        return _decided(problem, search.run(below=below))

    def offer(
        self, dropped: Collection[Demand] = (), moved: Mapping[Demand, float] | None = None,
        *, bought: int = 0,
    ) -> Solved | None:  # fmt: skip
        """The drink that would be offered: the optimum, or a simpler one nobody tells from it."""
        problem, drinks = self.problem(dropped, moved, bought=bought)
        found = best(problem, self.backend, self.clock, drinks)
        return _decided(found.problem, found.chosen)

    def any(self, dropped: Collection[Demand], below: float = math.inf) -> Drink | None:
        """Any drink without some demands, with the request's own goal under `below`."""
        problem, drinks = self.problem(dropped)
        goal = problem.goal.measure if below < math.inf else None
        match self._search(problem, drinks, goal).any(below):
            case Witness(drink=drink):
                return drink
            case Impossible():
                return None
            case Stopped() as stopped:
                raise _cause(stopped)

    def nearest(self, dropped: Collection[Demand], aims: tuple[Aim, ...]) -> Solved | None:
        """The drink nearest to `aims` without some demands, whatever the request's own aims."""
        problem, drinks = self.problem(dropped)
        aimed = replace(problem, aims=aims)
        return _decided(aimed, self._search(aimed, drinks, None).run())

    def kept(self, active: frozenset[Demand]) -> frozenset[Demand] | None:
        """The demands that a drink keeps which keeps `active`; None where there is no such drink.

        Of demands on bottles and pours only those in `active` are said to be kept.
        """
        dropped = frozenset(self.asked.demands) - active
        drink = self.any(dropped)
        if drink is None:
            return None
        limits = {limit: demand for demand in dropped if (limit := demand.limit)}
        kept = kept_limits(self.problem(dropped)[0], drink, tuple(limits))
        return active | {limits[limit] for limit in kept}

    def _search(self, problem: Problem, drinks: Drinks, goal: Measure | None) -> Search:
        return Search(
            problem, goal, tolerance=tolerance_of(goal), backend=self.backend, clock=self.clock,
            drinks=drinks,
        )  # fmt: skip


def _decided(problem: Problem, found: Result) -> Solved | None:
    match found:
        case Optimal(drink=drink, value=value):
            return Solved(problem, drink, value)
        case Impossible():
            return None
        case Stopped() as stopped:
            raise _cause(stopped)


def _cause(stopped: Stopped) -> BaseException:
    """What stopped a search: the user, or the clock."""
    return KeyboardInterrupt() if stopped.interrupted else UndecidedError()
