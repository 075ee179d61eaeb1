"""First the few numbers that decide most, then all others by rounding.

Which bottles are bought is decided by how many of each drink there are, hardly by which night has
them. So a program in which only these are whole has few choices, a bound that is almost that of the
whole program, and an answer of which the rest is rounded, each number up or down: what
relaxation-induced and rounding heuristics do (Berthold, RENS, Mathematical Programming
Computation 2014), with the numbers named by whoever wrote the program.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from solver.clock import Clock
from solver.search.milp.in_floats import FoundInFloats, in_floats
from solver.search.milp.integer_program import (
    CpSatProgram,
    Enough,
    Infeasible,
    Program,
    ProgramOutOfTime,
    SolvedProgram,
    Terms,
    with_fixed,
)

TIGHTER: Final = 0.4
"""The part of what is given up for time that the rough program may give up."""
SOLVING: Final = 0.75
"""The part of the time that the rough program may take; the rest is for rounding."""
FINISHING: Final = 0.8
"""The part of that rest in which rounded values are improved."""
LEAST_SHARE: Final = 0.002
ROUNDING: Final = Enough(share=0.001, work=0.5)
_NEAR: Final = 1e-5
"""What a solver of floats takes for a whole number."""


def roughly(
    program: Program, goal: Terms, clock: Clock, enough: Enough
) -> SolvedProgram | ProgramOutOfTime:
    """A plan by the leading numbers, with a bound that holds for the whole program."""
    given_up = Enough(share=max(LEAST_SHARE, TIGHTER * enough.share))
    time = clock.within(SOLVING * clock.left)
    rough = in_floats(program, goal, time, set(program.leads), given_up)
    bound = -math.inf
    if isinstance(rough, ProgramOutOfTime):  # of what is long, fractions are better than nothing
        bound = rough.bound
        rough = in_floats(program, goal, clock, (), given_up)
    if not isinstance(rough, FoundInFloats):  # floats that rule all out are not believed
        return ProgramOutOfTime(bound)
    bound = max(bound, rough.bound)
    values: Sequence[float] = rough.values
    found: SolvedProgram | None = None
    for freer in _steps(program, rough.values, clock):
        match _solved(freer, goal, clock, values):
            case SolvedProgram() as found:
                values = found.values
    if found is None:
        return ProgramOutOfTime(bound)
    return SolvedProgram(found.values, found.value, bound)


def _steps(program: Program, values: Sequence[float], clock: Clock) -> Iterator[Program]:
    """Programs around the rough answer: just one plan, or each with more plans than the last."""
    settled = _rounded(program, values)
    if program.finish is not None:
        about = {v: round(values[v]) for v in program.leads} | settled
        yield with_fixed(program, program.finish(about, clock.within(FINISHING * clock.left)))
    else:
        yield with_fixed(program, settled)
        yield _near(program, values)


def _solved(
    program: Program, goal: Terms, clock: Clock, hint: Sequence[float]
) -> SolvedProgram | Infeasible | ProgramOutOfTime:
    return CpSatProgram().minimise(program, goal, clock, [round(v) for v in hint], ROUNDING)


def _rounded(program: Program, values: Sequence[float]) -> dict[int, int]:
    """Whole numbers for what follows, of which each group keeps its sum.

    Who is furthest behind in the groups so far gets the odd one, as in apportionment over time
    (Tijdeman, The chairman assignment problem, Discrete Mathematics 1980).
    """
    settled: dict[int, int] = {}
    behind = [0.0] * max(map(len, program.follows), default=0)
    for group in program.follows:
        whole = [math.floor(values[v] + _NEAR) for v in group]
        parts = [values[v] - low for v, low in zip(group, whole, strict=True)]
        behind = [late + part for late, part in zip(behind, parts, strict=True)]
        odd = [at for at, part in enumerate(parts) if part > _NEAR]
        missing = max(0, round(sum(values[v] for v in group)) - sum(whole))
        for at in sorted(odd, key=lambda at: -behind[at])[:missing]:
            whole[at] += 1
            behind[at] -= 1
        settled.update(zip(group, whole, strict=True))
    return settled


def _near(program: Program, values: Sequence[float]) -> Program:
    """The program in which what follows is rounded up or down, each as it likes."""
    lows, highs = list(program.lows), list(program.highs)
    for v in (v for group in program.follows for v in group):
        lows[v] = max(lows[v], math.floor(values[v] + _NEAR))
        highs[v] = min(highs[v], math.ceil(values[v] - _NEAR))
    return replace(program, lows=lows, highs=highs)
