"""A linear program in whole numbers, and two solvers that take it: CP-SAT, and HiGHS to compare.

Plans of nights and additions to a batch are such programs; a drink is one only after a relaxation
(`solver.search.milp.relaxation`).
"""

from __future__ import annotations

import contextlib
import datetime
import math
import os
import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import Future
from dataclasses import dataclass, field
from threading import Thread
from typing import Any, ClassVar, Protocol

from solver.clock import Clock
from solver.search.milp.cpsat import solved, steady_parameters

Terms = Mapping[int, int]
"""A sum: the coefficient of each variable, by its position."""
_NO_END = 2**62


@dataclass(frozen=True)
class ProgramRow:
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
    rows: list[ProgramRow] = field(default_factory=list)

    def whole(self, low: int, high: int, unit: float = 1.0) -> int:
        """A new variable; returns its position."""
        self.lows.append(low)
        self.highs.append(high)
        self.units.append(unit)
        return len(self.lows) - 1

    def between(self, terms: Terms, low: int | None, high: int | None) -> None:
        """Add a row."""
        self.rows.append(ProgramRow({v: c for v, c in terms.items() if c}, low, high))


@dataclass(frozen=True)
class SolvedProgram:
    """The best found: a value for every variable; no other comes below `bound`."""

    values: tuple[int, ...]
    value: int
    bound: float


@dataclass(frozen=True)
class Infeasible:
    """The proof that nothing keeps all rows."""


@dataclass(frozen=True)
class ProgramOutOfTime:
    """Nothing was found; of what there may be, nothing comes below `bound`."""

    bound: float = -math.inf


@dataclass(frozen=True)
class Enough:
    """When a solver may stop: `within` of the best, or a `share` of the best.

    `work` is the most it may do, in CP-SAT's deterministic seconds.
    """

    within: int = 0
    share: float = 0.0
    work: float = 1e9

    def of(self, found: SolvedProgram) -> bool:
        """Whether what is found is good enough."""
        return found.value - found.bound <= max(self.within, self.share * abs(found.value))


EXACT = Enough()
Meanwhile = Callable[[Callable[[], bool]], None]
"""Something to do while a solver is at work that nobody can stop; it is told when that ended."""


class Solver(Protocol):
    """Minimises a sum over what keeps every row."""

    def minimise(
        self,
        program: Program,
        goal: Terms,
        clock: Clock,
        hint: Sequence[int] = (),
        enough: Enough = EXACT,
        meanwhile: Meanwhile | None = None,
    ) -> SolvedProgram | Infeasible | ProgramOutOfTime:
        """The best within the clock, or good enough.

        `hint` are values for the first variables; `meanwhile` is done beside a solver that cannot
        be stopped, if it comes to one. Raises KeyboardInterrupt where the user stops it.
        """
        ...


def with_fixed(program: Program, values: Mapping[int, int]) -> Program:
    """The program in which some variables have these values."""
    lows = [values.get(v, low) for v, low in enumerate(program.lows)]
    highs = [values.get(v, high) for v, high in enumerate(program.highs)]
    return Program(lows, highs, program.units, program.rows)


def total(terms: Terms, values: Sequence[int]) -> int:
    """The sum at some values."""
    return sum(coefficient * values[v] for v, coefficient in terms.items())


