"""Small linear programs in whole numbers, solved by CP-SAT.

As in `solver.search.milp.cpsat`: one worker, a fixed seed, the compiled layer under `cp_model`, and
`presolve_inclusion_work_limit = 0` for soundness.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Final

from solver.search.clock import Clock, TimeUpError

SCALE: Final = 1e7
"""Largest coefficient of a row once it is made whole."""
_NO_END: Final = 2**62


@dataclass(frozen=True)
class Row:
    """A linear limit: coefficient times variable, added up, is at most `most`."""

    coefficients: tuple[float, ...]
    most: float


def minimise(
    costs: Sequence[float], rows: Sequence[Row], highs: Sequence[int], clock: Clock
) -> tuple[int, ...] | None:
    """Whole numbers from 0 to `highs` that keep all rows at the least cost; None where none do.

    Coefficients are rounded to seven digits of the largest in their row. On a handful of variables
    the solver takes milliseconds.

    Raises:
        TimeUpError: it did not finish.
    """
    clock.check()
    from ortools.sat.python import cp_model_helper as cmh

    model: Any = cmh.CpModelProto()
    for high in highs:
        model.variables.add().domain.extend([0, high])
    for row in rows:
        linear = model.constraints.add().linear
        whole, most = _whole(row)
        for variable, coefficient in enumerate(whole):
            if coefficient:
                linear.vars.append(variable)
                linear.coeffs.append(coefficient)
        linear.domain.extend([-_NO_END, most])
    for variable, cost in enumerate(_whole(Row(tuple(costs), 0.0))[0]):
        model.objective.vars.append(variable)
        model.objective.coeffs.append(cost)
    wrapper: Any = cmh.SolveWrapper()
    parameters = cmh.SatParameters()
    parameters.num_workers = 1
    parameters.random_seed = 1
    parameters.presolve_inclusion_work_limit = 0
    parameters.max_time_in_seconds = clock.left
    parameters.catch_sigint_signal = False  # else it would swallow an interrupt
    wrapper.set_parameters(parameters)
    response = wrapper.solve(model)
    status = response.status.name
    if status == "INFEASIBLE":
        return None
    if status in {"FEASIBLE", "UNKNOWN"}:
        raise TimeUpError
    if status != "OPTIMAL":
        message = f"CP-SAT refused the rows: {status} {response.solution_info}"
        raise RuntimeError(message)
    return tuple(int(response.solution[k]) for k in range(len(highs)))


def _whole(row: Row) -> tuple[list[int], int]:
    largest = max(map(abs, row.coefficients), default=0.0)
    if largest == 0:
        return [0] * len(row.coefficients), 0 if row.most >= 0 else -1
    factor = SCALE / largest
    most = max(-_NO_END, min(_NO_END, round(row.most * factor)))
    return [round(c * factor) for c in row.coefficients], most
