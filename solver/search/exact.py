"""The exact evaluator: what a drink is, which limits it breaks, how far from the aims it is.

Only this module may call a drink feasible. It evaluates whole arrays of drinks at once, so that a
test can compare the search with every drink there is.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from solver.measures import OF_POURS, Form, Measure
from solver.mixture import COLUMNS
from solver.mixture.drink import Drink as Mixed
from solver.mixture.drink import finish, finished_volume_ml
from solver.mixture.numeric import ratio
from solver.search.problem import (
    Candidate,
    Drink,
    Floats,
    Limit,
    PartRule,
    Problem,
)

RELATIVE_TOLERANCE = 1e-9
"""Slack of a comparison with a limit: far above rounding error, far below what anybody measures."""
LEAST_BOUND = 1e-3
"""Upper limits below this have the slack of this value: rounding leaves a trace of what is not
there at all."""


@dataclass(frozen=True)
class Evaluation:
    """Measures and distance of n drinks: each array has shape (n,)."""

    values: dict[str, Floats]
    off_aim: Floats
    feasible: npt.NDArray[np.bool_]

    def of(self, goal: Measure | None) -> Floats:
        """The goal's value; None is the distance from the aims."""
        return self.off_aim if goal is None else self.values[goal.name]


def evaluate(problem: Problem, amounts: Floats) -> Evaluation:
    """Evaluate drinks given as units of each candidate, shape (n, candidates).

    The measures follow from the finished drink; `feasible` covers limits, parts and choices, and
    that what is asked about is known.
    """
    poured = amounts > 0
    values = measure(problem, amounts, problem.named)
    feasible = _structure_holds(problem, amounts, poured)
    for each in problem.named:
        feasible &= ~np.isnan(values[each.name])
    for limit in problem.limits:
        feasible &= within(limit, values[limit.measure.name])
    return Evaluation(values, off_aim(problem, values), feasible)


def mixed(problem: Problem, amounts: Floats) -> Mixed:
    """The drinks before ice and in the glass, shape (n,), from units of each candidate."""
    return finish(*_stages(problem, amounts), problem.curve)


def _stages(problem: Problem, amounts: Floats) -> tuple[Floats, Floats]:
    """The compositions that meet the ice and that top it, each of shape (n, columns)."""
    first = np.where(problem.first_stage, amounts, 0.0) @ problem.compositions
    top = np.where(problem.first_stage, 0.0, amounts) @ problem.compositions
    return first, top


def measure(problem: Problem, amounts: Floats, named: Iterable[Measure]) -> dict[str, Floats]:
    """The named measures and the finished volume, by name; each array has shape (n,).

    A cost is NaN where a price is not known.
    """
    volume = finished_volume_ml(*_stages(problem, amounts), problem.curve)
    total = amounts @ problem.compositions
    values = {"volume": volume}
    for each in named:
        if each.form is Form.COST:
            values[each.name] = np.where(amounts > 0, amounts * problem.costs, 0.0).sum(axis=-1)
        elif each.form is Form.COUNT:
            values[each.name] = (amounts > 0).sum(axis=-1).astype(float)
        elif each.form in OF_POURS:
            values[each.name] = _of_pours(problem, each, amounts)
        elif each.form is not Form.VOLUME:
            values[each.name] = from_totals(each, total, volume)
    return values


def _of_pours(problem: Problem, each: Measure, amounts: Floats) -> Floats:
    """A measure that is the sum of what each pour counts by itself, shape (n,)."""
    columns = [
        counted(candidate, each)(amount)
        for candidate, amount in zip(problem.candidates, np.moveaxis(amounts, -1, 0), strict=True)
    ]
    return np.asarray(sum(columns, np.zeros(amounts.shape[:-1])))


def counted(candidate: Candidate, each: Measure) -> Callable[[Floats], Floats]:
    """The function from amounts of a candidate to what they add to a measure of pours."""
    if each.form is Form.CHARACTER:
        share = candidate.carried(each)
        return lambda amounts: np.asarray(share * amounts)
    if each.form is Form.CHANGES:
        return candidate.former.changes
    return candidate.former.shift if each.form is Form.SHIFT else candidate.odd


