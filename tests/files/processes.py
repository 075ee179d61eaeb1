"""Commands as processes of their own, several at a time, each killed where we say.

A helper imports the program once and forks for every command, so that a hundred of them take
seconds. Run as a module it is that helper: a line of JSON in, a line of JSON out.
"""

from __future__ import annotations

import contextlib
import io
import json
import os
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from solver.files import disk, journal

ROOT = Path(__file__).parents[2]
FIRST = (
    ("design", "highball", "--with", "gin", "--bottles", "<=2"),
    ("rebalance", "--out-of", "bourbon"),
    ("prep", "rhubarb-syrup"),
)
CALLS = ("open", "write", "fchmod", "fsync", "link", "replace", "unlink", "close")


@dataclass(frozen=True)
class Run:
    """A command line in a bar, and when it is killed: never, or before a call to the disk.

    `after_s` kills it from outside instead, so long after its journal appears.
    """

    bar: Path
    line: tuple[str, ...]
    at: int | None = None
    after_s: float | None = None


@dataclass(frozen=True)
class Ended:
    """How a command ended: its exit code (below zero: the signal), and what it said."""

    code: int
    output: str
    errors: str


class Helper:
    """The helper's other end."""

    def __init__(self) -> None:
        self.process = subprocess.Popen(
            [sys.executable, "-m", "tests.files.processes"],
            cwd=ROOT,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )

    def together(self, *runs: Run) -> list[Ended]:
        """Start all of them at once, and wait for all."""
        asked = [
            {"bar": str(r.bar), "line": r.line, "at": r.at, "after_s": r.after_s} for r in runs
        ]
        assert self.process.stdin is not None
        assert self.process.stdout is not None
        self.process.stdin.write(json.dumps(asked) + "\n")
        self.process.stdin.flush()
        return [Ended(**each) for each in json.loads(self.process.stdout.readline())]

    def run(self, bar: Path, *line: str, at: int | None = None) -> Ended:
        """One command."""
        return self.together(Run(bar, line, at))[0]

    def close(self) -> None:
        """End it."""
        assert self.process.stdin is not None
        assert self.process.stdout is not None
        self.process.stdin.close()
        self.process.stdout.close()
        self.process.wait()


@contextlib.contextmanager
def helper() -> Iterator[Helper]:
    """A helper for as long as the body runs."""
    started = Helper()
    try:
        yield started
    finally:
        started.close()


class _DyingOs:
    """The module `os`, which kills the process at the call number `at`."""

    def __init__(self, at: int) -> None:
        self.left = at

    def __getattr__(self, name: str) -> Any:
        real = getattr(os, name)
        if name not in CALLS:
            return real

        def call(*args: Any) -> Any:
            if self.left == 0:
                if name == "write":  # half of it gets through
                    real(args[0], args[1][: len(args[1]) // 2])
                os.kill(os.getpid(), signal.SIGKILL)
            self.left -= 1
            return real(*args)

        return call


def _child(run: dict[str, Any], output: int, errors: int) -> None:
    from solver.cli.main import main

    os.dup2(output, 1)
    os.dup2(errors, 2)
    if run["at"] is not None:
        setattr(disk, "os", _DyingOs(run["at"]))  # noqa: B010
    try:
        main(args=[*run["line"], "--bar", run["bar"]], prog_name="equipour")
    except SystemExit as ended:
        code = ended.code if isinstance(ended.code, int) else 0
        sys.stdout.flush()
        os._exit(code)
    os._exit(0)


def _kill_after(pid: int, run: dict[str, Any]) -> None:
    """Kill a process so long after its journal appears, or let it end without one."""
    path = os.path.join(run["bar"], journal.NAME)  # noqa: PTH118  # as fast as can be
    while not os.path.exists(path):  # noqa: PTH110
        if os.waitid(os.P_PID, pid, os.WEXITED | os.WNOHANG | os.WNOWAIT) is not None:
            return
    until = time.perf_counter() + run["after_s"]
    while time.perf_counter() < until:
        pass
    os.kill(pid, signal.SIGKILL)


def _serve(runs: Sequence[dict[str, Any]]) -> list[dict[str, Any]]:
    with contextlib.ExitStack() as stack:
        files = [[stack.enter_context(tempfile.TemporaryFile()) for _ in range(2)] for _ in runs]
        pids: list[int] = []
        for run, (output, errors) in zip(runs, files, strict=True):
            pid = os.fork()
            if pid == 0:
                _child(run, output.fileno(), errors.fileno())
            pids.append(pid)
        for run, pid in zip(runs, pids, strict=True):
            if run["after_s"] is not None:
                _kill_after(pid, run)
        ended: list[dict[str, Any]] = []
        for pid, (output, errors) in zip(pids, files, strict=True):
            _, status = os.waitpid(pid, 0)
            said = []
            for file in (output, errors):
                file.seek(0)
                said.append(file.read().decode())
            code = os.waitstatus_to_exitcode(status)
            ended.append({"code": code, "output": said[0], "errors": said[1]})
        return ended


def _main() -> None:
    # What a command would import and read of ours is there before it is forked.
    from solver.cli.main import main
    from solver.search.milp.cpsat import CpSat

    del CpSat
    for first in FIRST:
        with contextlib.redirect_stdout(io.StringIO()), contextlib.suppress(SystemExit):
            main(args=[*first, "--bar", str(ROOT / "demo")], prog_name="equipour")
    for line in sys.stdin:
        print(json.dumps(_serve(json.loads(line))), flush=True)  # noqa: T201


if __name__ == "__main__":
    _main()
