"""Design a drink: the proven best for a request, from what the bar has."""

from __future__ import annotations

import enum
import time
from dataclasses import dataclass

from solver.measures import Measure
from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.pantry.profile import Profile
from solver.search.backend import Backend
from solver.search.best import UNNOTICED, best, tolerance_of, verified
from solver.search.clock import Clock
from solver.search.loop import Ending, Optimum
from solver.search.problem import Choice, Problem
from solver.tasks.answer import Answer, answer_of
from solver.tasks.demands import Asked, Demand
from solver.tasks.ground import Ground
from solver.tasks.request import DEFINING, Request, unknown_to
from solver.tasks.steps import settled
from solver.tasks.why import Why, why_answer, why_impossible


@dataclass(frozen=True)
class Design:
    """What came of a request: an answer, or the proof that there is none.

    `objective` and `bound` are of `goal`, None being the distance from the aims: no drink on the
    shelf has a goal below `bound`. `compared` is how many drinks were compared for it, all there
    are; where they are too many, None, and `solver` is who proved it. `verified_by` is a solver
    that came to the same by another way, where that was asked for. `left_out` are bottles that
    would have fitted, but of which too little is known for somebody who avoids something.
    """

    profile: Profile
    glass: str | None
    demands: tuple[Demand, ...]
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
    why: Why | None
    left_out: tuple[Ingredient, ...]
    seconds: float


@enum.unique
class Explain(enum.Enum):
    """How much of the why is worked out."""

    NOTHING = "nothing"
    CONFLICTS = "conflicts"
    """Conflicts and ways out where there is no answer; nothing where there is one."""
    LIMITS = "limits"
    """What of all that was asked holds an answer back; or the conflicts, and ways out."""
    EVERYTHING = "everything"
    """The profile's own pours and the jigger too."""


def design(
    profile: Profile,
    bar: Bar,
    request: Request,
    backend: Backend,
    *,
    verify: bool = False,
    explain: Explain = Explain.NOTHING,
) -> Design:
    """The best drink for `request`, with its proof, and alternatives with another base or modifier.

    With `verify`, `backend` must come to the same optimum, or to none, without halves.

    Raises:
        BadInput, BadInputs: something asked for can't be read, is not known, or has no price where
            the cost matters.
    """
    started = time.monotonic()
    clock = Clock.of(request.seconds)
    request = settled(profile, bar, request, backend, clock)
    ground = Ground(Asked.of(profile, bar, request), backend, clock)
    problem, drinks = ground.problem(())
    found = best(problem, backend, clock, drinks)
    first, chosen = found.optimum, found.chosen
    answer = answer_of(found.problem, chosen.drink, profile, bar) if chosen.drink else None
    goal = problem.goal.measure
    others: list[Answer] = []
    last = answer
    while last is not None and len(others) < request.alternatives:
        problem = problem.with_choices(_unlike(last, problem))
        other = best(problem, backend, clock)
        drink = other.chosen.drink if other.chosen.ending is Ending.OPTIMAL else None
        last = answer_of(other.problem, drink, profile, bar) if drink else None
        others += [last] if last else []
    seconds = time.monotonic() - started
    interrupted = chosen.interrupted
    why = None
    try:
        why = _why(ground, first, answer, explain)
    except KeyboardInterrupt:  # the drink is proven; only what is said about it is missing
        interrupted = True
    return Design(
        profile=profile,
        glass=request.glass or profile.glass,
        demands=ground.asked.demands,
        problem=found.problem,
        ending=chosen.ending,
        interrupted=interrupted,
        answer=answer,
        alternatives=tuple(sorted(others, key=lambda a: a.off_aim) if goal is None else others),
        asked_alternatives=request.alternatives,
        goal=goal,
        objective=chosen.value if goal is None else first.value,
        bound=first.bound,
        tolerance=UNNOTICED if goal is None else tolerance_of(goal),
        compared=first.compared,
        solver=backend.name if first.compared is None else None,
        verified_by=verified(found, backend, clock) if verify and problem.candidates else None,
        why=why,
        left_out=_left_out(profile, bar, request),
        seconds=seconds,
    )


def _left_out(profile: Profile, bar: Bar, request: Request) -> tuple[Ingredient, ...]:
    """Bottles that would have fitted, of which too little is known for who avoids something."""
    return tuple(
        stocked.ingredient
        for stocked in bar.stock
        if unknown_to(stocked.ingredient, request.unwanted)
        and any(part.accepts(stocked.ingredient) for part in profile.parts)
    )


def _why(ground: Ground, first: Optimum, answer: Answer | None, explain: Explain) -> Why | None:
    if explain is Explain.NOTHING or first.ending is Ending.STOPPED:
        return None
    if answer is None:
        return why_impossible(ground)
    if explain is Explain.CONFLICTS:
        return None
    return why_answer(ground, first.bound, answer, structure=explain is Explain.EVERYTHING)


def _unlike(answer: Answer, problem: Problem) -> Choice:
    """At least one base or modifier of the answer must go; any ingredient where it has neither."""
    defining = [p.ingredient.key for p in answer.pours if p.part in DEFINING]
    keys = set(defining or [pour.ingredient.key for pour in answer.pours])
    members = frozenset(i for i, c in enumerate(problem.candidates) if c.ingredient in keys)
    return Choice("unlike an earlier answer", members, high=len(keys) - 1)
