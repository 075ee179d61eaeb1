"""What a command takes from a standing start: python -m tests.bench.cold [RUNS].

Beside it an empty interpreter, and one that imports numpy. Each is a new process, in turn, so that
others at work beside count for all alike; the least of all runs (15), in seconds of the wall and of
the processor.
"""

from __future__ import annotations

import resource
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).parents[2]
PROGRAM = [sys.executable, "-c", "from solver.cli.start import start; start()"]
ASKED = {
    "empty interpreter": [sys.executable, "-c", "pass"],
    "import numpy": [sys.executable, "-c", "import numpy"],
    "equipour --help": [*PROGRAM, "--help"],
    "equipour design sour": [*PROGRAM, "design", "sour", "--bar", "demo"],
}


def timed(command: list[str]) -> tuple[float, float]:
    """Seconds of the wall and of the processor that a new process takes."""
    before, started = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
    subprocess.run(command, stdout=subprocess.DEVNULL, check=True, cwd=ROOT)
    wall, after = time.perf_counter() - started, resource.getrusage(resource.RUSAGE_CHILDREN)
    return wall, after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def main() -> None:
    """Print the table."""
    runs = int(sys.argv[1]) if len(sys.argv) > 1 else 15
    found: dict[str, list[tuple[float, float]]] = {says: [] for says in ASKED}
    for _ in range(runs):
        for says, command in ASKED.items():
            found[says].append(timed(command))
    sys.stdout.write(f"{'':<22}{'wall':>8}{'processor':>11}\n")
    for says, each in found.items():
        wall, processor = (min(column) for column in zip(*each, strict=True))
        sys.stdout.write(f"{says:<22}{wall:>8.3f}{processor:>11.3f}\n")


if __name__ == "__main__":
    main()
