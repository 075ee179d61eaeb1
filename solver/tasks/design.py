"""Design a drink: the proven best for a request, from what the bar has."""

from __future__ import annotations

import time
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from solver.measures import MEASURES, Measure
from solver.mixture.drink import Drink as Mixed
from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.pantry.profile import Profile
from solver.search.backend import Backend
from solver.search.classes import representatives
from solver.search.exact import measure, mixed, off_aim
from solver.search.loop import Clock, Ending, Optimum, Search
from solver.search.problem import Candidate, Choice, Drink, Limit, Problem
from solver.tasks.request import DEFINING, Request, problem_of

TOLERANCES = {"cost": 0.001, "ethanol": 0.01, "bottles": 0.5}
"""How close to the best a total must be proven, in its own unit."""
OFF_AIM_TOLERANCE = 0.05
"""How close to the best the distance must be proven, in noticeable differences."""


@dataclass(frozen=True)
class Poured:
    """One pour of the answer: `amount` in mL, or in g of what is weighed."""

    part: str
    ingredient: Ingredient
    amount: float
    tool: str
    cost: float | None


@dataclass(frozen=True)
class Answer:
    """A poured drink, before ice and in the glass, and how far from the aims.

    `values` holds every measure by its name; None where it is not known.
    """

    pours: tuple[Poured, ...]
    drink: Mixed
    off_aim: float
    values: Mapping[str, float | None]

    @property
    def ingredients(self) -> tuple[Ingredient, ...]:
        """What is poured."""
        return tuple(pour.ingredient for pour in self.pours)


@dataclass(frozen=True)
class Design:
    """What came of a request: an answer, or the proof that there is none.

    `objective` and `bound` are of `goal`, None being the distance from the aims: no drink on the
    shelf has a goal below `bound`.
    """

    profile: Profile
    glass: str | None
    problem: Problem
    ending: Ending
    interrupted: bool
    answer: Answer | None
    alternatives: tuple[Answer, ...]
    asked_alternatives: int
    goal: Measure | None
    objective: float
    bound: float
    tolerance: float
    solver: str
    seconds: float


def design(profile: Profile, bar: Bar, request: Request, backend: Backend) -> Design:
    """The best drink for `request`, with its proof, and alternatives with another base or modifier.

    Raises:
        BadInput, BadInputs: see `problem_of`.
    """
    started = time.monotonic()
    clock = Clock.of(request.seconds)
    problem = problem_of(profile, bar, request)
    searched, first, found = _best(problem, backend, clock)
    answer = _answer(searched, found.drink, profile, bar) if found.drink else None
    others: list[Answer] = []
    last = answer
    while last is not None and len(others) < request.alternatives:
        problem = problem.with_choices(_unlike(last, problem))
        again, _, other = _best(problem, backend, clock)
        proven = other.drink is not None and other.ending is Ending.OPTIMAL
        last = _answer(again, other.drink, profile, bar) if proven and other.drink else None
        others += [last] if last else []
    return Design(
        profile=profile,
        glass=request.glass or profile.glass,
        problem=searched,
        ending=found.ending,
        interrupted=found.interrupted,
        answer=answer,
        alternatives=tuple(others),
        asked_alternatives=request.alternatives,
        goal=searched.goal.measure,
        objective=first.value,
        bound=first.bound,
        tolerance=_tolerance(searched.goal.measure),
        solver=backend.name,
        seconds=time.monotonic() - started,
    )


def _best(problem: Problem, backend: Backend, clock: Clock) -> tuple[Problem, Optimum, Optimum]:
    """The problem as searched, its optimum, and among its optima the drink closest to the aims."""
    searched = representatives(problem)
    first = _minimise(searched, searched.goal.measure, backend, clock)
    if searched.goal.measure is None or first.ending is not Ending.OPTIMAL:
        return searched, first, first
    kept = Limit("goal", searched.goal.measure, None, first.value)
    second = _minimise(searched.with_limits(kept), None, backend, clock, first.drink)
    return searched, first, second


def _unlike(answer: Answer, problem: Problem) -> Choice:
    """At least one base or modifier of the answer must go; any ingredient where it has neither."""
    defining = [p.ingredient.key for p in answer.pours if p.part in DEFINING]
    keys = set(defining or [pour.ingredient.key for pour in answer.pours])
    members = frozenset(i for i, c in enumerate(problem.candidates) if c.ingredient in keys)
    return Choice("unlike an earlier answer", members, high=len(keys) - 1)


def _tolerance(goal: Measure | None) -> float:
    return OFF_AIM_TOLERANCE if goal is None else TOLERANCES[goal.name]


def _minimise(
    problem: Problem,
    goal: Measure | None,
    backend: Backend,
    clock: Clock,
    start: Drink | None = None,
) -> Optimum:
    search = Search(problem, goal, tolerance=_tolerance(goal), backend=backend, clock=clock)
    return search.run(start)


def _answer(problem: Problem, drink: Drink, profile: Profile, bar: Bar) -> Answer:
    amounts = problem.amounts(drink)
    stock = {stocked.ingredient.key: stocked.ingredient for stocked in bar.stock}
    values = measure(problem, amounts, MEASURES.values())
    return Answer(
        pours=tuple(_poured(problem.candidates[c], at, profile, stock) for c, at in drink),
        drink=mixed(problem, amounts),
        off_aim=float(off_aim(problem, values)),
        values={n: None if np.isnan(value) else float(value) for n, value in values.items()},
    )


def _poured(
    candidate: Candidate, position: int, profile: Profile, stock: Mapping[str, Ingredient]
) -> Poured:
    ingredient = stock[candidate.ingredient]
    part = profile.parts[candidate.part]
    amount = candidate.amounts[position]
    cost = None if candidate.cost is None else candidate.cost * amount
    return Poured(part.name, ingredient, amount, part.tool or ingredient.tool, cost)
