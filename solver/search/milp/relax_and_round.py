"""Solve with the few variables integer that decide most, then round all others.

Which bottles are bought depends on how many of each drink there are, hardly on the night that has
them. So the relaxation in which only the numbers of drinks are integer (`Program.leads`) has few
choices, and almost the bound of the whole program. CP-SAT then finds the best solution with every
other number rounded up or down (relaxation enforced neighbourhood search; Berthold, RENS,
Mathematical Programming Computation 6, 2014); whoever writes a program says which are rounded.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from solver.clock import Clock
from solver.search.milp.highs import solve_by_highs
from solver.search.milp.integer_program import (
    CpSatProgram,
    Enough,
    Infeasible,
    IntTerms,
    Program,
    ProgramOutOfTime,
    SolvedProgram,
    with_fixed,
)

TIGHTER: Final = 0.3
"""Share of the allowed gap that the relaxation may use."""
MANY_VARIABLES: Final = 2_000
"""Variables of a program with integer leads beyond which HiGHS hardly gets past the root node."""
Parts = tuple[float, float]
RELAXED: Final[Parts] = 0.5, 0.1
"""Share of the time for the linear relaxation, and of what is left for `Program.finish`."""
LEADING: Final[Parts] = 0.8, 0.6
"""The same for the relaxation with integer leads."""
LEAST_SHARE: Final = 0.002
ROUNDING_GAP: Final = Enough(share=0.001, work=0.5)
_NEAR: Final = 1e-5
"""Distance from a whole number within which a float counts as one."""


def relax_and_round(
    program: Program, goal: IntTerms, clock: Clock, enough: Enough, hint: Sequence[int] = ()
) -> SolvedProgram | ProgramOutOfTime:
    """A solution by rounding, with a bound that holds for the whole program.

    Of a large program with a `finish` the linear relaxation, which is soon solved, is rounded
    first, and is where the relaxation with integer leads begins. `hint` is a solution, if any.
    """
    relaxed: SolvedProgram | ProgramOutOfTime = ProgramOutOfTime()
    if program.finish is not None and len(program.lows) > MANY_VARIABLES:
        relaxed = _of_view(program, goal, clock, RELAXED, (), enough, hint)
    begun = relaxed.values if isinstance(relaxed, SolvedProgram) else hint
    leading = _of_view(program, goal, clock, LEADING, program.leads, enough, begun)
    return better_of(relaxed, leading)


def _of_view(
    program: Program,
    goal: IntTerms,
    clock: Clock,
    parts: Parts,
    whole: Sequence[int],
    enough: Enough,
    hint: Sequence[int],
) -> SolvedProgram | ProgramOutOfTime:
    """Solve with only `whole` integer and round the result; its bound holds for the program."""
    given_up = Enough(share=max(LEAST_SHARE, TIGHTER * enough.share))
    time = clock.within(parts[0] * clock.left)
    rough = solve_by_highs(program, goal, time, set(whole), given_up, dict(enumerate(hint)))
    if isinstance(rough, Infeasible):  # floats that rule all out are not believed
        return ProgramOutOfTime()
    if isinstance(rough, ProgramOutOfTime):
        return rough
    near: SolvedProgram | ProgramOutOfTime = ProgramOutOfTime()
    if whole:  # else no bottle is settled, and near by there is too much to choose from
        near = best_rounding(program, goal, clock.within(clock.left / 2), rough.values)
    found = better_of(near, ProgramOutOfTime(rough.bound))
    if program.finish is None or (isinstance(found, SolvedProgram) and enough.of(found)):
        return found
    values = found.values if isinstance(found, SolvedProgram) else round_all(program, rough.values)
    finished = program.finish(dict(enumerate(values)), clock.within(parts[1] * clock.left))
    return better_of(found, _best(with_fixed(program, finished), goal, clock, ()))


def best_rounding(
    program: Program, goal: IntTerms, clock: Clock, values: Sequence[float]
) -> SolvedProgram | ProgramOutOfTime:
    """The best solution with each number that follows rounded up or down (RENS)."""
    lows, highs = list(program.lows), list(program.highs)
    for v in (v for group in program.follows for v in group):
        lows[v] = max(lows[v], math.floor(values[v] + _NEAR))
        highs[v] = min(highs[v], math.ceil(values[v] - _NEAR))
    near = replace(program, lows=lows, highs=highs)
    return _best(near, goal, clock, round_all(program, values))


def _best(
    restricted: Program, goal: IntTerms, clock: Clock, hint: Sequence[int]
) -> SolvedProgram | ProgramOutOfTime:
    """The best solution of a restriction, without its bound: that does not hold for the program."""
    found = CpSatProgram().minimise(restricted, goal, clock, hint, ROUNDING_GAP)
    return (
        replace(found, bound=-math.inf) if isinstance(found, SolvedProgram) else ProgramOutOfTime()
    )


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


def round_all(program: Program, values: Sequence[float]) -> list[int]:
    """Integers for all variables; those that follow are rounded so that each group keeps its sum.

    What is left of a sum goes to those most behind in the groups so far (Tijdeman, The chairman
    assignment problem, Discrete Mathematics 32, 1980).
    """
    settled = [round(value) for value in values]
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
        for v, count in zip(group, whole, strict=True):
            settled[v] = count
    return settled
