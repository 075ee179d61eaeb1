"""CP-SAT first, HiGHS where CP-SAT is slow: the solver of plans."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from solver.clock import Clock
from solver.search.milp.highs import Highs
from solver.search.milp.integer_program import (
    NO_GAP,
    CpSatProgram,
    Enough,
    Infeasible,
    IntTerms,
    Program,
    ProgramOutOfTime,
    SolvedProgram,
)
from solver.search.milp.relax_and_round import better_of, relax_and_round


class CpSatThenHighs:
    """CP-SAT as long as it is quick; then HiGHS on a relaxation, rounded; then HiGHS on all.

    HiGHS on all is left out where the program finishes rounded results itself, or the gap is small
    enough.

    Measured on seven nights with 25 drinks and 80 bottles, in seconds of a processor: CP-SAT alone
    was 30 % off the cheapest after 6, HiGHS on the whole program had nothing better, and roughly it
    was proven to 1 % after 3. On a bar like that of the demonstration CP-SAT ends in tenths.
    """

    WORK: ClassVar[float] = 0.5
    """Deterministic seconds of CP-SAT, each about two of a processor."""
    MANY: ClassVar[int] = 600
    """Programs with more variables CP-SAT hardly ever solves: given a hint, it is not asked."""

    def minimise(
        self,
        program: Program,
        goal: IntTerms,
        clock: Clock,
        hint: Sequence[int] = (),
        enough: Enough = NO_GAP,
    ) -> SolvedProgram | Infeasible | ProgramOutOfTime:
        """See `ProgramSolver`."""
        first: SolvedProgram | Infeasible | ProgramOutOfTime = ProgramOutOfTime()
        if len(program.lows) <= self.MANY or not (hint and goal):
            quick = Enough(enough.within, work=self.WORK)
            first = CpSatProgram().minimise(program, goal, clock, hint, quick)
        if isinstance(first, Infeasible) or (isinstance(first, SolvedProgram) and enough.of(first)):
            return first
        if goal:
            first = better_of(first, relax_and_round(program, goal, clock, enough, hint))
        if isinstance(first, SolvedProgram) and (program.finish is not None or enough.of(first)):
            return first
        best = first.values if isinstance(first, SolvedProgram) else hint
        second = Highs().minimise(program, goal, clock, best, enough)
        if not isinstance(second, Infeasible):
            return better_of(first, second)
        if isinstance(first, SolvedProgram):
            return first
        # Within its tolerances HiGHS may call it infeasible: CP-SAT has the last word.
        return CpSatProgram().minimise(program, goal, clock, hint)
