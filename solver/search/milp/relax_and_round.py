"""Solve with the few variables integer that decide most, then round all others.

Which bottles are bought depends on how many of each drink there are, hardly on the night that has
them. So the relaxation in which only the numbers of drinks are integer (`Program.leads`) has few
choices and almost the bound of the whole program, and its solution is rounded: a rounding heuristic
as RENS (Berthold, Mathematical Programming Computation 6, 2014), with the variables named by
whoever wrote the program.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from solver.clock import Clock
from solver.search.milp.highs import in_floats
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
"""Share of the allowed gap that the relaxation may use."""
Parts = tuple[float, float]
FIRST: Final[Parts] = 0.5, 0.1
"""Share of the time for the linear relaxation, and of what is left for rounding it."""
SECOND: Final[Parts] = 0.8, 0.6
"""The same for the relaxation with integer leads."""
LEAST_SHARE: Final = 0.002
ROUNDING: Final = Enough(share=0.001, work=0.5)
_NEAR: Final = 1e-5
"""Distance from a whole number within which a float counts as one."""


def roughly(
    program: Program, goal: Terms, clock: Clock, enough: Enough, hint: Sequence[int] = ()
) -> SolvedProgram | ProgramOutOfTime:
    """A solution by rounding, with a bound that holds for the whole program.

    If the program has a `finish`, the linear relaxation, which is soon solved, is rounded first and
    its result is where the relaxation with integer leads begins. `hint` is a solution, if any.
    """
    if program.finish is None:
        return _of_view(program, goal, clock, SECOND, program.leads, enough, hint)
    first = _of_view(program, goal, clock, FIRST, (), enough, hint)
    begun = first.values if isinstance(first, SolvedProgram) else hint
    second = _of_view(program, goal, clock, SECOND, program.leads, enough, begun)
    return better_of(first, second)


def _of_view(
    program: Program,
    goal: Terms,
    clock: Clock,
    parts: Parts,
    whole: Sequence[int],
    enough: Enough,
    hint: Sequence[int],
) -> SolvedProgram | ProgramOutOfTime:
    """Solve with only `whole` integer and round the result; its bound holds for the program."""
    given_up = Enough(share=max(LEAST_SHARE, TIGHTER * enough.share))
    time = clock.within(parts[0] * clock.left)
    rough = in_floats(program, goal, time, set(whole), given_up, dict(enumerate(hint)))
    if isinstance(rough, Infeasible):  # floats that rule all out are not believed
        return ProgramOutOfTime()
    if isinstance(rough, ProgramOutOfTime):
        return rough
    values: Sequence[float] = rough.values
    found: SolvedProgram | None = None
    for freer in _steps(program, rough.values, clock.within(parts[1] * clock.left)):
        match _solved(freer, goal, clock, values):
            case SolvedProgram() as found:
                values = found.values
    if found is None:
        return ProgramOutOfTime(rough.bound)
    return SolvedProgram(found.values, found.value, rough.bound)


def better_of(
    first: SolvedProgram | ProgramOutOfTime, second: SolvedProgram | ProgramOutOfTime
) -> SolvedProgram | ProgramOutOfTime:
    """The better solution of two results, with the better bound."""
    bound = max(first.bound, second.bound)
    found = [each for each in (first, second) if isinstance(each, SolvedProgram)]
    if not found:
        return ProgramOutOfTime(bound)
    best = min(found, key=lambda each: each.value)
    return SolvedProgram(best.values, best.value, bound)


def _steps(program: Program, values: Sequence[float], clock: Clock) -> Iterator[Program]:
    """Yield programs around a relaxation's solution, each with more solutions than the last."""
    settled = rounded(program, values)
    if program.finish is not None:
        about = {v: round(values[v]) for v in program.leads} | settled
        yield with_fixed(program, program.finish(about, clock))
    else:
        yield with_fixed(program, settled)
        yield _near(program, values)


def _solved(
    program: Program, goal: Terms, clock: Clock, hint: Sequence[float]
) -> SolvedProgram | Infeasible | ProgramOutOfTime:
    return CpSatProgram().minimise(program, goal, clock, [round(v) for v in hint], ROUNDING)


def rounded(program: Program, values: Sequence[float]) -> dict[int, int]:
    """Integers for the variables that follow, each rounded up or down; each group keeps its sum.

    What is left of a sum goes to those most behind in the groups so far (Tijdeman, The chairman
    assignment problem, Discrete Mathematics 32, 1980).
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
    """The program with every variable that follows within one of its value in `values`."""
    lows, highs = list(program.lows), list(program.highs)
    for v in (v for group in program.follows for v in group):
        lows[v] = max(lows[v], math.floor(values[v] + _NEAR))
        highs[v] = min(highs[v], math.ceil(values[v] - _NEAR))
    return replace(program, lows=lows, highs=highs)