@dataclass(frozen=True)
class CpSatProgram:
    """CP-SAT: whole numbers throughout. With one worker, same program, same answer."""

    workers: int = 1

    def minimise(
        self,
        program: Program,
        goal: Terms,
        clock: Clock,
        hint: Sequence[int] = (),
        enough: Enough = EXACT,
        meanwhile: Meanwhile | None = None,
    ) -> SolvedProgram | Infeasible | ProgramOutOfTime:
        """See `Solver`; `meanwhile` is not used."""
        del meanwhile
        from ortools.sat.python import cp_model_helper as cmh

        model: Any = cmh.CpModelProto()
        for low, high in zip(program.lows, program.highs, strict=True):
            model.variables.add().domain.extend([low, high])
        for row in program.rows:
            linear = model.constraints.add().linear
            linear.vars.extend(list(row.terms))
            linear.coeffs.extend(list(row.terms.values()))
            ends = (
                -_NO_END if row.low is None else row.low,
                _NO_END if row.high is None else row.high,
            )
            linear.domain.extend(list(ends))
        model.objective.vars.extend(list(goal))
        model.objective.coeffs.extend(list(goal.values()))
        for variable, value in enumerate(hint):
            model.solution_hint.vars.append(variable)
            model.solution_hint.values.append(value)
        parameters = steady_parameters(clock.left, enough.work)
        parameters.num_workers = self.workers
        parameters.absolute_gap_limit = float(enough.within)
        parameters.relative_gap_limit = enough.share
        response, interrupted = solved(model, parameters, clock)
        if interrupted:
            raise KeyboardInterrupt
        status = response.status.name
        if status == "INFEASIBLE":
            return Infeasible()
        if status == "UNKNOWN":
            return ProgramOutOfTime()
        if status not in {"OPTIMAL", "FEASIBLE"}:
            message = f"CP-SAT refused the rows: {status} {response.solution_info}"
            raise RuntimeError(message)
        values = tuple(int(response.solution[k]) for k in range(len(program.lows)))
        return SolvedProgram(values, total(goal, values), response.best_objective_bound)


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
        """See `Solver`; `hint` and `enough.work` are not used."""
        del hint
        found = _in_floats(program, goal, clock, enough, meanwhile)
        if not isinstance(found, SolvedProgram):
            return found
        counted = {v: found.values[v] for v, unit in enumerate(program.units) if unit == 1.0}
        match CpSatProgram().minimise(with_fixed(program, counted), goal, clock):
            case SolvedProgram() as exact:
                return SolvedProgram(exact.values, exact.value, found.bound)
            case _:
                return ProgramOutOfTime(found.bound)


