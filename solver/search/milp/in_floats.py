"""HiGHS on a linear program in whole numbers: a solver that calculates in floats."""

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
from solver.search.milp.compiled import math_opt
from solver.search.milp.integer_program import (
    EXACT,
    CpSatProgram,
    Enough,
    Infeasible,
    Meanwhile,
    Program,
    ProgramOutOfTime,
    ProgramRow,
    SolvedProgram,
    Terms,
    with_fixed,
)

MARGIN: Final = 1e-6
"""Share by which sums in floats may be off: the solvers' own tolerance."""


@dataclass(frozen=True)
class FoundInFloats:
    """The best found, about: a value for every variable; no other comes below `bound`."""

    values: tuple[float, ...]
    bound: float


class Highs:
    """HiGHS through MathOpt, on the same rows in natural units.

    It calculates in floats, so what it finds is brought to whole numbers by CP-SAT, with all that
    is counted fixed; its bound is its own word, less a millionth.
    """

    def minimise(
        self,
        program: Program,
        goal: Terms,
        clock: Clock,
        hint: Sequence[int] = (),
        enough: Enough = EXACT,
        meanwhile: Meanwhile | None = None,
    ) -> SolvedProgram | Infeasible | ProgramOutOfTime:
        """See `Solver`; `enough.work` is not used."""
        # What is measured is whole in ticks; in millilitres it need not be held to that.
        whole = {v for v, unit in enumerate(program.units) if unit == 1.0}
        found = in_floats(program, goal, clock, whole, enough, dict(enumerate(hint)), meanwhile)
        if not isinstance(found, FoundInFloats):
            return found
        counted = {v: round(found.values[v]) for v in whole}
        match CpSatProgram().minimise(with_fixed(program, counted), goal, clock):
            case SolvedProgram() as exact:
                return SolvedProgram(exact.values, exact.value, found.bound)
            case _:
                return ProgramOutOfTime(found.bound)


def _in_natural_units(
    program: Program, goal: Terms, whole: Collection[int]
) -> tuple[Any, Sequence[Any], float]:
    """A model in which those of `whole` are, its variables, and what its goal was divided by."""
    mathopt = math_opt()

    model = mathopt.Model(name="nights")
    ends = zip(program.lows, program.highs, program.units, strict=True)
    variables = [
        model.add_variable(lb=low / unit, ub=high / unit, is_integer=v in whole)
        for v, (low, high, unit) in enumerate(ends)
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
    return model, variables, scale


def _own_bound(result: Any, scale: float) -> float:
    """What a solver that calculates in floats says no value comes below, less a millionth.

    Of the bound, or of `scale` where that is more: the largest share that one unit of a variable
    has of the goal. What is about 0 is known no better than what else is added up.
    """
    bound = float(result.termination.objective_bounds.dual_bound * scale)
    return bound - MARGIN * max(abs(bound), scale) if math.isfinite(bound) else bound


def in_floats(
    program: Program,
    goal: Terms,
    clock: Clock,
    whole: Collection[int],
    enough: Enough,
    hint: Mapping[int, float] | None = None,
    meanwhile: Meanwhile | None = None,
) -> FoundInFloats | Infeasible | ProgramOutOfTime:
    """What HiGHS says where only the variables of `whole` are held to whole numbers."""
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


def no_more_than(
    program: Program, goal: Terms, most: int, clock: Clock, whole: Collection[int]
) -> FoundInFloats | Infeasible | ProgramOutOfTime:
    """What HiGHS finds that comes to no more than `most`, and a millionth.

    So what it rules out comes to more, as far as its bounds are believed.
    """
    high = most + math.floor(MARGIN * abs(most))
    rows = [*program.rows, ProgramRow(goal, None, high)]
    return in_floats(replace(program, rows=rows), {}, clock, whole, EXACT)


def _left_behind(solve: Callable[[], Any], clock: Clock, meanwhile: Meanwhile | None = None) -> Any:
    """What a solver says that cannot be stopped: an interrupt does not wait until it ends."""
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
    """HiGHS 1.12 prints on standard output, whatever it is told; a document stands there."""
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
