"""The best set by a solver of rows: the second opinion on `solver.search.sets.best_first`."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from solver.clock import TimeUpError
from solver.search.milp.backend import Backend, Effort, Outcome, SolverStatus
from solver.search.milp.outward_rows import Rows
from solver.search.milp.relaxation import Relaxation
from solver.search.milp.set_rows import SetModel
from solver.search.sets.seats import Seats
from solver.search.sets.set_question import FoundSet, IngredientSet, SetQuestion


def best_set(
    question: SetQuestion, backend: Backend, effort: Effort, but: Sequence[IngredientSet] = ()
) -> FoundSet | None:
    """A set that is worth most, `but` for some; None where there is none.

    Raises:
        TimeUpError: the effort ended before a proof.
    """
    seats = Seats.of(question)
    if not seats.can_be_taken:
        return None
    rows = set_rows(seats, but)
    outcome: Outcome = backend.minimise(rows, effort)
    if outcome.status is SolverStatus.INFEASIBLE:
        return None
    if outcome.status is not SolverStatus.OPTIMAL or outcome.decisions is None:
        raise TimeUpError
    ingredients = seats.ingredient_set(tuple(np.flatnonzero(outcome.decisions).tolist()))
    worth = question.worth(ingredients)
    if worth is None:
        message = f"{backend.name} found {ingredients}, which is no set of the question"
        raise RuntimeError(message)
    return FoundSet(worth, ingredients)


def set_rows(seats: Seats, but: Sequence[IngredientSet] = ()) -> Relaxation:
    """The rows that every set satisfies, and nothing else; decisions are options of seats."""
    rows = Rows()
    model = SetModel(seats, rows, [rows.decision(f"option {o}") for o in range(len(seats.worth))])
    for ingredients in but:
        model.forbid(ingredients)
    objective = model.loss()
    picks = tuple(zip(seats.seat.tolist(), range(len(seats.worth)), strict=True))
    return Relaxation(model.rows, picks, objective, 1.0)