def from_totals(each: Measure, total: Floats, volume_ml: Floats) -> Floats:
    """A measure that is read from one column of totals, shape (..., columns)."""
    amount = each.factor * total[..., COLUMNS.index(each.column)]
    return amount if each.form is Form.TOTAL else ratio(100.0 * amount, volume_ml)


def off_aim(problem: Problem, values: dict[str, Floats]) -> Floats:
    """Sum over the aims of the distance in noticeable differences."""
    distance = np.zeros_like(values["volume"])
    for aim in problem.aims:
        distance += aim.off(values[aim.measure.name])
    return distance


def within(limit: Limit, value: Floats) -> npt.NDArray[np.bool_]:
    """Whether `value` keeps `limit`, to a relative 1e-9."""
    holds = np.ones(np.shape(value), dtype=bool)
    if limit.low is not None:
        holds &= value >= limit.low - RELATIVE_TOLERANCE * abs(limit.low)
    if limit.high is not None:
        holds &= value <= limit.high + RELATIVE_TOLERANCE * max(abs(limit.high), LEAST_BOUND)
    return holds


def _structure_holds(
    problem: Problem, amounts: Floats, poured: npt.NDArray[np.bool_]
) -> npt.NDArray[np.bool_]:
    """Part counts and totals, choices, and no ingredient in two parts."""
    holds: npt.NDArray[np.bool_] = np.asarray(amounts.any(axis=-1))
    part_of = np.array([candidate.part for candidate in problem.candidates])
    for index, part in enumerate(problem.parts):
        mine = part_of == index
        count = poured[..., mine].sum(axis=-1)
        holds &= (count >= part.count_low) & (count <= part.count_high)
        holds &= total_holds(part, amounts[..., mine].sum(axis=-1), count)
    for choice in problem.choices:
        count = poured[..., sorted(choice.members)].sum(axis=-1)
        holds &= count >= choice.low
        if choice.high is not None:
            holds &= count <= choice.high
    if problem.equal:
        holds &= _equal(problem, amounts[..., np.isin(part_of, sorted(problem.equal))])
    for members in by_ingredient(problem).values():
        if len(members) > 1:
            holds &= poured[..., members].sum(axis=-1) <= 1
    return holds


def _equal(problem: Problem, amounts: Floats) -> npt.NDArray[np.bool_]:
    """Whether all that is poured, shape (..., candidates), is poured in the same amount."""
    level, end = problem.level_of(amounts), len(problem.levels)
    most = np.where(amounts > 0, level, -1).max(axis=-1, initial=-1)
    least = np.where(amounts > 0, level, end).min(axis=-1, initial=end)
    return np.asarray(most <= least)


def kept_total(part: PartRule) -> tuple[float, float]:
    """Least and most of a part that is filled, with what rounding may take and add."""
    low = 0.0 if part.total_low is None else part.total_low * (1 - RELATIVE_TOLERANCE)
    high = np.inf if part.total_high is None else part.total_high * (1 + RELATIVE_TOLERANCE)
    return low, high


def total_holds(
    part: PartRule, total: Floats, count: npt.NDArray[np.int64]
) -> npt.NDArray[np.bool_]:
    """Whether `total` of `count` ingredients together keep the rule of a part, of their shape."""
    low, high = kept_total(part)
    return np.asarray(((total >= low) | (count == 0)) & (total <= high))


def kept_limits(problem: Problem, drink: Drink, limits: Sequence[Limit]) -> frozenset[Limit]:
    """Which of some limits a drink keeps, whatever those of the problem are."""
    values = evaluate_one(replace(problem, limits=tuple(limits)), drink).values
    return frozenset(limit for limit in limits if within(limit, values[limit.measure.name])[0])


def by_ingredient(problem: Problem) -> dict[str, list[int]]:
    """The candidates of each ingredient: it may be poured in one part only."""
    found: dict[str, list[int]] = {}
    for index, candidate in enumerate(problem.candidates):
        found.setdefault(candidate.ingredient, []).append(index)
    return found


def evaluate_one(problem: Problem, drink: Drink) -> Evaluation:
    """`evaluate` for a single drink; arrays of shape (1,)."""
    return evaluate(problem, problem.amounts(drink)[np.newaxis, :])
