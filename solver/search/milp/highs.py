"""HiGHS on integer programs, through MathOpt: a solver that calculates in floats."""

from __future__ import annotations

import contextlib
import datetime
import math
import os
import sys
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from concurrent.futures import Future
from dataclasses import dataclass, replace
from threading import Thread
from typing import Any, Final

from solver.clock import Clock
from solver.search.milp.integer_program import (
    NO_GAP,
    CpSatProgram,
    Enough,
    Infeasible,
    IntTerms,
    Meanwhile,
    Program,
    ProgramOutOfTime,
    ProgramRow,
    SolvedProgram,
    with_fixed,
)
from solver.search.milp.load_ortools import math_opt

FLOAT_MARGIN: Final = 1e-6
"""Share by which sums in floats may be off: the solvers' own tolerance."""


@dataclass(frozen=True)
class FoundInFloats:
    """The best solution found, up to the solver's tolerances, and its lower bound."""

    values: tuple[float, ...]
    bound: float


class Highs:
    """HiGHS through MathOpt, on the same rows in natural units.

    Counted variables of its solution are fixed, and CP-SAT finds whole numbers for the rest. Its
    bound is lowered by a millionth, and believed.
    """

    def minimise(
        self,
        program: Program,
        goal: IntTerms,
        clock: Clock,
        hint: Sequence[int] = (),
        enough: Enough = NO_GAP,
    ) -> SolvedProgram | Infeasible | ProgramOutOfTime:
        """See `ProgramSolver`; `enough.work` is not used."""
        # What is measured is whole in ticks; in millilitres it need not be held to that.
        whole = {v for v, unit in enumerate(program.units) if unit == 1.0}
        found = solve_by_highs(
            program, goal, clock, whole, enough, dict(enumerate(hint)), program.meanwhile
        )
        if not isinstance(found, FoundInFloats):
            return found
        counted = {v: round(found.values[v]) for v in whole}
        match CpSatProgram().minimise(with_fixed(program, counted), goal, clock):
            case SolvedProgram() as exact:
                return SolvedProgram(exact.values, exact.value, found.bound)
            case _:
                return ProgramOutOfTime(found.bound)


def _in_natural_units(
    program: Program, goal: IntTerms, whole: Collection[int]
) -> tuple[Any, Sequence[Any], float]:
    """A MathOpt model with only the variables of `whole` integer; its variables, and the number by
    which the objective was divided."""
    mathopt = math_opt()

    model = mathopt.Model(name="nights")
    ends = zip(program.lows, program.highs, program.units, strict=True)
    variables = [
        model.add_variable(lb=low / unit, ub=high / unit, is_integer=v in whole)
        for v, (low, high, unit) in enumerate(ends)
    ]

    def natural(terms: IntTerms) -> tuple[Any, float]:
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
    return model, variables, scale


def _own_bound(result: Any, scale: float) -> float:
    """The lower bound of a solver that calculates in floats, lowered by a millionth.

    A millionth of the bound or, if that is more, of `scale`: the largest coefficient of the
    objective in natural units. A bound about 0 is known no better than the terms of its sum.
    """
    bound = float(result.termination.objective_bounds.dual_bound * scale)
    return bound - FLOAT_MARGIN * max(abs(bound), scale) if math.isfinite(bound) else bound


def solve_by_highs(
    program: Program,
    goal: IntTerms,
    clock: Clock,
    whole: Collection[int],
    enough: Enough,
    hint: Mapping[int, float] | None = None,
    meanwhile: Meanwhile | None = None,
) -> FoundInFloats | Infeasible | ProgramOutOfTime:
    """Solve by HiGHS with only the variables of `whole` integer.

    A solution of the program itself is none better: the bound holds for it, too.
    """
    mathopt = math_opt()

    model, variables, scale = _in_natural_units(program, goal, whole)
    if not clock.left:  # which HiGHS takes for an error
        return ProgramOutOfTime()
    parameters = mathopt.SolveParameters(
        time_limit=datetime.timedelta(seconds=clock.left),
        relative_gap_tolerance=enough.share,
        absolute_gap_tolerance=enough.within / scale,
    )
    known = {variables[v]: value / program.units[v] for v, value in (hint or {}).items()}
    begun = mathopt.SolutionHint(variable_values=known)
    # A linear program is solved faster from nothing: measured 2 s for 7 s with 11,000 variables.
    with_hint = mathopt.ModelSolveParameters(solution_hints=[begun] if hint and whole else [])

    def solve() -> Any:
        return mathopt.solve(
            model, mathopt.SolverType.HIGHS, params=parameters, model_params=with_hint
        )

    with _silenced():
        result = _left_behind(solve, clock, meanwhile)
    reason = result.termination.reason
    ruled_out = mathopt.TerminationReason
    if reason in {ruled_out.INFEASIBLE, ruled_out.INFEASIBLE_OR_UNBOUNDED}:
        return Infeasible()
    bound = _own_bound(result, scale)
    if not result.has_primal_feasible_solution():
        return ProgramOutOfTime(bound)
    found = result.variable_values(variables)
    pairs = zip(found, program.units, strict=True)
    return FoundInFloats(tuple(value * unit for value, unit in pairs), bound)


def any_at_most(
    program: Program, goal: IntTerms, most: int, clock: Clock, whole: Collection[int]
) -> FoundInFloats | Infeasible | ProgramOutOfTime:
    """Any solution of at most `most`, and a millionth (an objective cut), by HiGHS.

    Only the variables of `whole` are integer. `Infeasible` is HiGHS' word that every solution comes
    to more.
    """
    high = most + math.floor(FLOAT_MARGIN * abs(most))
    rows = [*program.rows, ProgramRow(goal, None, high)]
    return solve_by_highs(replace(program, rows=rows), {}, clock, whole, NO_GAP)


def _left_behind(solve: Callable[[], Any], clock: Clock, meanwhile: Meanwhile | None = None) -> Any:
    """The result of a solver that cannot be stopped; an interrupt leaves it running."""
    answer: Future[Any] = Future()

    def run() -> None:
        try:
            answer.set_result(solve())
        except Exception as error:
            answer.set_exception(error)

    Thread(target=run, daemon=True).start()
    if meanwhile is not None:
        meanwhile(answer.done)
    return clock.wait(answer)


@contextlib.contextmanager
def _silenced() -> Iterator[None]:
    """Send standard output nowhere: HiGHS 1.12 prints there whatever it is told."""
    sys.stdout.flush()
    kept = os.dup(1)
    nowhere = os.open(os.devnull, os.O_WRONLY)
    try:
        os.dup2(nowhere, 1)
        yield
    finally:
        os.dup2(kept, 1)
        os.close(kept)
        os.close(nowhere)
