"""What is offered for a request: of what is on target, the best by its goal.

What is in keeping is searched by sets of ingredients; a goal that is measured, by the drinks that
are on target. Where nothing is on target, either is of what is as close as any, or nearly.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from solver.measures import MEASURES
from solver.search.backend import Backend
from solver.search.best import best
from solver.search.classes import representatives
from solver.search.clock import Clock
from solver.search.in_keeping import (
    Groups,
    MostInKeeping,
    Targets,
    most_in_keeping,
    targets_of,
)
from solver.search.loop import Drinks
from solver.search.problem import Goal, Limit, Problem
from solver.search.result import Impossible, Optimal, Result, Stopped
from solver.tasks.in_keeping import InKeeping


@dataclass(frozen=True)
class Chosen:
    """What came of a request's goal.

    `problem` is what was asked; `searched` is that, with the `targets` for limits, `optimum` what
    came of its goal, and `result` what is offered of all that are as good. `keeping` is the proof
    where that was chosen by what goes together. `targets` is None where they are not known.
    """

    problem: Problem
    searched: Problem
    optimum: Result
    result: Result
    targets: Targets | None = None
    keeping: MostInKeeping | None = None


def choose(
    problem: Problem,
    in_keeping: InKeeping,
    backend: Backend,
    clock: Clock,
    *,
    few: Problem | None = None,
    drinks: Drinks | None = None,
) -> Chosen:
    """The drink to offer, of all that a problem's candidates make.

    `few` are its representatives and `drinks` theirs, where they are known.
    """
    sets = in_keeping.sets(problem, clock)
    if problem.goal is Goal.IN_KEEPING:
        return _in_keeping(problem, sets, backend, clock)
    few = few or representatives(problem)
    return _measured(problem, few, drinks or Drinks.of(few, shelf=problem), sets, backend, clock)


def _in_keeping(
    problem: Problem,
    sets: Callable[[], Iterator[Groups]],
    backend: Backend,
    clock: Clock,
    targets: Targets | None = None,
) -> Chosen:
    match most_in_keeping(problem, sets, backend, clock, targets):
        case MostInKeeping(drink=drink, targets=targets) as found:
            result = Optimal(drink, targets.off, targets.off)
            held = problem.with_limits(*targets.limits)
            return Chosen(problem, held, result, result, targets, found)
        case Impossible() | Stopped() as nothing:
            return Chosen(problem, problem, nothing, nothing, targets)


def _measured(
    problem: Problem,
    few: Problem,
    drinks: Drinks,
    sets: Callable[[], Iterator[Groups]],
    backend: Backend,
    clock: Clock,
) -> Chosen:
    """The least of a measure, of what is on target."""
    targets = targets_of(few, backend, clock)
    if not isinstance(targets, Targets):
        return Chosen(few, few, targets, targets)
    held = few.with_limits(*targets.limits)
    found = best(held, backend, clock, drinks)
    if problem.goal is not Goal.FEWEST or not isinstance(found.chosen, Optimal):
        return Chosen(few, held, found.optimum, found.chosen, targets)
    most = len(found.chosen.drink)
    as_few = problem.with_limits(Limit("as few", MEASURES["bottles"], None, float(most)))
    chosen = _in_keeping(as_few, _of_at_most(most, sets), backend, clock, targets)
    if isinstance(chosen.result, Impossible):  # of what is never poured together there are no sets
        return Chosen(few, held, found.optimum, found.chosen, targets)
    return replace(chosen, problem=problem, searched=held, optimum=found.optimum)


def _of_at_most(most: int, sets: Callable[[], Iterator[Groups]]) -> Callable[[], Iterator[Groups]]:
    """The sets of so many ingredients at most."""
    return lambda: (each for each in sets() if sum(map(len, each)) <= most)
