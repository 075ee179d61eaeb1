"""Print what answers take, and in how much memory: python -m tests.bench.measure [--brief].

Times are of this machine and this run. Imports are warm, except in whole commands. "open" counts
what was not proven within the limit of 10 s. The 95th percentile is the nearest rank: of five runs,
the longest. `--brief` leaves out what only comparisons need and the largest shelves.
"""

from __future__ import annotations

import math
import os
import random
import resource
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from datetime import date
from functools import partial
from pathlib import Path

from solver.clock import Clock
from solver.drinks.approval import approved_profile
from solver.drinks.assess import assess
from solver.files.atomic import FilePlace
from solver.pantry.bar import Bar
from solver.pantry.load_bar import load_bar
from solver.pantry.profile import Profile
from solver.pantry.profile_files import load_profiles
from solver.pantry.spec import read_specs
from solver.pantry.spec_file import write_spec
from solver.requests.read_request import WrittenRequest, read_request
from solver.requests.request import ComparedStep, Request
from solver.search.milp.backend import Backend
from solver.search.milp.cpsat import CpSat
from solver.search.minimise import Drinks, Search
from solver.search.result import Stopped
from solver.search.tolerances import OFF_AIM_GAP
from solver.tasks.design import design
from solver.tasks.design_result import Explain, Status
from solver.tasks.respec.bar_changes import read_changes
from solver.tasks.respec.book import rebalance_book
from tests.search.instances import brute_force, problem
from tests.search.mathopt import MathOpt

LIMIT_S = 10.0
SMALL = {"base": 3, "sour": 2, "sweet": 2, "modifier": 2}
IMPOSSIBLE = {
    "a syrup too much": (
        "design", "sour", "--with", "rhubarb-syrup=1 oz", "--sugar", "..5 g/100ml",
    ),
    "a guest told no": (
        "check", "stirred", "--without", "dairy", "--with", "mezcal", "--abv", "<=15%",
    ),
}  # fmt: skip
"""Impossible requests, as commands that say why."""
DEMO = Path(__file__).parents[2] / "demo"


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
    row = f"{name:<38}{len(runs):>4}{statistics.median(ordered):>10.3f}{last:>10.3f}{unproven:>6}"
    sys.stdout.write(f"{row}\n")
    sys.stdout.flush()


def searched(seed: int, sizes: dict[str, int], rows: Backend | None = None) -> Callable[[], bool]:
    """A run of the search on a random shelf: by halves where it can be, or on rows."""

    def run() -> bool:
        given = problem(seed, sizes)
        search = Search(
            given,
            None,
            tolerance=OFF_AIM_GAP,
            backend=rows or CpSat(),
            clock=Clock.of(LIMIT_S),
            drinks=Drinks(given, by_halves=rows is None),
        )
        return not isinstance(search.run(), Stopped)

    return run


def designed(profile: Profile, bar: Bar, explain: Explain = Explain.NOTHING) -> Callable[[], bool]:
    """A run of the whole task on a bar."""
    wish = Request(seconds=LIMIT_S)

    def run() -> bool:
        found = design(profile, bar, wish, CpSat(), explain=explain)
        return found.status is not Status.STOPPED and not (found.why and found.why.undecided)

    return run


def answered(profiles: Sequence[Profile], bar: Bar, count: int) -> list[Callable[[], bool]]:
    """Runs that each answer a guest of whims, with the reason where it is no."""
    rng = random.Random(1)
    runs: list[Callable[[], bool]] = []
    for _ in range(count):
        wish = WrittenRequest(
            unwanted=tuple(w for w in ("dairy", "nuts", "egg") if rng.random() < 0.2),
            wanted=(rng.choice(("gin", "mezcal", "rye-whiskey")),) if rng.random() < 0.4 else (),
            standard_drinks=("<=1.5",) if rng.random() < 0.4 else (),
            steps=(ComparedStep(rng.choice(("drier", "lighter", "longer"))),)
            if rng.random() < 0.3
            else (),
            seconds=LIMIT_S,
        )
        runs.append(partial(_answer, rng.choice(profiles), bar, read_request(wish, bar)))
    return runs


def _answer(profile: Profile, bar: Bar, wish: Request) -> bool:
    found = design(profile, bar, wish, CpSat(), explain=Explain.CONFLICTS)
    return found.status is not Status.STOPPED


