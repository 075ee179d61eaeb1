"""Linear programs in whole numbers, results of solving them, and CP-SAT, which is exact.

Plans of nights, menus, and additions to a batch are such programs. A drink is not linear: it has
relaxations instead (`solver.search.milp.relaxation`).
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any, Protocol

from solver.clock import Clock
from solver.search.milp.cpsat import solved, steady_parameters
from solver.search.milp.load_ortools import cp_sat
from solver.search.tolerances import INTEGER_SLACK

Meanwhile = Callable[[Callable[[], bool]], None]
"""Work to do beside a solver that cannot be interrupted; it is given a function that says whether
the solver has ended."""
IntTerms = Mapping[int, int]
"""A linear expression: the coefficient of each variable, by its position."""
_NO_END = 2**62


@dataclass(frozen=True)
class ProgramRow:
    """`low <= Σ coefficient · variable <= high`; None for no end."""

    terms: IntTerms
    low: int | None
    high: int | None


@dataclass
class Program:
    """Integer variables from `lows` to `highs`, and rows.

    `units` are the natural units of the variables: a solver that calculates in floats divides each
    by its own. Hints for solvers, all of them optional:

    - `leads`: the few variables that determine most of the objective;
    - `follows`: many variables that can be rounded once those are known, in groups of equal length,
      each of which keeps its sum (`relax_and_round`);
    - `finish`: improves rounded values of `follows` until a clock ends, and returns them with the
      values of further variables that fit;
    - `choices`: yes-or-no variables among `leads`; `switches`: yes-or-no variables that say when
      what was chosen is on (`choices_first`);
    - `meanwhile`: what to do beside HiGHS, which cannot be interrupted.
    """

    lows: list[int] = field(default_factory=list)
    highs: list[int] = field(default_factory=list)
    units: list[float] = field(default_factory=list)
    rows: list[ProgramRow] = field(default_factory=list)
    leads: list[int] = field(default_factory=list)
    follows: list[list[int]] = field(default_factory=list)
    choices: list[int] = field(default_factory=list)
    switches: list[int] = field(default_factory=list)
    finish: Callable[[Mapping[int, int], Clock], Mapping[int, int]] | None = None
    meanwhile: Meanwhile | None = None

    def whole(self, low: int, high: int, unit: float = 1.0) -> int:
        """Add an integer variable; returns its position."""
        self.lows.append(low)
        self.highs.append(high)
        self.units.append(unit)
        return len(self.lows) - 1

    def between(self, terms: IntTerms, low: int | None, high: int | None) -> None:
        """Add the row `low <= Σ terms <= high`; None for no end."""
        self.rows.append(ProgramRow({v: c for v, c in terms.items() if c}, low, high))


@dataclass(frozen=True)
class SolvedProgram:
    """The best solution found, its value, and a lower bound on the value of any solution."""

    values: tuple[int, ...]
    value: int
    bound: float

    @property
    def whole_bound(self) -> int:
        """The bound rounded up to a whole number; at most the value, and 0 if none is known."""
        if self.bound < 0:
            return min(self.value, 0) if math.isinf(self.bound) else math.ceil(self.bound)
        return min(self.value, math.ceil(self.bound - INTEGER_SLACK * max(1.0, abs(self.bound))))


@dataclass(frozen=True)
class Infeasible:
    """Proven to have no solution."""


@dataclass(frozen=True)
class ProgramOutOfTime:
    """No solution was found in time; `bound` is a lower bound on the value of any."""

    bound: float = -math.inf


@dataclass(frozen=True)
class Enough:
    """When a solver may stop: at an absolute gap of `within`, or a relative one of `share`.

    `work` bounds its effort, in CP-SAT's deterministic seconds.
    """

    within: int = 0
    share: float = 0.0
    work: float = 1e9

    def of(self, found: SolvedProgram) -> bool:
        """Whether the gap of a solution is small enough."""
        return found.value - found.bound <= max(self.within, self.share * abs(found.value))


NO_GAP = Enough()


class ProgramSolver(Protocol):
    """Solves integer programs. The door for solvers of plans and menus."""

    def minimise(
        self,
        program: Program,
        goal: IntTerms,
        clock: Clock,
        hint: Sequence[int] = (),
        enough: Enough = NO_GAP,
    ) -> SolvedProgram | Infeasible | ProgramOutOfTime:
        """Minimise `goal` within the clock, to the gap of `enough`.

        `hint` are values for the first variables.

        Raises:
            KeyboardInterrupt: the user stopped it.
        """
        ...


def with_fixed(program: Program, values: Mapping[int, int]) -> Program:
    """The program with some variables fixed."""
    lows = [values.get(v, low) for v, low in enumerate(program.lows)]
    highs = [values.get(v, high) for v, high in enumerate(program.highs)]
    return replace(program, lows=lows, highs=highs)


def restricted(program: Program, values: Mapping[int, int]) -> tuple[Program, list[int]]:
    """The program of the variables without given values, and their positions in `program`.

    Rows of fixed variables alone are left out, whether they hold or not.
    """
    free = [v for v in range(len(program.lows)) if v not in values]
    at = {v: position for position, v in enumerate(free)}
    own = Program(
        [program.lows[v] for v in free],
        [program.highs[v] for v in free],
        [program.units[v] for v in free],
        leads=[at[v] for v in program.leads if v in at],
        follows=[[at[v] for v in group if v in at] for group in program.follows],
    )
    for row in program.rows:
        terms = {at[v]: c for v, c in row.terms.items() if v in at}
        if terms:
            known = sum(c * values[v] for v, c in row.terms.items() if v not in at)
            low, high = row.low, row.high
            own.between(
                terms,
                None if low is None else low - known,
                None if high is None else high - known,
            )
    return own, free


def total(terms: IntTerms, values: Sequence[int]) -> int:
    """The value of an expression."""
    return sum(coefficient * values[v] for v, coefficient in terms.items())


def plus(*sums: IntTerms) -> dict[int, int]:
    """The sum of sums."""
    whole: dict[int, int] = defaultdict(int)
    for terms in sums:
        for variable, coefficient in terms.items():
            whole[variable] += coefficient
    return {variable: coefficient for variable, coefficient in whole.items() if coefficient}


def times(terms: IntTerms, factor: int) -> dict[int, int]:
    """A sum times a factor."""
    return {variable: factor * coefficient for variable, coefficient in terms.items()}


@dataclass(frozen=True)
class CpSatProgram:
    """CP-SAT, exact. With one worker it gives the same answer to the same program."""

    workers: int = 1

    def minimise(
        self,
        program: Program,
        goal: IntTerms,
        clock: Clock,
        hint: Sequence[int] = (),
        enough: Enough = NO_GAP,
    ) -> SolvedProgram | Infeasible | ProgramOutOfTime:
        """See `ProgramSolver`."""
        cmh = cp_sat()

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
