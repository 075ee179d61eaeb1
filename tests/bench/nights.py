"""Print what plans take: python -m tests.bench.nights [SECONDS [waste]].

Random bars (`tests.night.nights.large`), each planned within the seconds given (20) by CP-SAT
alone, HiGHS alone and both, on the same rows: once with any shares up to twice an equal one, once
with shares stated. A line is a stage: the value found, the bound proven, how far they are apart in
per cent of the value, and how far the value is from the best bound and the bound from the best
value of all three solvers, which says which of the two is weak. Then the seconds of a clock and of
the processor, which are of this machine and this run. With "waste" the stages are waste and then
cost, and not what both come to.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Sequence

from solver.clock import Clock
from solver.night.problem import Nights
from solver.night.solve import NightAim, Planned, ProofStage, best_plan
from solver.search.milp.in_floats import Highs
from solver.search.milp.integer_program import CpSatProgram, Solver
from solver.search.milp.together import Both
from tests.night.nights import forecast, large

SIZES: tuple[tuple[str, dict[str, int]], ...] = (
    ("3 nights, 5 drinks", {"days": 3, "drinks": 5, "house": 3, "bottles": 15}),
    ("7 nights, 25 drinks", {}),
    ("14 nights, 50 drinks", {"days": 14, "drinks": 50, "house": 20, "bottles": 120}),
    ("28 nights, 100 drinks", {"days": 28, "drinks": 100, "house": 30, "bottles": 160}),
)
HEAD = f"{'solver':<14}{'stage':<8}{'value':>10}{'bound':>10}{'gap':>9}{'value +':>9}{'bound -':>9}"


def stages(
    question: Nights, solver: Solver, seconds: float, aims: Sequence[NightAim]
) -> tuple[tuple[ProofStage, ...], str]:
    """What the stages came to, and the seconds of clock and processor."""
    clock, processor = time.perf_counter(), time.process_time()
    found = best_plan(question, solver, Clock.of(seconds), aims=aims)
    taken, worked = time.perf_counter() - clock, time.process_time() - processor
    reached = found.stages if isinstance(found, Planned) else ()
    return reached, f"{taken:>8.1f} s{worked:>7.1f} s"


def table(question: Nights, seconds: float, aims: Sequence[NightAim]) -> None:
    """Print the stages of each solver. After the first they are compared where all else is alike:
    each solver leaves its own plans to the next stage, so there only its own gap is told."""
    solvers = (CpSatProgram(), Highs(), Both())
    found = [stages(question, solver, seconds, aims) for solver in solvers]
    firsts = [reached[0] for reached, _ in found if reached]
    value = min((stage.value for stage in firsts), default=0)
    bound = max((stage.bound for stage in firsts), default=0)
    for solver, (reached, took) in zip(solvers, found, strict=True):
        for stage in reached:
            own = f"{stage.value:>10}{stage.bound:>10}{100 * stage.gap:>7.2f} %"
            ends = (stage.value / (bound or 1) - 1, 1 - stage.bound / (value or 1))
            beside = "".join(f"{100 * end:>7.2f} %" for end in ends)
            beside = beside if stage is reached[0] else " " * len(beside)
            say(f"{type(solver).__name__:<14}{stage.aim.value:<8}{own}{beside}{took}")
        if not reached:
            say(f"{type(solver).__name__:<14}no plan found{took}")


def say(line: str) -> None:
    """A line, as soon as it is known."""
    sys.stdout.write(f"{line}\n")
    sys.stdout.flush()


def main() -> None:
    """Print the tables."""
    seconds = float(sys.argv[1]) if len(sys.argv) > 1 else 20.0
    apart = sys.argv[2:] == ["waste"]
    aims = (NightAim.WASTE, NightAim.COST) if apart else (NightAim.LOSS,)
    for name, size in SIZES:
        for seed in range(2 if size.get("days", 7) <= 7 else 1):
            question = large(seed, **size)
            for shares, asked in (("any", question), ("stated", forecast(question))):
                say(f"\n{name}, bar {seed}, {shares} shares\n{HEAD}")
                table(asked, seconds, aims)


if __name__ == "__main__":
    main()
