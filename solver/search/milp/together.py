"""Solvers of a linear program in whole numbers that help each other."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from solver.clock import Clock
from solver.search.milp.in_floats import Highs
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
)
from solver.search.milp.roughly import better_of, roughly


class Both:
    """CP-SAT as long as it is quick; then HiGHS roughly, and in full where nothing else finishes
    rough answers. It cannot be stopped.

    Measured on seven nights with 25 drinks and 80 bottles, in seconds of a processor: CP-SAT alone
    was 30 % off the cheapest after 6, HiGHS on the whole program had nothing better, and roughly it
    was proven to 1 % after 3. On a bar like that of the demonstration CP-SAT ends in tenths.
    """

    WORK: ClassVar[float] = 0.5
    """Deterministic seconds of CP-SAT, each about two of a processor."""
    MANY: ClassVar[int] = 600
    """Variables of programs that CP-SAT hardly ever settles: with a hint it is not asked."""

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
        first: SolvedProgram | Infeasible | ProgramOutOfTime = ProgramOutOfTime()
        if len(program.lows) <= self.MANY or not (hint and goal):
            quick = Enough(enough.within, work=self.WORK)
            first = CpSatProgram().minimise(program, goal, clock, hint, quick)
        if isinstance(first, Infeasible) or (isinstance(first, SolvedProgram) and enough.of(first)):
            return first
        if goal:
            first = better_of(first, roughly(program, goal, clock, enough, hint))
        if isinstance(first, SolvedProgram) and (program.finish is not None or enough.of(first)):
            return first
        best = first.values if isinstance(first, SolvedProgram) else hint
        second = Highs().minimise(program, goal, clock, best, enough, meanwhile)
        if not isinstance(second, Infeasible):
            return better_of(first, second)
        if isinstance(first, SolvedProgram):
            return first
        # Floats may rule out what is close to the edge: CP-SAT has the last word.
        return CpSatProgram().minimise(program, goal, clock, hint)