def spec_book(folder: Path, count: int) -> Bar:
    """The demo bar with a book of so many specs: its own over and over, each approved as it is."""
    shutil.copytree(DEMO, folder)
    bar = load_bar(folder)
    own = read_specs(bar.specs)
    for number in range(count - len(own)):
        spec = own[number % len(own)]
        values = assess(spec.model_copy(update={"approved": None}), bar).values
        approved = approved_profile(values, date(2026, 5, 1), bar.currency)
        name = f"{spec.name} {number}"
        copy = spec.model_copy(update={"name": name, "approved": approved})
        write_spec(copy, FilePlace(folder / "specs" / f"copy-{number}.toml"), folder)
    return bar


def rebalanced(bar: Bar, figures: tuple[str, ...], gone: tuple[str, ...]) -> Callable[[], bool]:
    """A run of the whole spec book after a change: every spec is proven, or an error raised."""

    def run() -> bool:
        changes = read_changes(figures, gone, (), bar)
        book = rebalance_book(bar, changes, CpSat())
        return bool(book.entries)

    return run


def enumerated(seed: int) -> Callable[[], bool]:
    """A run of brute force on a small shelf: always a proof."""

    def run() -> bool:
        brute_force(problem(seed, SMALL))
        return True

    return run


def command(*words: str) -> Callable[[], bool]:
    """A whole command in a new process."""
    start = "from solver.cli.main import main; main()"

    def run() -> bool:
        code = [sys.executable, "-c", start, *words]
        return subprocess.run(code, capture_output=True, check=False).returncode in {0, 1}

    return run


def peak_mib(*words: str) -> float:
    """Peak memory of a whole command, in MiB; it has to be the largest child so far."""
    command(*words)()
    return resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024


def main() -> None:
    """Print the table."""
    brief = "--brief" in sys.argv
    bar = load_bar(DEMO)
    where = ("--bar", str(DEMO))
    sys.stdout.write(f"{os.cpu_count()} cores, load {os.getloadavg()[0]:.1f}\n")
    sys.stdout.write(f"{'':<38}{'n':>4}{'median s':>10}{'p95 s':>10}{'open':>6}\n")
    timed("command: --help", [command("--help")] * 5)
    timed("command: design highball", [command("design", "highball", *where)] * 5)
    timed("command: design sour", [command("design", "sour", *where)] * 5)
    timed("command: tradeoff bollard-sour", [command("tradeoff", "bollard-sour", *where)] * 5)
    memory = peak_mib("design", "sour", *where)
    for says, no in IMPOSSIBLE.items():
        timed(f"command: {says}", [command(*no, *where)] * 5)
    profiles = load_profiles(bar.profiles)
    timed("demo bar, every profile", [designed(profile, bar) for profile in profiles])
    for explain in (Explain.LIMITS, Explain.EVERYTHING):
        runs = [designed(profile, bar, explain) for profile in profiles]
        timed(f"the same, explained: {explain.value}", runs)
    timed("demo bar, guests", answered(profiles, bar, 100))
    for total in (20, 200):
        timed(f"{total} ingredients", [searched(s, shelf(total)) for s in range(5)])
    with tempfile.TemporaryDirectory() as folder:
        thick = spec_book(Path(folder) / "demo", 200)
        weaker = [f"{key}.abv=36%" for key in ("bourbon", "aged-rum", "irish-whiskey")]
        figures = (*weaker, "lemon-juice.acid=4.5 g/100ml")
        timed("200 specs, weaker bottles", [rebalanced(thick, figures, ())])
        timed("200 specs, without bourbon", [rebalanced(thick, (), ("bourbon",))])
    if not brief:
        timed("2000 ingredients", [searched(s, shelf(2000)) for s in range(3)])
        timed("9 ingredients", [searched(seed, SMALL) for seed in range(5)])
        timed("9 ingredients, brute force", [enumerated(seed) for seed in range(5)])
        for total in (20, 200):
            sizes = shelf(total)
            timed(
                f"{total} ingredients, CP-SAT on rows",
                [searched(s, sizes, CpSat()) for s in range(5)],
            )
            scip = MathOpt("scip")
            timed(
                f"{total} ingredients, SCIP on rows", [searched(s, sizes, scip) for s in range(5)]
            )
    sys.stdout.write(f"peak memory of design sour: {memory:.0f} MiB\n")


if __name__ == "__main__":
    main()
