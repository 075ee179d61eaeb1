"""Design a drink: the proven best for a request, from what the bar has."""

from __future__ import annotations

import enum
import math
import time
from dataclasses import dataclass

from solver.measures import Measure
from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.pantry.profile import Profile
from solver.search.backend import Backend
from solver.search.best import UNNOTICED, Verdict, best, tolerance_of, verified
from solver.search.clock import Clock
from solver.search.problem import Choice, Drink, Problem
from solver.search.result import Impossible, Optimal, Result, Stopped
from solver.tasks.answer import Answer, answer_of
from solver.tasks.demands import Asked, Demand
from solver.tasks.ground import Ground
from solver.tasks.request import DEFINING, Request, unknown_to
from solver.tasks.steps import settled
from solver.tasks.why import Why, why_answer, why_impossible


@enum.unique
class Status(enum.StrEnum):
    """What is known of a request."""

    OPTIMAL = "optimal"
    """There is an answer, and no better one."""
    IMPOSSIBLE = "impossible"
    """There is no drink."""
    STOPPED = "stopped"
    """Neither is proven: there was no time, or the user stopped the search."""


@dataclass(frozen=True)
class Design:
    """What came of a request: an answer, or the proof that there is none.

    `objective` and `bound` are of `goal`, None being the distance from the aims: no drink on the
    shelf has a goal below `bound`. `compared` is how many drinks were compared for it, where one
    stands for all that are alike in the glass; where they are too many, None, and `solver` is who
    proved it. `alternatives_cut` says that the search for those was not ended. `verdict` is what a
    second solver says, where it was asked. `left_out` are bottles that would have fitted, but of
    which too little is known for somebody who avoids something.
    """

    profile: Profile
    glass: str | None
    demands: tuple[Demand, ...]
    problem: Problem
    status: Status
    interrupted: bool
    answer: Answer | None
    alternatives: tuple[Answer, ...]
    asked_alternatives: int
    alternatives_cut: bool
    goal: Measure | None
    objective: float
    bound: float
    tolerance: float
    compared: int | None
    solver: str | None
    verdict: Verdict | None
    why: Why | None
    left_out: tuple[Ingredient, ...]
    seconds: float

    @property
    def complete(self) -> bool:
        """Whether everything that was asked for was settled, but for reasons."""
        unsettled = self.status is Status.STOPPED or isinstance(self.verdict, Stopped)
        return not (unsettled or self.alternatives_cut)


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


LIMITS_S = 3.0
"""Seconds to tell what holds an answer back where nobody asked for it: our own choice."""


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
    asked = Asked.of(profile, bar, request)
    ground = Ground(asked, backend, clock)
    problem, drinks = ground.problem(())
    found = best(problem, backend, clock, drinks)
    first, chosen = found.optimum, found.chosen
    drink = _drink(chosen)
    answer = None if drink is None else answer_of(found.problem, drink, profile, bar)
    goal = problem.goal.measure
    others = _Others((), cut=False)
    if isinstance(chosen, Optimal) and answer is not None:
        others = _alternatives(asked, answer, backend, clock)
    seconds = time.monotonic() - started
    verdict = verified(found, backend, clock) if verify and problem.candidates else None
    interrupted = any(_interrupted(each) for each in (chosen, verdict)) or others.interrupted
    why = None
    if not interrupted:
        try:
            why = _why(ground, first, answer, explain)
        except KeyboardInterrupt:  # the drink is proven; only what is said about it is missing
            interrupted = True
    compared = None if isinstance(first, Stopped) else first.compared
    return Design(
        profile=profile,
        glass=request.glass or profile.glass,
        demands=asked.demands,
        problem=found.problem,
        status=_status(chosen),
        interrupted=interrupted,
        answer=answer,
        alternatives=others.answers,
        asked_alternatives=request.alternatives,
        alternatives_cut=others.cut,
        goal=goal,
        objective=_value(chosen if goal is None else first),
        bound=math.inf if isinstance(first, Impossible) else first.bound,
        tolerance=UNNOTICED if goal is None else tolerance_of(goal),
        compared=compared,
        solver=backend.name if compared is None else None,
        verdict=verdict,
        why=why,
        left_out=_left_out(profile, bar, request),
        seconds=seconds,
    )


def _status(found: Result) -> Status:
    match found:
        case Optimal():
            return Status.OPTIMAL
        case Impossible():
            return Status.IMPOSSIBLE
        case Stopped():
            return Status.STOPPED


def _drink(found: Result) -> Drink | None:
    """The best drink known, proven or not."""
    match found:
        case Optimal(drink=drink) | Stopped(incumbent=drink):
            return drink
        case Impossible():
            return None


def _value(found: Result) -> float:
    return math.inf if isinstance(found, Impossible) else found.value


def _interrupted(found: Result | Verdict | None) -> bool:
    return isinstance(found, Stopped) and found.interrupted


@dataclass(frozen=True)
class _Others:
    """Alternatives to an answer; `cut` says that there may be more than those."""

    answers: tuple[Answer, ...]
    cut: bool
    interrupted: bool = False


def _alternatives(asked: Asked, answer: Answer, backend: Backend, clock: Clock) -> _Others:
    """The best drinks with another base or modifier than the answer and each other.

    Every bottle of the shelf counts, those too that another one stands for in the search.
    """
    problem, request = asked.problem(), asked.request
    others: list[Answer] = []
    last = answer
    while len(others) < request.alternatives:
        problem = problem.with_choices(_unlike(last, problem))
        found = best(problem, backend, clock)
        match found.chosen:
            case Optimal(drink=drink):
                last = answer_of(found.problem, drink, asked.profile, asked.bar)
                others.append(last)
            case Impossible():
                break
            case Stopped(interrupted=interrupted):
                return _Others(tuple(others), cut=True, interrupted=interrupted)
    if problem.goal.measure is None:
        others.sort(key=lambda other: other.off_aim)
    return _Others(tuple(others), cut=False)


def _left_out(profile: Profile, bar: Bar, request: Request) -> tuple[Ingredient, ...]:
    """Bottles that would have fitted, of which too little is known for who avoids something.

    By name.
    """
    found = [
        stocked.ingredient
        for stocked in bar.stock
        if unknown_to(stocked.ingredient, request.unwanted)
        and any(part.accepts(stocked.ingredient) for part in profile.parts)
    ]
    return tuple(sorted(found, key=lambda ingredient: ingredient.name))


def _why(ground: Ground, first: Result, answer: Answer | None, explain: Explain) -> Why | None:
    if explain is Explain.NOTHING or isinstance(first, Stopped):
        return None
    if answer is None or isinstance(first, Impossible):
        return why_impossible(ground)
    if explain is Explain.CONFLICTS:
        return None
    everything = explain is Explain.EVERYTHING
    return why_answer(
        ground if everything else ground.within(LIMITS_S),
        first.bound,
        answer,
        structure=everything,
    )


def _unlike(answer: Answer, problem: Problem) -> Choice:
    """At least one base or modifier of the answer must go; any ingredient where it has neither."""
    defining = [p.ingredient.key for p in answer.pours if p.part in DEFINING]
    keys = set(defining or [pour.ingredient.key for pour in answer.pours])
    members = frozenset(i for i, c in enumerate(problem.candidates) if c.ingredient in keys)
    return Choice("unlike an earlier answer", members, high=len(keys) - 1)
