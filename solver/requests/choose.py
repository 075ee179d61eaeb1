"""What is offered for a request: of what is on target, the best by its goal.

What is in keeping is searched by sets of ingredients; a goal that is measured, by the drinks that
are on target. Where nothing is on target, either is of what is as close as any, or nearly.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import islice

from solver.clock import Clock, TimeUpError
from solver.measures import MEASURES
from solver.requests.in_keeping import InKeeping, SetsOf
from solver.search.exact import evaluate_one
from solver.search.lexicographic import best
from solver.search.milp.backend import Backend
from solver.search.minimise import Drinks
from solver.search.most_in_keeping import (
    EARLY,
    MostInKeeping,
    Sets,
    Targets,
    drink_of_set,
    most_in_keeping,
    on_target,
    targets_of,
)
from solver.search.problem import Goal, Limit, Problem
from solver.search.result import Impossible, Optimal, Result, Stopped
from solver.search.symmetry import representatives


@dataclass(frozen=True)
class Chosen:
    """What came of a request's goal.

    `problem` is what was asked; `searched` is that, with the `targets` for limits, `optimum` what
    came of its goal, and `result` what is offered of all that are as good. `keeping` is the proof
    where that was chosen by what goes together. `targets` is None where they are not known.
    `beneath` is what is most in keeping, where not even that is as much so as was asked.
    """

    problem: Problem
    searched: Problem
    optimum: Result
    result: Result
    targets: Targets | None = None
    keeping: MostInKeeping | None = None
    beneath: MostInKeeping | None = None


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

    `few` are its representatives and `drinks` theirs, where they are known. Of parts that may hold
    more or less than the profile says nothing is known to go together: the closest is chosen.
    """
    knows = in_keeping.knows(problem)
    share = in_keeping.asked.request.as_in_keeping_as
    if knows and share is not None:
        return _as_in_keeping(problem, in_keeping, in_keeping.floor(share), backend, clock)
    if knows and problem.goal is Goal.IN_KEEPING:
        return _most_in_keeping(problem, in_keeping, backend, clock)[0]
    few = few or representatives(problem)
    drinks = drinks or Drinks.of(few, shelf=problem)
    if not knows:
        return closest(few, drinks, backend, clock)
    return _measured(problem, few, drinks, in_keeping, backend, clock)


def _most_in_keeping(
    problem: Problem, in_keeping: InKeeping, backend: Backend, clock: Clock
) -> tuple[Chosen, SetsOf]:
    """What is most in keeping, and the sets that it is of."""
    sets = in_keeping.sets(problem, clock)
    found = _in_keeping(problem, sets, backend, clock)
    if isinstance(found.result, Impossible) and in_keeping.asked.request.feature:
        # What is to be shown can't have as little beside it as that.
        sets = in_keeping.sets(problem, clock, shown=False)
        found = _in_keeping(problem, sets, backend, clock)
    return found, sets


def _as_in_keeping(
    problem: Problem, in_keeping: InKeeping, floor: float, backend: Backend, clock: Clock
) -> Chosen:
    """The best by the goal, of what is on target and worth as much as a floor."""
    from solver.explain.pareto_front import over, under  # few requests need a curve
    from solver.search.in_keeping_curve import InKeepingCurve

    plain = replace(problem, goal=Goal.IN_KEEPING)
    found, sets = _most_in_keeping(plain, in_keeping, backend, clock)
    if found.keeping is None or found.targets is None:
        return replace(found, problem=problem)
    loss = sets.loss(found.keeping.drink)
    if loss is None or loss > -floor:
        none = Impossible()
        return replace(found, optimum=none, result=none, keeping=None, beneath=found.keeping)
    measure = problem.goal.measure
    if measure is None:
        return found
    held = problem.with_limits(*found.targets.limits)
    curve = InKeepingCurve(held, sets, sets.loss, measure, backend, clock)
    result: Result = Impossible()
    try:
        point = curve.least_with(-floor)
    except TimeUpError:
        drink = found.keeping.drink
        value = float(evaluate_one(problem, drink).of(measure)[0])
        result = Stopped(drink, value, 0.0, curve.interrupted)
    else:
        if point is not None:
            as_good = plain.with_limits(Limit("as good", measure, None, over(point.first)))
            usual = _in_keeping(as_good, sets, backend, clock, found.targets)
            drink = point.found if usual.keeping is None else usual.keeping.drink
            value = float(evaluate_one(problem, drink).of(measure)[0])
            # Below this there is nothing as much in keeping; what is offered may lie above it.
            result = Optimal(drink, value, min(value, under(point.first)))
    return Chosen(problem, held, result, result, found.targets)


def choose_soon(
    problem: Problem, in_keeping: InKeeping, backend: Backend, clock: Clock
) -> Chosen | None:
    """A drink to offer where nobody asks for the best: one of the first sets that is on target.

    None where those have none.
    """
    targets = Targets(on_target(problem))
    try:
        for groups in islice(in_keeping.sets(problem, clock)(), EARLY):
            match drink_of_set(problem, groups, targets, backend, clock):
                case MostInKeeping(drink=drink):
                    result = Optimal(drink, 0.0, 0.0)
                    return Chosen(problem, problem, result, result, targets)
                case Stopped() as stopped:
                    return Chosen(problem, problem, stopped, stopped)
                case Impossible():
                    continue
    except TimeUpError:
        stopped = Stopped(None, math.inf, 0.0, interrupted=False)
        return Chosen(problem, problem, stopped, stopped)
    return None


def closest(few: Problem, drinks: Drinks, backend: Backend, clock: Clock) -> Chosen:
    """The drink that comes closest to the aims, whatever goes together."""
    found = best(few, backend, clock, drinks)
    return Chosen(found.problem, found.problem, found.optimum, found.chosen)


def _in_keeping(
    problem: Problem,
    sets: Sets,
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
    in_keeping: InKeeping,
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
    sets = in_keeping.sets(as_few, clock, most)
    chosen = _in_keeping(as_few, sets, backend, clock, targets)
    match chosen.result:
        case Impossible():  # of what is never poured together there are no sets
            return Chosen(few, held, found.optimum, found.chosen, targets)
        case Stopped(incumbent=None, interrupted=interrupted):
            drink, value = found.chosen.drink, found.chosen.value
            as_far = Stopped(drink, value, found.chosen.bound, interrupted)
            return Chosen(few, held, found.optimum, as_far, targets)
    return replace(chosen, problem=problem, searched=held, optimum=found.optimum)
