"""The Pareto front of a small problem by enumeration: the best drink of each set of bottles."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import numpy as np

from solver.clock import Clock
from solver.explain.pareto_front import FrontPoint
from solver.measures import Measure
from solver.search.enumeration.meet_in_the_middle import MOST_LISTED
from solver.search.enumeration.pour_vectors import Ints
from solver.search.exact_evaluator import measures_of_drinks
from solver.search.minimise import Drinks
from solver.search.problem import Drink, Floats, Problem

AT_ONCE = 1 << 21
"""Amounts that are evaluated in one sweep: some sixteen megabytes."""


def front_by_enumeration(
    problem: Problem, drinks: Drinks, first: Measure, loss: Callable[[Drink], float | None],
    clock: Clock,
) -> list[FrontPoint[Drink]] | None:  # fmt: skip
    """The efficient drinks of a problem by a measure and by `loss`, by rising loss.

    `loss` depends on the bottles alone, and is None for a drink that does not count. `drinks` are
    those of the same candidates. None where there are more than `MOST_LISTED` drinks.

    Raises:
        TimeUpError: there was no time to look at everything.
    """
    halves = drinks.halves(clock)
    rows = halves.every(problem, MOST_LISTED, clock) if halves else None
    if rows is None:
        return None
    kept: list[FrontPoint[Drink]] = []
    for point in sorted(_of_bottles(problem, drinks, rows, first, loss), key=_by_loss):
        if not kept or point.first < kept[-1].first:
            kept.append(point)
    return kept


def _of_bottles(
    problem: Problem, drinks: Drinks, rows: Ints, first: Measure,
    loss: Callable[[Drink], float | None],
) -> Iterator[FrontPoint[Drink]]:  # fmt: skip
    """Of every set of bottles the drink with the least of the measure."""
    values = _values(problem, drinks, rows, first)
    order = np.argsort(values, kind="stable")
    bottles = np.sort(np.append(drinks.picks.candidate, -1)[rows[order]], axis=1)
    _, least = np.unique(bottles, axis=0, return_index=True)
    for row in order[least].tolist():
        drink = drinks.picks.drink(rows[row])
        lost = loss(drink)
        if lost is not None:
            yield FrontPoint(float(values[row]), lost, drink)


def _values(problem: Problem, drinks: Drinks, rows: Ints, first: Measure) -> Floats:
    """The measure of drinks by their picks, exactly, shape (drinks,)."""
    values = np.zeros(len(rows))
    batch = max(1, AT_ONCE // max(1, len(problem.candidates)))
    for at in range(0, len(rows), batch):
        amounts = drinks.picks.amounts_of(rows[at : at + batch], problem)
        values[at : at + batch] = measures_of_drinks(problem, amounts, (first,))[first.name]
    return values


def _by_loss(point: FrontPoint[Drink]) -> tuple[float, float]:
    return point.second, point.first
