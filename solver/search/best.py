"""The drink to offer: best by the goal, and among the equally good the one a bar would rather make.

What the goal leaves open, closeness to the aims decides. What nobody would notice in the glass, the
number of bottles to pick up decides: a drop of this and a splash of that are not worth a quarter of
a noticeable difference.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from solver.measures import MEASURES, Measure
from solver.search.backend import Backend
from solver.search.classes import representatives
from solver.search.clock import Clock
from solver.search.loop import Drinks, Ending, Optimum, Search
from solver.search.problem import Drink, Limit, Problem

OFF_AIM_TOLERANCE = 0.05
"""How close to the best a solver of rows must prove the distance, in noticeable differences."""
TOLERANCES = {"cost": 0.001, "ethanol": 0.01, "bottles": 0.5, "changes": 0.5, "shift": 0.01}
"""How close to the best a solver of rows must prove a total, in its own unit."""
UNNOTICED = 0.25
"""Noticeable differences, over all aims together, that a drink with fewer ingredients may be
further off: our own choice, a quarter of what half of all tasters would notice in one measure."""


@dataclass(frozen=True)
class Best:
    """The problem as searched, the proven optimum of its goal, and the drink that is offered.

    `chosen.ending` is OPTIMAL only where every choice was proven.
    """

    problem: Problem
    optimum: Optimum
    chosen: Optimum


def tolerance_of(goal: Measure | None) -> float:
    """How close to the best a solver of rows must prove a goal, in its unit."""
    return OFF_AIM_TOLERANCE if goal is None else TOLERANCES[goal.name]


def best(problem: Problem, backend: Backend, clock: Clock, drinks: Drinks | None = None) -> Best:
    """The best drink of a problem; with its `drinks` where they are known.

    Without them, only the representatives of what is alike are searched.
    """
    searched = problem if drinks else representatives(problem)
    drinks = drinks or Drinks.of(searched)
    goal = searched.goal.measure

    def minimise(
        given: Problem, goal: Measure | None, start: Drink | None, below: float = float("inf")
    ) -> Optimum:
        tolerance = tolerance_of(goal)
        search = Search(
            given, goal, tolerance=tolerance, backend=backend, clock=clock, drinks=drinks
        )
        return search.run(start, below)

    optimum = minimise(searched, goal, None)
    if optimum.ending is not Ending.OPTIMAL or optimum.drink is None:
        return Best(searched, optimum, optimum)
    chosen = optimum
    if goal is not None:
        left = searched
        for reached, then in pairwise((*searched.goal.measures, None)):
            if reached is not None and chosen.ending is Ending.OPTIMAL:
                left = left.with_limits(Limit("goal", reached, None, chosen.value))
                chosen = minimise(left, then, chosen.drink)
        return Best(searched, optimum, chosen)
    while chosen.drink is not None and chosen.ending is Ending.OPTIMAL:
        fewer = Limit("fewer ingredients", MEASURES["bottles"], None, len(chosen.drink) - 1)
        simpler = minimise(searched.with_limits(fewer), None, None, optimum.value + UNNOTICED)
        if simpler.drink is None:
            break
        chosen = simpler
    return Best(searched, optimum, chosen)


def verified(found: Best, backend: Backend, clock: Clock) -> str | None:
    """The name of a solver of rows that comes to the same optimum; None if it had no time to.

    Raises:
        RuntimeError: it does not agree, so that one of the two is wrong.
    """
    goal, first = found.problem.goal.measure, found.optimum
    tolerance = tolerance_of(goal)
    drinks = Drinks.of(found.problem, by_halves=False)
    again = Search(
        found.problem, goal, tolerance=tolerance, backend=backend, clock=clock, drinks=drinks
    ).run(first.drink)
    if Ending.STOPPED in {first.ending, again.ending}:
        return None
    if first.ending is not again.ending or again.value < first.bound - tolerance:
        message = f"{backend.name} found {again.value}, against a bound of {first.bound}"
        raise RuntimeError(message)
    return backend.name
