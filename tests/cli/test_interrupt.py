"""Stopping a search: the best found so far, marked as not proven."""

import signal
import subprocess
import sys
import time
from pathlib import Path

from solver.search.milp.backend import Effort, SolverStatus
from solver.search.milp.cpsat import CpSat
from solver.search.milp.relaxation import Fineness, formulate
from solver.search.windows import windows
from tests.search.instances import problem

ROOT = Path(__file__).parents[2]
# A parent that ignores interrupts (a shell's background job) hands that on; a terminal does not.
SEARCHING = """
import signal
signal.signal(signal.SIGINT, signal.default_int_handler)
from solver.cli.main import main
from solver.search.minimise import Search
run = Search.run
def first(*args, **kwargs):
    Search.run = run
    print("it searches", flush=True)
    return run(*args, **kwargs)
Search.run = first
main(prog_name="equipour")
"""
"""It says so when it begins to search."""
COMMAND = [sys.executable, "-c", SEARCHING]


def test_an_interrupt_ends_a_hard_search_at_once_with_exit_code_130(tmp_path: Path) -> None:
    """The whole built-in library, two bases: far more than can be proven in some seconds."""
    (tmp_path / "bar.toml").write_text('name = "all of it"\n', encoding="utf-8")
    arguments = ["design", "sour-split", "--goal", "lightest", "--bar", str(tmp_path)]
    process = subprocess.Popen(
        [*COMMAND, *arguments],
        cwd=ROOT,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    assert process.stdout is not None
    assert process.stdout.readline() == "it searches\n"
    time.sleep(0.5)
    asked = time.monotonic()
    process.send_signal(signal.SIGINT)
    output, errors = process.communicate(timeout=30)
    assert time.monotonic() - asked < 10
    assert process.returncode == 130, errors
    assert "Traceback" not in errors
    assert "ot proven" in output or "nothing proven" in output


def test_running_out_of_time_is_not_an_interrupt() -> None:
    given = problem(0, {"base": 100, "sour": 20, "sweet": 40, "modifier": 40})
    relaxation = formulate(given, windows(given), Fineness(), goal=None)
    outcome = CpSat().minimise(relaxation, Effort(seconds=0.6))
    assert outcome.status in {SolverStatus.FEASIBLE, SolverStatus.UNKNOWN}
    assert not outcome.interrupted
