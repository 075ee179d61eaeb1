"""A linear program in whole numbers, what a solver says of it, and CP-SAT, which says it exactly.

Plans of nights and additions to a batch are such programs; a drink is one only after a relaxation
(`solver.search.milp.relaxation`).
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any, Protocol

from solver.clock import Clock
from solver.search.milp.compiled import cp_sat
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
    """Variables with their ends, and rows. `units` are what a solver of floats divides them by.

    `leads` are few variables that decide most; `follows` are many that can be rounded once those
    are known, in groups of one length that each keep their sum (`solver.search.milp.roughly`);
    `finish` improves such values until a clock ends, and says what others go well with them. Of
    those that lead `choices` are yes or no, and `switches` say when what is chosen is on
    (`solver.search.milp.narrowing`). A program need not have any.
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

    @property
    def whole_bound(self) -> int:
        """The bound as a whole number, never above the value, and never below nothing."""
        if self.bound < 0:
            return min(self.value, 0) if math.isinf(self.bound) else math.ceil(self.bound)
        return min(self.value, math.ceil(self.bound - 1e-9 * max(1.0, abs(self.bound))))


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
    return replace(program, lows=lows, highs=highs)


def restricted(program: Program, values: Mapping[int, int]) -> tuple[Program, list[int]]:
    """The program of the variables that are not given values, and which those are.

    Rows of nothing else are left out, whether they hold or not.
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


def total(terms: Terms, values: Sequence[int]) -> int:
    """The sum at some values."""
    return sum(coefficient * values[v] for v, coefficient in terms.items())


def plus(*sums: Terms) -> dict[int, int]:
    """The sum of sums."""
    whole: dict[int, int] = defaultdict(int)
    for terms in sums:
        for variable, coefficient in terms.items():
            whole[variable] += coefficient
    return {variable: coefficient for variable, coefficient in whole.items() if coefficient}


def times(terms: Terms, factor: int) -> dict[int, int]:
    """A sum times a factor."""
    return {variable: factor * coefficient for variable, coefficient in terms.items()}


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
