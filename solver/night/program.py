"""A linear program in whole numbers, and two solvers that take it: CP-SAT, and HiGHS to compare.

As in `solver.search.milp.cpsat`: one worker, a fixed seed, the compiled layer under `cp_model`, and
`presolve_inclusion_work_limit = 0` for soundness.
"""

from __future__ import annotations

import datetime
from collections.abc import Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from typing import Any, Protocol

from solver.search.clock import Clock

Terms = Mapping[int, int]
"""A sum: the coefficient of each variable, by its position."""
_NO_END = 2**62


@dataclass(frozen=True)
class Row:
    """`low <= Σ coefficient · variable <= high`; None for no end."""

    terms: Terms
    low: int | None
    high: int | None


@dataclass
class Program:
    """Variables with their ends, and rows. `units` are what a solver of floats divides them by."""

    lows: list[int] = field(default_factory=list)
    highs: list[int] = field(default_factory=list)
    units: list[float] = field(default_factory=list)
    rows: list[Row] = field(default_factory=list)

    def whole(self, low: int, high: int, unit: float = 1.0) -> int:
        """A new variable; returns its position."""
        self.lows.append(low)
        self.highs.append(high)
        self.units.append(unit)
        return len(self.lows) - 1

    def between(self, terms: Terms, low: int | None, high: int | None) -> None:
        """Add a row."""
        self.rows.append(Row({v: c for v, c in terms.items() if c}, low, high))


@dataclass(frozen=True)
class Solved:
    """The best found: a value for every variable; no other comes below `bound`."""

    values: tuple[int, ...]
    value: int
    bound: float


@dataclass(frozen=True)
class Infeasible:
    """The proof that nothing keeps all rows."""


@dataclass(frozen=True)
class OutOfTime:
    """Nothing was found, and nothing proven."""


class Solver(Protocol):
    """Minimises a sum over what keeps every row."""

    def minimise(
        self,
        program: Program,
        goal: Terms,
        clock: Clock,
        hint: Sequence[int] = (),
        within: int = 0,
    ) -> Solved | Infeasible | OutOfTime:
        """The best within the clock, or what is worse by `within` at most.

        `hint` are values for the first variables. Raises KeyboardInterrupt where the user stops it.
        """
        ...


def total(terms: Terms, values: Sequence[int]) -> int:
    """The sum at some values."""
    return sum(coefficient * values[v] for v, coefficient in terms.items())


class CpSat:
    """CP-SAT: whole numbers throughout."""

    def minimise(
        self,
        program: Program,
        goal: Terms,
        clock: Clock,
        hint: Sequence[int] = (),
        within: int = 0,
    ) -> Solved | Infeasible | OutOfTime:
        """See `Solver`."""
        from ortools.sat.python import cp_model_helper as cmh

        model: Any = cmh.CpModelProto()
        for low, high in zip(program.lows, program.highs, strict=True):
            model.variables.add().domain.extend([low, high])
        for row in program.rows:
            linear = model.constraints.add().linear
            linear.vars.extend(list(row.terms))
            linear.coeffs.extend(list(row.terms.values()))
            ends = (-_NO_END if row.low is None else row.low, _NO_END if row.high is None else row.high)
            linear.domain.extend(list(ends))
        model.objective.vars.extend(list(goal))
        model.objective.coeffs.extend(list(goal.values()))
        for variable, value in enumerate(hint):
            model.solution_hint.vars.append(variable)
            model.solution_hint.values.append(value)
        parameters = cmh.SatParameters()
        parameters.num_workers = 1
        parameters.random_seed = 1
        parameters.presolve_inclusion_work_limit = 0
        parameters.max_time_in_seconds = clock.left
        parameters.absolute_gap_limit = float(within)
        parameters.catch_sigint_signal = False  # else it would swallow an interrupt
        wrapper: Any = cmh.SolveWrapper()
        wrapper.set_parameters(parameters)
        response = _beside(wrapper, model)
        status = response.status.name
        if status == "INFEASIBLE":
            return Infeasible()
        if status == "UNKNOWN":
            return OutOfTime()
        if status not in {"OPTIMAL", "FEASIBLE"}:
            message = f"CP-SAT refused the plan's rows: {status} {response.solution_info}"
            raise RuntimeError(message)
        values = tuple(int(response.solution[k]) for k in range(len(program.lows)))
        return Solved(values, total(goal, values), response.best_objective_bound)


def _beside(wrapper: Any, model: Any) -> Any:
    """The response; the solver runs beside the main thread, which alone sees an interrupt."""
    with ThreadPoolExecutor(max_workers=1) as beside:
        running = beside.submit(wrapper.solve, model)
        try:
            return running.result()
        except KeyboardInterrupt:
            wrapper.stop_search()
            running.result()
            raise


class Highs:
    """HiGHS through MathOpt, on the same rows in natural units: a second opinion."""

    def minimise(
        self,
        program: Program,
        goal: Terms,
        clock: Clock,
        hint: Sequence[int] = (),
        within: int = 0,
    ) -> Solved | Infeasible | OutOfTime:
        """See `Solver`; `hint` is not used."""
        del hint
        from ortools.math_opt.python import mathopt

        model = mathopt.Model(name="nights")
        variables = [
            # What is measured is whole in ticks; in millilitres it need not be held to that.
            model.add_variable(lb=low / unit, ub=high / unit, is_integer=unit == 1.0)
            for low, high, unit in zip(program.lows, program.highs, program.units, strict=True)
        ]

        def natural(terms: Terms) -> tuple[Any, float]:
            own = {v: c * program.units[v] for v, c in terms.items()}
            largest = max(map(abs, own.values()), default=1.0)
            return mathopt.fast_sum(variables[v] * (c / largest) for v, c in own.items()), largest

        for row in program.rows:
            expression, largest = natural(row.terms)
            if row.low is not None:
                model.add_linear_constraint(expression >= row.low / largest)
            if row.high is not None:
                model.add_linear_constraint(expression <= row.high / largest)
        expression, scale = natural(goal)
        model.minimize(expression)
        parameters = mathopt.SolveParameters(
            time_limit=datetime.timedelta(seconds=clock.left),
            relative_gap_tolerance=0.0,
            absolute_gap_tolerance=within / scale,
        )
        result = mathopt.solve(model, mathopt.SolverType.HIGHS, params=parameters)
        reason = result.termination.reason
        ruled_out = mathopt.TerminationReason
        if reason in {ruled_out.INFEASIBLE, ruled_out.INFEASIBLE_OR_UNBOUNDED}:
            return Infeasible()
        if not result.has_primal_feasible_solution():
            return OutOfTime()
        natural_values = result.variable_values(variables)
        values = tuple(
            round(value * unit) for value, unit in zip(natural_values, program.units, strict=True)
        )
        bound = result.termination.objective_bounds.dual_bound * scale
        return Solved(values, total(goal, values), bound)
