"""Print what plans take: python -m tests.bench.nights [SECONDS].

Random bars (`tests.night.nights.large`), each planned by CP-SAT alone, HiGHS alone and both, within
the seconds given (20). For each stage: how far from the best it may be, in per cent, and the second
at which it ended. Times are of this machine and this run; a plan's rows are the same for all.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Sequence

from solver.night.problem import Nights
from solver.night.solve import Aim, Planned, best_plan
from solver.search.clock import Clock
from solver.search.milp.integer_program import (
    EXACT,
    Both,
    CpSat,
    Enough,
    Highs,
    Infeasible,
    OutOfTime,
    Program,
    Solved,
    Solver,
    Terms,
)
from tests.night.nights import large

SIZES: tuple[tuple[str, dict[str, int]], ...] = (
    ("3 nights, 5 drinks", {"days": 3, "drinks": 5, "house": 3, "bottles": 15}),
    ("7 nights, 25 drinks", {}),
    ("14 nights, 50 drinks", {"days": 14, "drinks": 50, "house": 20, "bottles": 120}),
    ("28 nights, 100 drinks", {"days": 28, "drinks": 100, "house": 30, "bottles": 160}),
)


class Timed:
    """A solver that notes when each of its answers came."""

    def __init__(self, solver: Solver) -> None:
        self.solver = solver
        self.began = time.perf_counter()
        self.ends: dict[int, float] = {}

    def minimise(
        self,
        program: Program,
        goal: Terms,
        clock: Clock,
        hint: Sequence[int] = (),
        enough: Enough = EXACT,
    ) -> Solved | Infeasible | OutOfTime:
        found = self.solver.minimise(program, goal, clock, hint, enough)
        self.ends[len(goal)] = time.perf_counter() - self.began
        return found


def row(name: str, question: Nights, solver: Solver, seconds: float) -> str:
    """One line: stages with their gaps in per cent, and the seconds in all."""
    timed = Timed(solver)
    found = best_plan(question, timed, Clock.of(seconds), aims=(Aim.WASTE, Aim.COST))
    taken = time.perf_counter() - timed.began
    if not isinstance(found, Planned):
        return f"{name:<26}{type(solver).__name__:<8}{type(found).__name__:<12}{taken:>8.1f} s"
    ends = sorted(timed.ends.values())
    gaps = "".join(f"{stage.aim.value:>8}{100 * stage.gap:>7.2f} %" for stage in found.stages)
    return f"{name:<26}{type(solver).__name__:<8}{gaps}{ends[0]:>8.1f} s{taken:>8.1f} s"


def main() -> None:
    """Print the table."""
    seconds = float(sys.argv[1]) if len(sys.argv) > 1 else 20.0
    for name, size in SIZES:
        for seed in range(2 if size.get("days", 7) <= 7 else 1):
            question = large(seed, **size)
            for solver in (CpSat(), Highs(), Both()):
                sys.stdout.write(f"{row(f'{name}, {seed}', question, solver, seconds)}\n")
                sys.stdout.flush()


if __name__ == "__main__":
    main()
