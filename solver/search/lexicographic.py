"""The lexicographic optimum of a problem: its goal, its later stages, then closeness to the aims.

Among the closest drinks, those less than `UNNOTICED` apart are taken as equal, and the one with the
fewest ingredients is chosen. `verified` asks a MILP solver for a second opinion.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from solver.clock import Clock
from solver.measures import MEASURES, Measure
from solver.search.milp.backend import Backend
from solver.search.minimise import Drinks, Search
from solver.search.problem import Drink, Limit, Problem
from solver.search.result import Impossible, Optimal, Result, Stopped
from solver.search.symmetry import representatives
from solver.search.tolerances import UNNOTICED, gap_of


@dataclass(frozen=True)
class Best:
    """The problem as searched, what came of its goal, and what came of choosing what to offer.

    `chosen` is Optimal only where every choice was proven; where the goal's optimum is proven and a
    later choice is not, it is Stopped with the drink that would be offered so far.
    """

    problem: Problem
    optimum: Result
    chosen: Result


def best(problem: Problem, backend: Backend, clock: Clock, drinks: Drinks | None = None) -> Best:
    """The best drink of a problem; with its `drinks` where they are known.

    Without them, only the representatives of what is alike are searched.
    """
    searched = problem if drinks else representatives(problem)
    drinks = drinks or Drinks(searched, shelf=problem)
    goal = searched.goal.measure

    stage = _Stages(drinks, backend, clock)
    optimum = stage.least(searched, goal)
    if not isinstance(optimum, Optimal):
        return Best(searched, optimum, optimum)
    if goal is None:
        return Best(searched, optimum, stage.simplest(searched, optimum))
    return Best(searched, optimum, stage.later(searched, optimum))


@dataclass(frozen=True)
class _Stages:
    """One goal after the other, over the same drinks."""

    drinks: Drinks
    backend: Backend
    clock: Clock

    def least(
        self,
        problem: Problem,
        goal: Measure | None,
        start: Drink | None = None,
        below: float = math.inf,
    ) -> Result:
        """The drink with the least of a goal, of those under a bound; `start` is one to begin with.

        `goal` None is the distance from the aims.
        """
        return Search(
            problem, goal, tolerance=gap_of(goal), backend=self.backend, clock=self.clock,
            drinks=self.drinks,
        ).run(start, below)  # fmt: skip

    def later(self, problem: Problem, optimum: Optimal) -> Result:
        """Of all drinks with the best of the goal the best of its later stages, then the closest.

        Stopped with the best so far where one of them was not proven.
        """
        chosen = optimum
        measures = problem.goal.measures
        for reached, then in zip(measures, (*measures[1:], None), strict=True):
            problem = problem.with_limits(Limit("goal", reached, None, chosen.value))
            match self.least(problem, then, chosen.drink):
                case Optimal() as better:
                    chosen = better
                case Stopped() as stopped:
                    return _cut_short(stopped, chosen)
                case Impossible():  # by rounding: the drink at hand keeps the limit as measured
                    break
        return chosen

    def simplest(self, problem: Problem, optimum: Optimal) -> Result:
        """Of the drinks less than `UNNOTICED` further off than the closest, the closest of those
        with fewest pours. Stopped with the best so far where that was not proven.
        """
        chosen = optimum
        while True:
            fewer = Limit("fewer ingredients", MEASURES["bottles"], None, len(chosen.drink) - 1)
            held = problem.with_limits(fewer)
            match self.least(held, None, below=optimum.value + UNNOTICED):
                case Optimal() as simpler:
                    chosen = simpler
                case Stopped() as stopped:
                    return _cut_short(stopped, chosen)
                case Impossible():
                    return chosen


def _cut_short(stopped: Stopped, chosen: Optimal) -> Stopped:
    """The better of what a search that was cut short has seen, and what was chosen before it."""
    if stopped.incumbent is None:
        return replace(stopped, incumbent=chosen.drink, value=chosen.value)
    return stopped


@dataclass(frozen=True)
class Agreed:
    """A MILP solver comes to the same optimum, or to none."""

    solver: str


@dataclass(frozen=True)
class Disagreed:
    """A MILP solver comes to something else: one of the two is wrong, and the fault is ours."""

    solver: str
    first: Optimal | Impossible
    second: Optimal | Impossible


SecondOpinion = Agreed | Disagreed | Stopped
"""What a second solver says of a proof."""


def verified(found: Best, backend: Backend, clock: Clock) -> SecondOpinion:
    """What a MILP solver says of an optimum that was found by halves; Stopped without time."""
    goal, first = found.problem.goal.measure, found.optimum
    tolerance = gap_of(goal)
    if isinstance(first, Stopped):
        return first
    drinks = Drinks(found.problem, by_halves=False)
    second = Search(
        found.problem, goal, tolerance=tolerance, backend=backend, clock=clock, drinks=drinks
    ).run(first.drink if isinstance(first, Optimal) else None)
    match first, second:
        case _, Stopped():
            return second
        case Impossible(), Impossible():
            return Agreed(backend.name)
        case Optimal(bound=bound), Optimal(value=value) if value >= bound - tolerance:
            return Agreed(backend.name)
        case _:
            return Disagreed(backend.name, first, second)
