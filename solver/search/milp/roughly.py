"""First the few numbers that decide most, then all others by rounding.

Which bottles are bought is decided by how many of each drink there are, hardly by which night has
them. So a program in which only these are whole has few choices, a bound that is almost that of the
whole program, and an answer of which the rest is rounded, each number up or down: what
relaxation-induced and rounding heuristics do (Berthold, RENS, Mathematical Programming
Computation 2014), with the numbers named by whoever wrote the program.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
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
)

TIGHTER: Final = 0.4
"""The part of what is given up for time that the rough program may give up."""
SOLVING: Final = 0.9
"""The part of the time that the rough program may take; the rest is for rounding."""
LEAST_SHARE: Final = 0.002
ROUNDING: Final = Enough(share=0.001, work=0.5)
_NEAR: Final = 1e-5
"""What a solver of floats takes for a whole number."""


def roughly(
    program: Program,
    goal: Terms,
    clock: Clock,
    hint: Sequence[int],
    enough: Enough,
) -> SolvedProgram | ProgramOutOfTime:
    """A plan by the leading numbers, with a bound that holds for the whole program."""
    given_up = Enough(share=max(LEAST_SHARE, TIGHTER * enough.share))
    time = clock.within(SOLVING * clock.left)
    rough = in_floats(program, goal, time, set(program.leads), given_up)
    match rough:
        case Infeasible():  # floats are not believed: who sees the whole has the last word
            return ProgramOutOfTime()
        case ProgramOutOfTime():
            return rough
    rounded = CpSatProgram().minimise(
        _near(program, rough), goal, clock, [round(value) for value in rough.values], ROUNDING
    )
    if isinstance(rounded, SolvedProgram):
        return SolvedProgram(rounded.values, rounded.value, rough.bound)
    return ProgramOutOfTime(rough.bound)


def _near(program: Program, rough: FoundInFloats) -> Program:
    """The program in which what follows is rounded up or down."""
    lows, highs = list(program.lows), list(program.highs)
    for v in program.follows:
        lows[v] = max(lows[v], math.floor(rough.values[v] + _NEAR))
        highs[v] = min(highs[v], math.ceil(rough.values[v] - _NEAR))
    return Program(lows, highs, program.units, program.rows)
