"""Design a drink: the proven best for a request, from what the bar has."""

from __future__ import annotations

import time
from dataclasses import dataclass, replace

import numpy as np

from solver.measures import MEASURES, Measure
from solver.mixture.blend import Finished
from solver.mixture.drink import finish
from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.pantry.profile import Profile
from solver.search.backend import Backend
from solver.search.classes import representatives
from solver.search.exact import evaluate_one
from solver.search.loop import Clock, Ending, Optimum, Search
from solver.search.problem import Drink, Limit, Problem
from solver.tasks.request import Request, problem_of

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
    """A drink: its pours, what it is before ice and in the glass, how far from the aims."""

    pours: tuple[Poured, ...]
    before: Finished
    finished: Finished
    melt_ml: float
    off_aim: float
    cost: float | None


@dataclass(frozen=True)
class Design:
    """What came of a request: an answer, or the proof that there is none.

    `objective` and `bound` are of `goal`, None being the distance from the aims: no drink on the
    shelf has a goal below `bound`.
    """

    profile: Profile
    problem: Problem
    ending: Ending
    interrupted: bool
    answer: Answer | None
    goal: Measure | None
    objective: float
    bound: float
    tolerance: float
    solver: str
    seconds: float


def design(profile: Profile, bar: Bar, request: Request, backend: Backend) -> Design:
    """The best drink for `request`, with its proof.

    Raises:
        BadInput, BadInputs: see `problem_of`.
    """
    started = time.monotonic()
    problem = problem_of(profile, bar, request)
    searched = representatives(problem)
    clock = Clock.of(request.seconds)
    first = _minimise(searched, searched.goal.measure, backend, clock)
    found = first
    if searched.goal.measure and first.ending is Ending.OPTIMAL:
        kept = Limit("goal", searched.goal.measure, None, first.value)
        second = _minimise(searched.with_limits(kept), None, backend, clock, first.drink)
        found = replace(first, drink=second.drink, ending=second.ending)
    return Design(
        profile=profile,
        problem=searched,
        ending=found.ending,
        interrupted=found.interrupted,
        answer=_answer(searched, found.drink, profile, bar) if found.drink else None,
        goal=searched.goal.measure,
        objective=first.value,
        bound=first.bound,
        tolerance=_tolerance(searched.goal.measure),
        solver=backend.name,
        seconds=time.monotonic() - started,
    )


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
    first = np.where(problem.first_stage, amounts, 0.0) @ problem.compositions
    top = np.where(problem.first_stage, 0.0, amounts) @ problem.compositions
    mixed = finish(first, top, problem.curve)
    ingredients = {stocked.ingredient.key: stocked.ingredient for stocked in bar.stock}
    pours: list[Poured] = []
    for index, position in drink:
        candidate = problem.candidates[index]
        ingredient = ingredients[candidate.ingredient]
        part = profile.parts[candidate.part]
        amount = candidate.amounts[position]
        cost = None if candidate.cost is None else candidate.cost * amount
        pours.append(Poured(part.name, ingredient, amount, part.tool or ingredient.tool, cost))
    costs = [pour.cost for pour in pours if pour.cost is not None]
    return Answer(
        pours=tuple(pours),
        before=mixed.before,
        finished=mixed.finished,
        melt_ml=float(mixed.melt_ml),
        off_aim=float(evaluate_one(problem, drink).off_aim[0]),
        cost=sum(costs) if len(costs) == len(pours) else None,
    )


def value_of(answer: Answer, measure: Measure) -> float | None:
    """A measure of an answer; None for a cost that is not known."""
    values: dict[str, float | None] = {
        "abv": float(answer.finished.abv_pct),
        "sugar": float(answer.finished.sugar_g_100ml),
        "acid": float(answer.finished.acid_g_100ml),
        "volume": float(answer.finished.volume_ml),
        "ethanol": float(answer.finished.ethanol_g),
        "cost": answer.cost,
        "bottles": float(len(answer.pours)),
    }
    return values[MEASURES[measure.name].name]
