"""How long a no takes, cold: python -m tests.bench.impossible [COUNT] [FIRST_SEED].

Random wishes of guests at the demonstration bar, typed as whole commands of new processes; those
that are proven impossible count, until there are COUNT of them (100). The time is of the wall, and
beside it that of the processor, which what else runs on the machine changes less.
"""

from __future__ import annotations

import math
import os
import random
import resource
import statistics
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from solver.pantry.load_bar import load_bar
from solver.pantry.profile_files import load_profiles

DEMO = Path(__file__).parents[2] / "demo"
START = "from solver.cli.main import main; main()"
PROVEN_IMPOSSIBLE = 1

MEASURED = {
    # option: least and most of where a bound lies, widest range, unit
    "--abv": (5.0, 30.0, 5.0, "%"),
    "--sugar": (1.0, 14.0, 3.0, " g/100ml"),
    "--acid": (0.0, 1.5, 0.3, " g/100ml"),
    "--volume": (70.0, 280.0, 40.0, " ml"),
    "--cost": (0.8, 4.0, 0.8, ""),
    "--ethanol": (6.0, 35.0, 6.0, " g"),
}
COMPARED = ("drier", "sweeter", "lighter", "stronger", "tarter", "rounder", "longer", "shorter")
UNWANTED = (
    "nuts", "egg", "milk", "sulphites", "gluten", "dairy", "alcohol", "spirit/agave", "spirit/gin",
    "liqueur", "juice/sour", "syrup", "bitters", "fortified", "sparkling-wine", "honey",
)  # fmt: skip
TASTES = ("smoke", "herbal", "floral", "spice", "bitter", "citrus", "nut", "coffee")
GLASSES = ("coupe", "rocks", "double-rocks", "highball", "collins", "wine", "nick-and-nora")


def wishes(seed: int) -> list[str]:
    """The words of one guest's request: a profile, and one to five wishes on top of it."""
    rng = random.Random(seed)
    bar = load_bar(DEMO)
    profile = rng.choice(sorted(each.name for each in load_profiles(bar.profiles)))
    bottles = sorted(stocked.ingredient.key for stocked in bar.stock)
    kinds: list[Callable[[], list[str]]] = [
        lambda: _bound(rng),
        lambda: _bound(rng),
        lambda: _bound(rng),
        lambda: ["--with", _poured(rng, rng.choice(bottles))],
        lambda: ["--with", _poured(rng, rng.choice(bottles))],
        lambda: ["--without", rng.choice((*UNWANTED, *bottles))],
        lambda: ["--without", rng.choice(UNWANTED)],
        lambda: [f"--{rng.choice(COMPARED)}={rng.choice((1, 1, 2, 3))}"],
        lambda: ["--glass", rng.choice(GLASSES)],
        lambda: ["--standard-drinks", f"<={rng.choice((0.5, 1, 1.5))}"],
        lambda: ["--character", rng.choice(TASTES)],
        lambda: ["--no-character", rng.choice(TASTES)],
        lambda: ["--serves", str(rng.choice((4, 12, 30)))],
    ]
    words = [profile]
    for _ in range(rng.randint(1, 5)):
        words += rng.choice(kinds)()
    return words


def _bound(rng: random.Random) -> list[str]:
    option = rng.choice(sorted(MEASURED))
    low, high, width, unit = MEASURED[option]
    at = rng.uniform(low, high)
    text = rng.choice((
        f"<={at:.2f}{unit}", f">={at:.2f}{unit}",
        f"{at:.2f}..{at + rng.uniform(0.02, 1.0) * width:.2f}{unit}",
    ))  # fmt: skip
    return [option, text]


def _poured(rng: random.Random, key: str) -> str:
    return f"{key}={rng.choice(('1/4', '1/2', '1', '2', '3'))} oz" if rng.random() < 0.3 else key


@dataclass(frozen=True)
class Timed:
    """A command's words, how it ended, and its seconds of the wall and of the processor."""

    words: tuple[str, ...]
    code: int
    wall_s: float
    processor_s: float
    said: str


def run(words: list[str]) -> Timed:
    """Ask it of a new process."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    started = time.perf_counter()
    command = [sys.executable, "-c", START, "check", *words, "--bar", str(DEMO)]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    wall = time.perf_counter() - started
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    processor = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    return Timed(tuple(words), done.returncode, wall, processor, done.stdout + done.stderr)


def noes(count: int, first: int) -> Iterator[Timed]:
    """So many requests that are proven impossible, from a seed on."""
    seed = first
    while count:
        timed = run(wishes(seed))
        seed += 1
        if timed.code == PROVEN_IMPOSSIBLE:
            count -= 1
            yield timed


def _row(name: str, seconds: list[float]) -> str:
    ordered = sorted(seconds)
    p95 = ordered[math.ceil(0.95 * len(ordered)) - 1]
    return f"{name:<12}{statistics.median(ordered):>10.2f}{p95:>10.2f}{ordered[-1]:>10.2f}\n"


def main() -> None:
    """Print the table, and the slowest requests."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 100
    first = int(sys.argv[2]) if len(sys.argv) > 2 else 0
    timed = list(noes(count, first))
    sys.stdout.write(f"{len(timed)} impossible requests; load {os.getloadavg()[0]:.1f}\n")
    sys.stdout.write(f"{'':<12}{'median s':>10}{'p95 s':>10}{'most s':>10}\n")
    sys.stdout.write(_row("wall", [each.wall_s for each in timed]))
    sys.stdout.write(_row("processor", [each.processor_s for each in timed]))
    undecided = [each for each in timed if "no time to look at everything" in each.said]
    sys.stdout.write(f"{len(undecided)} without all reasons\n")
    for each in sorted(timed, key=lambda each: -each.wall_s)[:5]:
        sys.stdout.write(f"{each.wall_s:6.2f}  check {' '.join(each.words)}\n")


if __name__ == "__main__":
    main()
