"""First the few numbers that decide most, then all others by rounding.

Which bottles are bought is decided by how many of each drink there are, hardly by which night has
them. So a program in which only these are whole has few choices, and a bound that is almost that of
the whole program. The rest of its answer is rounded, each number up or down, in the best way there
is (relaxation enforced neighbourhood search; Berthold, RENS, Mathematical Programming Computation
2014), with the numbers named by whoever wrote the program.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from solver.clock import Clock
from solver.search.milp.in_floats import in_floats
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

TIGHTER: Final = 0.3
"""The part of what is given up for time that the rough program may give up."""
MANY: Final = 2_000
"""Variables of programs of which HiGHS hardly gets beyond the root with numbers held whole."""
Parts = tuple[float, float]
RELAXED: Final[Parts] = 0.5, 0.1
"""Of a linear relaxation: the part of the time to solve it, and of the rest to finish a plan."""
LEADING: Final[Parts] = 0.8, 0.6
"""The same where the leading numbers are whole."""
LEAST_SHARE: Final = 0.002
ROUNDING: Final = Enough(share=0.001, work=0.5)
_NEAR: Final = 1e-5
"""What a solver of floats takes for a whole number."""


def roughly(
    program: Program, goal: Terms, clock: Clock, enough: Enough, hint: Sequence[int] = ()
) -> SolvedProgram | ProgramOutOfTime:
    """A plan by the leading numbers, with a bound that holds for the whole program.

    Of a long plan the linear relaxation is known soon; where `program.finish` makes a plan of it,
    the rough program begins with that. `hint` is a whole plan, if any.
    """
    relaxed: SolvedProgram | ProgramOutOfTime = ProgramOutOfTime()
    if program.finish is not None and len(program.lows) > MANY:
        relaxed = _of_view(program, goal, clock, RELAXED, (), enough, hint)
    begun = relaxed.values if isinstance(relaxed, SolvedProgram) else hint
    leading = _of_view(program, goal, clock, LEADING, program.leads, enough, begun)
    return better_of(relaxed, leading)


def _of_view(
    program: Program,
    goal: Terms,
    clock: Clock,
    parts: Parts,
    whole: Sequence[int],
    enough: Enough,
    hint: Sequence[int],
) -> SolvedProgram | ProgramOutOfTime:
    """A plan made of an answer in which only some variables are whole, and the answer's bound."""
    given_up = Enough(share=max(LEAST_SHARE, TIGHTER * enough.share))
    time = clock.within(parts[0] * clock.left)
    rough = in_floats(program, goal, time, set(whole), given_up, dict(enumerate(hint)))
    if isinstance(rough, Infeasible):  # floats that rule all out are not believed
        return ProgramOutOfTime()
    if isinstance(rough, ProgramOutOfTime):
        return rough
    near: SolvedProgram | ProgramOutOfTime = ProgramOutOfTime()
    if whole:  # else no bottle is settled, and near by there is too much to choose from
        near = nearest(program, goal, clock.within(clock.left / 2), rough.values)
    found = better_of(near, ProgramOutOfTime(rough.bound))
    if program.finish is None or (isinstance(found, SolvedProgram) and enough.of(found)):
        return found
    values = found.values if isinstance(found, SolvedProgram) else rounded(program, rough.values)
    finished = program.finish(dict(enumerate(values)), clock.within(parts[1] * clock.left))
    return better_of(found, _best(with_fixed(program, finished), goal, clock, ()))


def nearest(
    program: Program, goal: Terms, clock: Clock, values: Sequence[float]
) -> SolvedProgram | ProgramOutOfTime:
    """The best in which each number that follows is rounded up or down (RENS, see above)."""
    lows, highs = list(program.lows), list(program.highs)
    for v in (v for group in program.follows for v in group):
        lows[v] = max(lows[v], math.floor(values[v] + _NEAR))
        highs[v] = min(highs[v], math.ceil(values[v] - _NEAR))
    near = replace(program, lows=lows, highs=highs)
    return _best(near, goal, clock, rounded(program, values))


def _best(
    restricted: Program, goal: Terms, clock: Clock, hint: Sequence[int]
) -> SolvedProgram | ProgramOutOfTime:
    """The best of a part of all plans: its bound says nothing of the others, and is left out."""
    found = CpSatProgram().minimise(restricted, goal, clock, hint, ROUNDING)
    return (
        replace(found, bound=-math.inf) if isinstance(found, SolvedProgram) else ProgramOutOfTime()
    )


def better_of(
    first: SolvedProgram | ProgramOutOfTime, second: SolvedProgram | ProgramOutOfTime
) -> SolvedProgram | ProgramOutOfTime:
    """The better of two answers, with the better of both bounds."""
    bound = max(first.bound, second.bound)
    found = [each for each in (first, second) if isinstance(each, SolvedProgram)]
    if not found:
        return ProgramOutOfTime(bound)
    best = min(found, key=lambda each: each.value)
    return SolvedProgram(best.values, best.value, bound)


def rounded(program: Program, values: Sequence[float]) -> list[int]:
    """Whole numbers for all; of what follows each group keeps its sum.

    Who is furthest behind in the groups so far gets the odd one, as in apportionment over time
    (Tijdeman, The chairman assignment problem, Discrete Mathematics 1980).
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
