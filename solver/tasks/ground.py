"""The problems that a request poses without some of its demands, solved and remembered."""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from solver.measures import Measure
from solver.reasons.conflicts import UndecidedError
from solver.search.backend import Backend
from solver.search.best import best, tolerance_of
from solver.search.classes import representatives
from solver.search.clock import Clock
from solver.search.exact import kept_limits
from solver.search.exact import measure as measures_of
from solver.search.glance import hopeless, plain_drink
from solver.search.loop import EXACT, Drinks, Search
from solver.search.problem import Aim, Choice, Drink, Limit, Problem
from solver.search.result import Impossible, Optimal, Result, Stopped, Witness
from solver.tasks.demands import PURCHASES, STRUCTURE, Asked, Demand, Kind

SAME_BOTTLES = frozenset({Kind.LEAST, Kind.MOST, Kind.WITH, Kind.CHARACTER})
"""Kinds of demands that can be dropped without another set of bottles and pours."""
BETTER = 1e-6
"""What the goal must gain, in its own unit, to be better at all: far above rounding."""


@dataclass(frozen=True)
class Solved:
    """A problem and its proven optimum."""

    problem: Problem
    drink: Drink
    value: float

    def measured(self, measure: Measure) -> float:
        """The value of a measure of the drink."""
        amounts = self.problem.amounts(self.drink)
        return float(measures_of(self.problem, amounts, (measure,))[measure.name])


class _Base:
    """A problem that questions share which differ in limits and wishes, and its drinks."""

    def __init__(self, shelf: Problem) -> None:
        self.shelf = shelf
        self.problem = representatives(shelf)

    @cached_property
    def drinks(self) -> Drinks:
        """Built when they are needed: some questions are answered at a glance."""
        return Drinks.of(self.problem, shelf=self.shelf)


class Ground:
    """Solves one request with demands dropped or moved; what is alike is built once.

    A question has three answers: a drink; None, the proof that there is none; and, where there was
    no time to tell, UndecidedError.
    """

    def __init__(self, asked: Asked, backend: Backend, clock: Clock) -> None:
        self.asked = asked
        self.backend = backend
        self.clock = clock
        self._bases: dict[tuple[frozenset[Demand], bool], _Base] = {}

    def within(self, seconds: float) -> Ground:
        """The same, what is built shared, for questions that may take so long together."""
        share = Ground(self.asked, self.backend, self.clock.within(seconds))
        share._bases = self._bases
        return share

    def problem(self, dropped: Collection[Demand]) -> tuple[Problem, Drinks]:
        """The problem without some demands, and its drinks."""
        problem, base = self._posed(dropped)
        return problem, base.drinks

    def _posed(
        self, dropped: Collection[Demand], moved: Mapping[Demand, float] | None = None,
        *, bought: int = 0,
    ) -> tuple[Problem, _Base]:  # fmt: skip
        """The problem without some demands and with others moved, and what its drinks are of."""
        gone = frozenset(dropped)
        other_bottles = frozenset(demand for demand in gone if demand.kind not in SAME_BOTTLES)
        key = (other_bottles, bought > 0)
        if key not in self._bases:
            self._bases[key] = _Base(self.asked.problem(other_bottles, bought=bought))
        base = self._bases[key]
        moved = moved or {}
        limits: list[Limit] = []
        for demand in self.asked.demands:
            if demand not in gone:
                limit = replace(demand, bound=moved.get(demand, demand.bound)).limit
                if limit is not None:
                    limits.append(replace(limit, name=demand.name))
        free = {demand.name for demand in gone}
        choices = tuple(_eased(choice, free, bought) for choice in base.problem.choices)
        return replace(base.problem, limits=tuple(limits), choices=choices), base

    def best(
        self, dropped: Collection[Demand] = (), moved: Mapping[Demand, float] | None = None, *,
        below: float = math.inf,
    ) -> Solved | None:  # fmt: skip
        """The optimum of the request's own goal, among drinks with a goal under `below`."""
        problem, base = self._posed(dropped, moved)
        if hopeless(problem):
            return None
        search = self._search(problem, base.drinks, problem.goal.measure)
        return _decided(problem, search.run(below=below))

    def offer(
        self, dropped: Collection[Demand] = (), moved: Mapping[Demand, float] | None = None,
        *, bought: int = 0,
    ) -> Solved | None:  # fmt: skip
        """The drink that would be offered: the optimum, or a simpler one nobody tells from it."""
        problem, base = self._posed(dropped, moved, bought=bought)
        if hopeless(problem):
            return None
        found = best(problem, self.backend, self.clock, base.drinks)
        return _decided(found.problem, found.chosen)

    def any(
        self, dropped: Collection[Demand], moved: Mapping[Demand, float] | None = None, *,
        below: float = math.inf, bought: int = 0,
    ) -> Drink | None:  # fmt: skip
        """Any drink without some demands, with the request's own goal under `below`."""
        problem, base = self._posed(dropped, moved, bought=bought)
        if hopeless(problem):
            return None
        if not problem.limits and below == math.inf and (drink := plain_drink(problem)):
            return drink
        goal = problem.goal.measure if below < math.inf else None
        match self._search(problem, base.drinks, goal).any(below):
            case Witness(drink=drink):
                return drink
            case Impossible():
                return None
            case Stopped() as stopped:
                raise _cause(stopped)

    def nearest(
        self, dropped: Collection[Demand], aims: tuple[Aim, ...], within: float
    ) -> Solved | None:
        """The drink nearest to `aims` without some demands, whatever the request's own aims.

        None is nearer by more than `within`, in noticeable differences.
        """
        problem, base = self._posed(dropped)
        if hopeless(problem):
            return None
        aimed = replace(problem, aims=aims)
        return _decided(aimed, self._search(aimed, base.drinks, None, within).run())

    def kept(self, active: frozenset[Demand]) -> frozenset[Demand] | None:
        """The demands that a drink keeps which keeps `active`; None where there is no such drink.

        Of the profile's structure and the jigger only what is in `active` is said to be kept.
        """
        dropped = frozenset(self.asked.demands) - active
        drink = self.any(dropped)
        if drink is None:
            return None
        problem, _ = self._posed(dropped)
        limits = {limit: demand for demand in dropped if (limit := demand.limit)}
        kept = {limits[limit] for limit in kept_limits(problem, drink, tuple(limits))}
        candidates = problem.candidates
        poured = [(candidates[i].ingredient, candidates[i].part, candidates[i].amounts[k])
                  for i, k in drink]  # fmt: skip
        wishes = (d for d in dropped if d.measure is None and d.kind not in STRUCTURE)
        return active | kept | {wish for wish in wishes if self.asked.keeps(wish, poured)}

    def _search(
        self, problem: Problem, drinks: Drinks, goal: Measure | None, within: float = EXACT
    ) -> Search:
        return Search(
            problem, goal, tolerance=max(tolerance_of(goal), within), backend=self.backend,
            clock=self.clock, drinks=drinks, exact=within,
        )  # fmt: skip


def _eased(choice: Choice, free: set[str], bought: int) -> Choice:
    """A choice as a question has it: a wish may be dropped, and so much may be bought."""
    if choice.name == PURCHASES:
        return replace(choice, high=bought)
    return replace(choice, low=0) if choice.name in free else choice


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
