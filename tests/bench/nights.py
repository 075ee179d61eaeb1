"""Print what plans take, as they grow: python -m tests.bench.nights [FACTOR] [waste] [SOLVER...].

Random bars (`tests.night.nights.large`), each planned by what `plan` uses, by HiGHS alone and by
CP-SAT alone, on the same rows and in the same seconds: ten bars of seven nights, and then how it
grows, once with any shares up to twice an equal one and once with shares stated. A line is what one
of them came to: the value found, how much better another plan might be by its own bound, and how
far value and bound are from the best that any of the three knows, which says which is weak. Then
the seconds of the processor and of a clock, of this machine and this run. On a machine that others
use, too, all may take FACTOR times as long: read the processor's seconds then. With "waste" what
spoils is minimised, and not what it and what is paid come to; with names only those are run.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Iterator, Sequence

from solver.clock import Clock
from solver.night.problem import Nights
from solver.night.solve import NightAim, Planned, ProofStage, best_plan
from solver.search.milp.in_floats import Highs
from solver.search.milp.integer_program import CpSatProgram, Solver
from solver.search.milp.together import Both
from tests.night.nights import forecast, large

SIZES: tuple[tuple[str, float, int, dict[str, int]], ...] = (
    ("3 nights, 5 drinks", 5, 1, {"days": 3, "drinks": 5, "house": 3, "bottles": 15}),
    ("7 nights, 25 drinks", 10, 10, {}),
    ("14 nights, 50 drinks", 12, 1, {"days": 14, "drinks": 50, "house": 20, "bottles": 120}),
    ("28 nights, 100 drinks", 36, 1, {"days": 28, "drinks": 100, "house": 30, "bottles": 160}),
)
"""What it is called, the seconds it is given, how many bars there are, and their size."""
HEAD = (
    f"{'size':<23}{'bar':>3} {'shares':<7}{'solver':<9}{'value':>10}{'gap':>9}"
    f"{'value +':>9}{'bound -':>9}{'processor':>11}{'clock':>8}"
)
SOLVERS: dict[str, Solver] = {"ours": Both(), "HiGHS": Highs(), "CP-SAT": CpSatProgram()}
Row = tuple[str, ProofStage | None, float, float]


def came_to(question: Nights, seconds: float, aim: NightAim, names: Sequence[str]) -> Iterator[Row]:
    """What each solver came to, with its seconds of processor and clock."""
    for name in names:
        solver = SOLVERS[name]
        clock, processor = time.perf_counter(), time.process_time()
        found = best_plan(question, solver, Clock.of(seconds), aims=(aim,))
        worked, taken = time.process_time() - processor, time.perf_counter() - clock
        yield name, found.stages[0] if isinstance(found, Planned) else None, worked, taken


def lines(label: str, rows: list[Row]) -> Iterator[str]:
    """What is printed of one question."""
    known = [stage for _, stage, _, _ in rows if stage is not None]
    value = min((stage.value for stage in known), default=0)
    bound = max((stage.bound for stage in known), default=0)
    for name, stage, worked, taken in rows:
        took = f"{worked:>9.1f} s{taken:>6.1f} s"
        if stage is None:
            yield f"{label}{name:<9}{'no plan found':<37}{took}"
            continue
        ends = stage.gap, stage.value / (value or 1) - 1, 1 - stage.bound / (bound or 1)
        shares = "".join(f"{100 * end:>7.1f} %" for end in ends)
        yield f"{label}{name:<9}{stage.value:>10}{shares}{took}"


def say(line: str) -> None:
    """A line, as soon as it is known."""
    sys.stdout.write(f"{line}\n")
    sys.stdout.flush()


def main() -> None:
    """Print the table."""
    words = sys.argv[1:]
    aim = NightAim.WASTE if "waste" in words else NightAim.LOSS
    factor = next((float(word) for word in words if word.isdecimal()), 1.0)
    names = [name for name in SOLVERS if name in words] or list(SOLVERS)
    say(HEAD)
    for name, seconds, bars, size in SIZES:
        for seed in range(bars):
            question = large(seed, **size)
            for shares, asked in (("any", question), ("stated", forecast(question))):
                rows = list(came_to(asked, factor * seconds, aim, names))
                for line in lines(f"{name:<23}{seed:>3} {shares:<7}", rows):
                    say(line)


if __name__ == "__main__":
    main()