def _in_natural_units(
    program: Program, goal: Terms, *, whole: bool
) -> tuple[Any, Sequence[Any], float]:
    """A model, its variables, and what its goal was divided by."""
    from ortools.math_opt.python import mathopt

    model = mathopt.Model(name="nights")
    variables = [
        # What is measured is whole in ticks; in millilitres it need not be held to that.
        model.add_variable(lb=low / unit, ub=high / unit, is_integer=whole and unit == 1.0)
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
    return model, variables, scale


def linear_bound(program: Program, goal: Terms, clock: Clock) -> float:
    """What no value comes below, by GLOP on the linear relaxation, less a millionth.

    Of long plans it is there in a second, and better than what else is known by then.
    """
    from ortools.math_opt.python import mathopt

    model, _, scale = _in_natural_units(program, goal, whole=False)
    parameters = mathopt.SolveParameters(time_limit=datetime.timedelta(seconds=clock.left))
    result = _left_behind(
        lambda: mathopt.solve(model, mathopt.SolverType.GLOP, params=parameters), clock
    )
    if result.termination.reason is not mathopt.TerminationReason.OPTIMAL:
        return -math.inf
    return _own_bound(result, scale)


def _own_bound(result: Any, scale: float) -> float:
    """What a solver that calculates in floats says no value comes below, less a millionth."""
    bound = float(result.termination.objective_bounds.dual_bound * scale)
    return bound - 1e-6 * abs(bound) if math.isfinite(bound) else bound


def _in_floats(
    program: Program, goal: Terms, clock: Clock, enough: Enough, meanwhile: Meanwhile | None
) -> SolvedProgram | Infeasible | ProgramOutOfTime:
    from ortools.math_opt.python import mathopt

    model, variables, scale = _in_natural_units(program, goal, whole=True)
    parameters = mathopt.SolveParameters(
        time_limit=datetime.timedelta(seconds=clock.left),
        relative_gap_tolerance=enough.share,
        absolute_gap_tolerance=enough.within / scale,
    )
    with _silenced():
        result = _left_behind(
            lambda: mathopt.solve(model, mathopt.SolverType.HIGHS, params=parameters),
            clock,
            meanwhile,
        )
    reason = result.termination.reason
    ruled_out = mathopt.TerminationReason
    if reason in {ruled_out.INFEASIBLE, ruled_out.INFEASIBLE_OR_UNBOUNDED}:
        return Infeasible()
    bound = _own_bound(result, scale)
    if not result.has_primal_feasible_solution():
        return ProgramOutOfTime(bound)
    found = result.variable_values(variables)
    values = tuple(round(value * unit) for value, unit in zip(found, program.units, strict=True))
    return SolvedProgram(values, total(goal, values), bound)


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


class Both:
    """CP-SAT as long as it is quick, then HiGHS, which is better at many bottles and cannot stop.

    Measured on seven nights with 25 drinks and 80 bottles: CP-SAT alone was 30 % off the cheapest
    after 6 s, HiGHS 6 %; on a bar like that of the demonstration CP-SAT ends in tenths of a second.
    """

    WORK: ClassVar[float] = 1.0
    """Deterministic seconds of CP-SAT, about as many of a clock."""

    def minimise(
        self,
        program: Program,
        goal: Terms,
        clock: Clock,
        hint: Sequence[int] = (),
        enough: Enough = EXACT,
        meanwhile: Meanwhile | None = None,
    ) -> SolvedProgram | Infeasible | ProgramOutOfTime:
        """See `Solver`."""
        quick = Enough(enough.within, work=self.WORK)
        first = CpSatProgram().minimise(program, goal, clock, hint, quick)
        if isinstance(first, Infeasible) or (isinstance(first, SolvedProgram) and enough.of(first)):
            return first
        linear = linear_bound(program, goal, clock) if goal else -math.inf
        second = Highs().minimise(program, goal, clock, (), enough, meanwhile)
        match first, second:
            case SolvedProgram(), SolvedProgram():
                better = second if second.value < first.value else first
                bound = max(first.bound, second.bound, linear)
                return SolvedProgram(better.values, better.value, bound)
            case SolvedProgram(), ProgramOutOfTime():
                return SolvedProgram(
                    first.values, first.value, max(first.bound, second.bound, linear)
                )
            case SolvedProgram(), _:
                return first
            case _, Infeasible():
                # Floats may rule out what is close to the edge: CP-SAT has the last word.
                return CpSatProgram().minimise(program, goal, clock, hint)
            case _, ProgramOutOfTime():
                return ProgramOutOfTime(max(second.bound, linear))
            case _:
                return second


class Widening:
    """CP-SAT as long as it is quick, then all its ways of searching side by side.

    For programs in which most is a choice among many, as of a menu: measured on one of 44 drinks
    and ten nights, one worker was 9 % off its bound after 8 s and eight of them 2 %, on two cores,
    while HiGHS had found nothing after 15 s. What several workers find differs from run to run.
    """

    WORK: ClassVar[float] = 1.0
    """Deterministic seconds of one worker."""
    WORKERS: ClassVar[int] = 8

    def minimise(
        self,
        program: Program,
        goal: Terms,
        clock: Clock,
        hint: Sequence[int] = (),
        enough: Enough = EXACT,
        meanwhile: Meanwhile | None = None,
    ) -> SolvedProgram | Infeasible | ProgramOutOfTime:
        """See `Solver`; `meanwhile` is not used."""
        del meanwhile
        quick = Enough(enough.within, enough.share, self.WORK)
        first = CpSatProgram().minimise(program, goal, clock, hint, quick)
        if isinstance(first, Infeasible) or (isinstance(first, SolvedProgram) and enough.of(first)):
            return first
        found = first.values if isinstance(first, SolvedProgram) else hint
        match CpSatProgram(self.WORKERS).minimise(program, goal, clock, found, enough):
            case SolvedProgram() as second if isinstance(first, SolvedProgram):
                return SolvedProgram(second.values, second.value, max(first.bound, second.bound))
            case ProgramOutOfTime():
                return first
            case second:
                return second
