"""Print what the search takes on the demo bar and on random shelves: python -m tests.bench.measure.

Times are of this machine and this run. Imports are warm. "open" counts what was not proven within
the limit of 10 s. The 95th percentile is the nearest rank: of five runs, the longest.
"""

from __future__ import annotations

import math
import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path

from solver.pantry.bar import Bar, load_bar
from solver.pantry.profile import Profile
from solver.pantry.profile_files import load_profiles
from solver.search.backend import Backend
from solver.search.cpsat import CpSat
from solver.search.loop import Clock, Ending, Search
from solver.search.mathopt import MathOpt
from solver.tasks.design import OFF_AIM_TOLERANCE, design
from solver.tasks.request import Request
from tests.search.instances import brute_force, problem

LIMIT_S = 10.0
SMALL = {"base": 3, "sour": 2, "sweet": 2, "modifier": 2}


def shelf(total: int) -> dict[str, int]:
    """How many of each part a random shelf of `total` holds."""
    return {"base": total // 2, "sour": total // 10, "sweet": total // 5, "modifier": total // 5}


def timed(name: str, runs: list[Callable[[], bool]]) -> None:
    """Time each run, which says whether it ended with a proof, and print a row."""
    seconds: list[float] = []
    unproven = 0
    for run in runs:
        started = time.perf_counter()
        unproven += not run()
        seconds.append(time.perf_counter() - started)
    ordered = sorted(seconds)
    last = ordered[math.ceil(0.95 * len(ordered)) - 1]
    row = f"{name:<34}{len(runs):>4}{statistics.median(ordered):>10.3f}{last:>10.3f}{unproven:>6}"
    sys.stdout.write(f"{row}\n")


def searched(seed: int, sizes: dict[str, int], backend: Backend) -> Callable[[], bool]:
    """A run of the search on a random shelf."""

    def run() -> bool:
        search = Search(
            problem(seed, sizes),
            None,
            tolerance=OFF_AIM_TOLERANCE,
            backend=backend,
            clock=Clock.of(LIMIT_S),
        )
        return search.run().ending is not Ending.STOPPED

    return run


def designed(profile: Profile, bar: Bar) -> Callable[[], bool]:
    """A run of the whole task on a bar."""
    wish = Request(seconds=LIMIT_S)
    return lambda: design(profile, bar, wish, CpSat()).ending is not Ending.STOPPED


def enumerated(seed: int) -> Callable[[], bool]:
    """A run of brute force on a small shelf: always a proof."""

    def run() -> bool:
        brute_force(problem(seed, SMALL))
        return True

    return run


def main() -> None:
    """Print the table."""
    sys.stdout.write(f"{'':<34}{'n':>4}{'median s':>10}{'p95 s':>10}{'open':>6}\n")
    bar = load_bar(Path(__file__).parents[2] / "demo")
    runs = [designed(profile, bar) for profile in load_profiles(bar.profiles)]
    timed("demo bar, every profile", runs)
    timed("9 ingredients, search", [searched(seed, SMALL, CpSat()) for seed in range(5)])
    timed("9 ingredients, brute force", [enumerated(seed) for seed in range(5)])
    for total in (20, 200):
        timed(f"{total} ingredients", [searched(s, shelf(total), CpSat()) for s in range(5)])
    scip = MathOpt("scip")
    timed("20 ingredients, SCIP, same rows", [searched(s, shelf(20), scip) for s in range(5)])
    timed("2000 ingredients", [searched(s, shelf(2000), CpSat()) for s in range(2)])


if __name__ == "__main__":
    main()
