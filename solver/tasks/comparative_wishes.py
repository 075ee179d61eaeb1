"""Wishes that compare with the drink served otherwise, such as one step drier."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

from solver.measures import MEASURES, compared_of
from solver.requests.request import ComparedStep, Request
from solver.search.exact_evaluator import measures_of_drinks
from solver.search.result import Impossible, Optimal, Stopped
from solver.tasks.subproblems import Subproblems


def with_step_targets(problems: Subproblems, request: Request) -> Request | Stopped:
    """The request with a target for every step that has none yet.

    Targets are relative to the drink served without any steps, for which `problems` is asked. If
    there is no such drink, the request is returned without steps, as it is impossible without them.
    Stopped if that drink is unknown.
    """
    if all(step.measure for step in request.steps):
        return request
    found = problems.choose()
    match found.result:
        case Optimal(drink=drink):
            pass
        case Impossible():
            return problems.asked.request
        case Stopped() as stopped:
            return stopped
    known = compared_of(MEASURES.values())
    compared = [known[step.word].measure for step in request.steps]
    values = measures_of_drinks(found.problem, found.problem.amounts(drink), compared)
    return with_targets(request, {name: float(value) for name, value in values.items()})


def with_targets(request: Request, served: Mapping[str, float]) -> Request:
    """The request with the targets of its steps; `served` maps measures to the values served."""
    known = compared_of(MEASURES.values())
    steps: list[ComparedStep] = []
    for step in request.steps:
        about, sign = known[step.word].measure, known[step.word].sign
        value = served[about.name]
        target = value + sign * step.count * about.tolerance(value)
        target = max(0.0, _beyond(target, sign, about.decimals))
        steps.append(replace(step, measure=about.name, sign=sign, target=target, served=value))
    return replace(request, steps=tuple(steps))


def _beyond(value: float, sign: float, decimals: int) -> float:
    """A target rounded to its decimals in the direction of the wish, so that it is no less."""
    scale = 10.0**decimals
    rounded = math.ceil(value * scale) if sign > 0 else math.floor(value * scale)
    return rounded / scale
