"""Long work shows how far it is: on a terminal, in one line that goes again, and nowhere else."""

from __future__ import annotations

import contextlib
import io
import os
import re
from collections.abc import Iterator
from concurrent.futures import Future
from pathlib import Path

import pytest

from solver import clock as clocks
from solver.cli.main import main
from solver.cli.progress import Progress
from solver.clock import Clock, Done, Work
from solver.show.text.progress import progress_line

DEMO = str(Path(__file__).parents[2] / "demo")
ERASED = "\r\033[K"


@pytest.fixture
def impatient(monkeypatch: pytest.MonkeyPatch) -> None:
    """Everything is shown, at once."""
    monkeypatch.setattr(Progress, "PATIENCE_S", 0.0)
    monkeypatch.setattr(Progress, "BETWEEN_S", 0.0)
    monkeypatch.setenv("TERM", "xterm")


class Terminal(io.TextIOWrapper):
    """A real terminal, read as it is written to: the system keeps a few kilobytes only."""

    def __init__(self) -> None:
        self.ours, theirs = os.openpty()
        os.set_blocking(self.ours, False)
        self.parts: list[bytes] = []
        super().__init__(os.fdopen(theirs, "wb"), encoding="utf-8")

    def flush(self) -> None:
        super().flush()
        with contextlib.suppress(BlockingIOError):
            while part := os.read(self.ours, 1 << 16):
                self.parts.append(part)

    @property
    def seen(self) -> str:
        return b"".join(self.parts).decode()


@pytest.fixture
def terminal() -> Iterator[Terminal]:
    with Terminal() as stream:
        yield stream
    os.close(stream.ours)


ASKED = {
    "design sour": "trying ingredients: set 1",
    "check duo --abv <=12%": "finding out why: question 2",
    "tradeoff bollard-sour --points 4": "points: 2",
    "rebalance --out-of bourbon": "specs: 6 of 7",
    "swap rope-store bourbon": "stand-ins: 1 of ",
    "plan --drinks 20 harbour-light=40% dry-dock": "choosing: step 2 of 3",
}


def run(line: str, *more: str) -> None:
    words = [*line.split(), *more, "--bar", DEMO]
    with pytest.raises(SystemExit):
        main(words, prog_name="equipour")


@pytest.mark.usefixtures("impatient")
@pytest.mark.parametrize("line", ASKED)
def test_a_terminal_sees_one_line_that_is_gone_before_the_answer(
    line: str, terminal: Terminal, capsys: pytest.CaptureFixture[str]
) -> None:
    with contextlib.redirect_stderr(terminal):
        run(line)
    seen = terminal.seen
    assert ASKED[line] in seen
    assert "\n" not in seen
    assert re.fullmatch(r"(\r[^\r\033]+\033\[K)+\r\033\[K", seen)
    answer = capsys.readouterr().out
    assert answer
    assert "\r" not in answer


@pytest.mark.usefixtures("impatient")
@pytest.mark.parametrize("line", ["design sour", "plan --drinks 20 harbour-light=40% dry-dock"])
def test_a_program_that_wants_a_document_sees_nothing_of_it(line: str, terminal: Terminal) -> None:
    with contextlib.redirect_stderr(terminal):
        run(line, "--json")
    assert terminal.seen == ""


@pytest.mark.usefixtures("impatient")
def test_a_pipe_sees_nothing_of_it(capsys: pytest.CaptureFixture[str]) -> None:
    run("design sour")
    assert capsys.readouterr().err == ""


@pytest.mark.usefixtures("impatient")
def test_a_terminal_that_cannot_write_over_a_line_sees_nothing_of_it(
    terminal: Terminal, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("TERM", "dumb")
    with contextlib.redirect_stderr(terminal):
        run("design sour")
    assert terminal.seen == ""


def test_nothing_is_shown_of_what_is_done_within_a_second(terminal: Terminal) -> None:
    with contextlib.redirect_stderr(terminal), Progress("specs") as progress:
        progress.at(Done(Work.ITEMS, 3, 200))
    assert terminal.seen == ""


@pytest.mark.usefixtures("impatient")
def test_the_line_is_gone_before_an_interrupt_is_told(terminal: Terminal) -> None:
    def work() -> None:
        with Progress("specs") as progress:
            progress.at(Done(Work.ITEMS, 3, 200))
            raise KeyboardInterrupt

    with contextlib.redirect_stderr(terminal), pytest.raises(KeyboardInterrupt):
        work()
    assert terminal.seen == f"\rspecs: 3 of 200\033[K{ERASED}"


@pytest.mark.usefixtures("impatient")
def test_a_line_is_never_broken(terminal: Terminal, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "12")
    with contextlib.redirect_stderr(terminal), Progress("specs") as progress:
        progress.at(Done(Work.ITEMS, 3, 200))
    assert terminal.seen == f"\rspecs: 3 of\033[K{ERASED}"


@pytest.mark.parametrize(
    ("done", "line"),
    [
        (Done(Work.BOXES, 0.62, 1), "comparing: 62 % of all drinks"),
        (Done(Work.ITEMS, 41, 200), "specs: 41 of 200"),
        (Done(Work.ITEMS, 7), "specs: 7"),
        (Done(Work.ROUNDS, 3), "proving: round 3"),
        (Done(Work.STAGES, 1, 4, 0.03), "choosing: step 2 of 4, at most 3 % from the best so far"),
        (Done(Work.STAGES, 1, 4, 0.0), "choosing: step 2 of 4"),
    ],
)
def test_a_line_says_how_far_it_is(done: Done, line: str) -> None:
    assert progress_line(done, "specs") == line


def test_who_waits_for_a_solver_hears_that_it_is_still_at_it(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(clocks, "STILL_S", 0.0)
    answer: Future[int] = Future()
    heard: list[Done | None] = []

    def watch(done: Done | None) -> None:
        heard.append(done)
        if len(heard) == 3:
            answer.set_result(7)

    assert Clock.of(60, watch).wait(answer) == 7
    assert heard == [None] * 3


def test_a_share_of_the_time_is_watched_as_the_whole_and_a_part_of_an_item_is_not() -> None:
    heard: list[Done | None] = []
    clock = Clock.of(60, heard.append)
    clock.within(1).tell(Work.SETS, 1)
    clock.unwatched.tell(Work.SETS, 2)
    clock.unwatched.within(1).still()
    assert heard == [Done(Work.SETS, 1)]
    assert clock.unwatched.ends == clock.ends
