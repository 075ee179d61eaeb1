"""HiGHS or SCIP, through MathOpt, as a second opinion on the same rows.

Floating-point solvers were seen to return false bounds on rows of integers up to 1e10, so every
variable goes in natural units (millilitres, noticeable differences) and every row is divided by its
largest coefficient.
"""

from __future__ import annotations

import datetime
from typing import TYPE_CHECKING

from solver.search.milp.backend import Effort, Outcome, SolverStatus
from solver.search.milp.load_ortools import math_opt
from solver.search.milp.relaxation import Relaxation

if TYPE_CHECKING:
    from ortools.math_opt.python import mathopt


class MathOpt:
    """A mixed-integer solver that ships with OR-Tools: "highs" or "scip"."""

    def __init__(self, solver: str = "highs") -> None:
        self.solver = solver

    @property
    def name(self) -> str:
        """Name and version, for the proof line."""
        import ortools

        return f"{self.solver} in OR-Tools {ortools.__version__}"

    def minimise(self, relaxation: Relaxation, effort: Effort) -> Outcome:
        """Minimise the relaxation's objective."""
        mathopt = math_opt()

        model, variables = _model(relaxation)
        kind = {"highs": mathopt.SolverType.HIGHS, "scip": mathopt.SolverType.GSCIP}[self.solver]
        parameters = mathopt.SolveParameters(
            time_limit=datetime.timedelta(seconds=effort.seconds), relative_gap_tolerance=0.0
        )
        result = mathopt.solve(model, kind, params=parameters)
        return _outcome(relaxation, variables, result)


def _model(relaxation: Relaxation) -> tuple[mathopt.Model, list[mathopt.Variable]]:
    mathopt = math_opt()

    model = mathopt.Model(name="outer model")
    units = [variable.scale or 1.0 for variable in relaxation.rows.variables]
    variables = [
        model.add_variable(lb=v.low / unit, ub=v.high / unit, is_integer=not v.scale, name=v.name)
        for v, unit in zip(relaxation.rows.variables, units, strict=True)
    ]
    for row in relaxation.rows.rows:
        natural = [c * units[v] for v, c in zip(row.variables, row.coefficients, strict=True)]
        largest = max((abs(c) for c in natural), default=1.0)
        terms = (variables[v] * (c / largest) for v, c in zip(row.variables, natural, strict=True))
        model.add_linear_constraint(mathopt.fast_sum(terms) <= row.upper / largest)
    model.minimize(variables[relaxation.objective])
    return model, variables


def _outcome(
    relaxation: Relaxation, variables: list[mathopt.Variable], result: mathopt.SolveResult
) -> Outcome:
    mathopt = math_opt()

    reason = result.termination.reason
    bound = result.termination.objective_bounds.dual_bound
    if reason in {
        mathopt.TerminationReason.INFEASIBLE,
        mathopt.TerminationReason.INFEASIBLE_OR_UNBOUNDED,
    }:
        return Outcome(SolverStatus.INFEASIBLE, None, float("inf"))
    if not result.has_primal_feasible_solution():
        return Outcome(SolverStatus.UNKNOWN, None, bound)
    values = result.variable_values(variables[: len(relaxation.picks)])
    decisions = tuple(round(value) for value in values)
    optimal = reason is mathopt.TerminationReason.OPTIMAL
    return Outcome(SolverStatus.OPTIMAL if optimal else SolverStatus.FEASIBLE, decisions, bound)
