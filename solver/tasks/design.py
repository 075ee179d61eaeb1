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
from solver.search.best import UNNOTICED, best, tolerance_of, verified
from solver.search.clock import Clock
from solver.search.exact import measure, mixed, off_aim
from solver.search.loop import Ending
from solver.search.problem import Candidate, Choice, Drink, Problem
from solver.tasks.request import DEFINING, Request, problem_of


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
    shelf has a goal below `bound`. `compared` is how many drinks were compared for it, all there
    are; where they are too many, None, and `solver` is who proved it. `verified_by` is a solver
    that came to the same by another way, where that was asked for.
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
    compared: int | None
    solver: str | None
    verified_by: str | None
    seconds: float


def design(
    profile: Profile, bar: Bar, request: Request, backend: Backend, *, verify: bool = False
) -> Design:
    """The best drink for `request`, with its proof, and alternatives with another base or modifier.

    With `verify`, `backend` must come to the same optimum, or to none, without halves.

    Raises:
        BadInput, BadInputs: see `problem_of`.
    """
    started = time.monotonic()
    clock = Clock.of(request.seconds)
    problem = problem_of(profile, bar, request)
    found = best(problem, backend, clock)
    first, chosen = found.optimum, found.chosen
    answer = _answer(found.problem, chosen.drink, profile, bar) if chosen.drink else None
    goal = problem.goal.measure
    others: list[Answer] = []
    last = answer
    while last is not None and len(others) < request.alternatives:
        problem = problem.with_choices(_unlike(last, problem))
        other = best(problem, backend, clock)
        drink = other.chosen.drink if other.chosen.ending is Ending.OPTIMAL else None
        last = _answer(other.problem, drink, profile, bar) if drink else None
        others += [last] if last else []
    return Design(
        profile=profile,
        glass=request.glass or profile.glass,
        problem=found.problem,
        ending=chosen.ending,
        interrupted=chosen.interrupted,
        answer=answer,
        alternatives=tuple(others),
        asked_alternatives=request.alternatives,
        goal=goal,
        objective=chosen.value if goal is None else first.value,
        bound=first.bound,
        tolerance=UNNOTICED if goal is None else tolerance_of(goal),
        compared=first.compared,
        solver=backend.name if first.compared is None else None,
        verified_by=verified(found, backend, clock) if verify else None,
        seconds=time.monotonic() - started,
    )


def _unlike(answer: Answer, problem: Problem) -> Choice:
    """At least one base or modifier of the answer must go; any ingredient where it has neither."""
    defining = [p.ingredient.key for p in answer.pours if p.part in DEFINING]
    keys = set(defining or [pour.ingredient.key for pour in answer.pours])
    members = frozenset(i for i, c in enumerate(problem.candidates) if c.ingredient in keys)
    return Choice("unlike an earlier answer", members, high=len(keys) - 1)


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
