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
from collections.abc import Collection, Sequence
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
from solver.search.milp.roughly import better_of

Known = SolvedProgram | ProgramOutOfTime


WHOLE: Final = Enough(share=0.001, work=0.5)
"""How near CP-SAT comes where most is settled."""
ROUGH: Final = Enough(share=0.01)
"""How near HiGHS comes."""
NEAR: Final = Enough(share=0.2)
"""How near the first choice is to its bound where it is likely to be the best."""
FIRST: Final = 0.6
"""The part of the time that is left for each of the first steps."""


class Narrowing:
    """CP-SAT as long as it is quick, then HiGHS by choices, with CP-SAT for what is whole.

    Measured on menus of 7 to 28 drinks and nine nights, in seconds of a processor: CP-SAT was 10 to
    60 % off after 10, with one worker and with eight, HiGHS on all that is whole came within 1 %
    after 8 to 15, and this after 1 to 5 on most and 10 to 15 on some. Where the clock does not end
    it, it says the same from run to run.
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
    """What is known, and better: by what is chosen first, then by what comes nearer.

    First only the choices are whole, which is quick, and often so good that only the proof is left;
    then all that leads.
    """
    for whole in (program.choices, program.leads):
        if not _is_near(known, enough):
            known = _chosen(program, goal, clock, known, set(whole))
        if _is_near(known, NEAR):
            known = _nearer(program, goal, clock.within(FIRST * clock.left), enough, known)
    before: int | None = None
    while isinstance(known, SolvedProgram) and known.value != before and clock.left:
        before = known.value
        known = _nearer(program, goal, clock, enough, known)
    return known


def _is_near(known: Known, enough: Enough) -> bool:
    return isinstance(known, SolvedProgram) and enough.of(known)


def _chosen(
    program: Program, goal: Terms, clock: Clock, known: Known, whole: Collection[int]
) -> Known:
    """With what a program of floats chooses, in which only some variables are whole."""
    rough = in_floats(program, goal, clock.within(FIRST * clock.left), whole, ROUGH)
    if isinstance(rough, Infeasible):  # floats that rule all out are not believed
        return known
    known = better_of(known, ProgramOutOfTime(rough.bound))
    if isinstance(rough, ProgramOutOfTime):
        return known
    chosen = with_fixed(program, {v: round(rough.values[v]) for v in program.choices})
    all_ = {*program.leads, *program.switches}
    settled = in_floats(chosen, goal, clock.within(FIRST * clock.left), all_, ROUGH)
    if not isinstance(settled, FoundInFloats):
        return known
    return _made_whole(program, goal, clock, known, settled.values)


def _nearer(program: Program, goal: Terms, clock: Clock, enough: Enough, known: Known) -> Known:
    """With what is better by more than is cared for, or with the proof that nothing is."""
    if not isinstance(known, SolvedProgram) or enough.of(known):
        return known
    most = known.value - max(enough.within, math.floor(enough.share * abs(known.value))) - 1
    match no_more_than(program, goal, most, clock, {*program.leads, *program.switches}):
        case Infeasible():  # believed: CP-SAT has no answer in that time, and a proof names HiGHS
            return better_of(known, ProgramOutOfTime(most + 1))
        case FoundInFloats() as found:
            return _made_whole(program, goal, clock, known, found.values)
        case _:
            return known


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
