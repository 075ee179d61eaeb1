"""What is chosen first, then what comes nearer to the best than what is found, until nothing does.

Where most is a choice among many, as of a menu, bound and plan are both far off for long. So a
program of floats first holds to whole numbers only what decides most, which says what is chosen;
with that settled the rest is soon found. Then the question is no more what is best, but whether
anything is better by more than what nobody cares for: HiGHS answers that in a fraction of the time
in which it finds and proves the best (objective cuts, as in Fischetti and Monaci, Proximity search,
Journal of Heuristics 2014). Whatever is found starts the question anew.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import ClassVar, Final

from solver.clock import Clock
from solver.search.milp.in_floats import FoundInFloats, in_floats, no_more_than
from solver.search.milp.integer_program import (
    EXACT,
    CpSatProgram,
    Enough,
    Infeasible,
    Meanwhile,
    Program,
    ProgramOutOfTime,
    SolvedProgram,
    Terms,
    with_fixed,
)
from solver.search.milp.together import better_of

Known = SolvedProgram | ProgramOutOfTime


WHOLE: Final = Enough(share=0.001, work=0.5)
"""How near CP-SAT comes where most is settled."""
ROUGH: Final = Enough(share=0.004)
"""How near HiGHS comes."""
FIRST: Final = 0.6
"""The part of the time for what is chosen first."""


class Narrowing:
    """CP-SAT as long as it is quick, then HiGHS by choices, with CP-SAT for what is whole.

    Measured on menus of 7 to 28 drinks and nine nights, in seconds of a processor: CP-SAT was 10 to
    60 % off after 10, with one worker and with eight, HiGHS on all that is whole came within 1 %
    after 8 to 15, and this after 2 to 10, or 15 once in seven. Where the clock does not end it, it
    says the same from run to run.
    """

    WORK: ClassVar[float] = 0.3
    """Deterministic seconds of CP-SAT on the whole, each about two of a processor."""
    WORKERS: ClassVar[int] = 8
    """Of CP-SAT, where only a yes or no is asked: who finds it first does not matter."""

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
        if not goal:
            return CpSatProgram(self.WORKERS).minimise(program, goal, clock, hint)
        return narrowed(program, goal, clock, enough, first)


def narrowed(program: Program, goal: Terms, clock: Clock, enough: Enough, known: Known) -> Known:
    """What is known, and better: by what is chosen first, then by what comes nearer."""
    known = _chosen(program, goal, clock, known)
    whole = {*program.leads, *program.switches}
    before: int | None = None
    while clock.left and isinstance(known, SolvedProgram) and not enough.of(known):
        if known.value == before:  # there is no time, or no such thing in whole numbers
            break
        before = known.value
        most = before - max(enough.within, math.floor(enough.share * abs(before))) - 1
        match no_more_than(program, goal, most, clock, whole):
            case Infeasible():
                known = better_of(known, ProgramOutOfTime(most + 1))
            case FoundInFloats() as found:
                known = _made_whole(program, goal, clock, known, found.values)
    return known


def _chosen(program: Program, goal: Terms, clock: Clock, known: Known) -> Known:
    """With what a program of floats chooses, in which only what leads is whole."""
    rough: FoundInFloats | Infeasible | ProgramOutOfTime = ProgramOutOfTime()
    for whole in (program.leads, program.choices):  # where the first take too long, the second
        rough = in_floats(program, goal, clock.within(FIRST * clock.left), set(whole), ROUGH)
        if isinstance(rough, Infeasible):  # floats that rule all out are not believed
            return known
        known = better_of(known, ProgramOutOfTime(rough.bound))
        if isinstance(rough, FoundInFloats):
            break
    if not isinstance(rough, FoundInFloats):
        return known
    chosen = with_fixed(program, {v: round(rough.values[v]) for v in program.choices})
    settled = in_floats(chosen, goal, clock, {*program.leads, *program.switches}, ROUGH)
    if not isinstance(settled, FoundInFloats):
        return known
    return _made_whole(program, goal, clock, known, settled.values)


def _made_whole(
    program: Program, goal: Terms, clock: Clock, known: Known, values: Sequence[float]
) -> Known:
    """With the best of what has the same on at the same times, or else the same choices."""
    hint = [round(value) for value in values]
    for kept in (program.switches, program.choices):
        fixed = with_fixed(program, {v: hint[v] for v in kept})
        found = CpSatProgram().minimise(fixed, goal, clock, hint, WHOLE)
        if isinstance(found, SolvedProgram):
            return better_of(known, SolvedProgram(found.values, found.value, -math.inf))
    return known
