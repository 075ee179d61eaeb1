"""Print what plans take: python -m tests.bench.nights [SECONDS].

Random bars (`tests.night.nights.large`), each planned by CP-SAT alone, HiGHS alone and both, within
the seconds given (20); once with any shares up to twice an equal one, once with shares stated. For
each stage: how far from the best it may be, in per cent; then the seconds of a clock and of the
processor. Times are of this machine and this run; a plan's rows are the same for all.
"""

from __future__ import annotations

import sys
import time

from solver.clock import Clock
from solver.night.problem import Nights
from solver.night.solve import NightAim, Planned, best_plan
from solver.search.milp.integer_program import (
    Both,
    CpSatProgram,
    Highs,
    Solver,
)
from tests.night.nights import forecast, large

SIZES: tuple[tuple[str, dict[str, int]], ...] = (
    ("3 nights, 5 drinks", {"days": 3, "drinks": 5, "house": 3, "bottles": 15}),
    ("7 nights, 25 drinks", {}),
    ("14 nights, 50 drinks", {"days": 14, "drinks": 50, "house": 20, "bottles": 120}),
    ("28 nights, 100 drinks", {"days": 28, "drinks": 100, "house": 30, "bottles": 160}),
)


def row(name: str, question: Nights, solver: Solver, seconds: float) -> str:
    """One line: stages with their gaps in per cent, and the seconds of clock and processor."""
    clock, processor = time.perf_counter(), time.process_time()
    found = best_plan(question, solver, Clock.of(seconds), aims=(NightAim.WASTE, NightAim.COST))
    taken, worked = time.perf_counter() - clock, time.process_time() - processor
    gaps = type(found).__name__
    if isinstance(found, Planned):
        gaps = "".join(f"{stage.aim.value:>8}{100 * stage.gap:>7.2f} %" for stage in found.stages)
    return f"{name:<34}{type(solver).__name__:<7}{gaps:<36}{taken:>7.1f} s{worked:>7.1f} s"


def main() -> None:
    """Print the table."""
    seconds = float(sys.argv[1]) if len(sys.argv) > 1 else 20.0
    for name, size in SIZES:
        for seed in range(2 if size.get("days", 7) <= 7 else 1):
            question = large(seed, **size)
            for shares, asked in (("any", question), ("stated", forecast(question))):
                for solver in (CpSatProgram(), Highs(), Both()):
                    line = row(f"{name}, {seed}, {shares}", asked, solver, seconds)
                    sys.stdout.write(f"{line}\n")
                    sys.stdout.flush()


if __name__ == "__main__":
    main()
