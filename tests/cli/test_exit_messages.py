"""How commands end when the system fails them: one message, the right code, and nothing false."""

from __future__ import annotations

import gc
import os
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Sequence
from pathlib import Path

import click
import pytest
from click.testing import CliRunner

from solver.cli import exits
from solver.cli import main as command_line
from solver.cli.main import main
from solver.cli.output import near
from solver.cli.start import start

ROOT = Path(__file__).parents[2]
DEMO = ROOT / "demo"
PROGRAM = [sys.executable, "-m", "solver"]


@pytest.fixture
def bar(tmp_path: Path) -> Path:
    folder = tmp_path / "bar"
    shutil.copytree(DEMO, folder)
    return folder


def content(bar: Path) -> dict[Path, bytes]:
    return {path: path.read_bytes() for path in bar.rglob("*") if path.is_file()}


def shell(line: str, bar: Path, **environment: str) -> subprocess.CompletedProcess[str]:
    """A line of a shell in which `equipour` is the program, its own standard streams as written."""
    return subprocess.run(
        ["bash", "-c", line.replace("equipour", " ".join(PROGRAM))],  # noqa: S607
        cwd=ROOT,
        env={**os.environ, "BAR": str(bar), **environment},
        capture_output=True,
        text=True,
        errors="replace",
        check=False,
    )


needs_full = pytest.mark.skipif(not Path("/dev/full").exists(), reason="there is no /dev/full")
SAVE = 'equipour design highball --with gin --bottles "<=2" --save "Slow Tide" --bar "$BAR"'
STOCK = 'equipour prep rhubarb-syrup --stock --made 2026-05-08 --bar "$BAR"'
APPROVE = 'equipour assess harbour-light --approve --bar "$BAR"'


@needs_full
@pytest.mark.parametrize(
    ("line", "where"),
    [(SAVE, ">/dev/full"), (f"{STOCK} --json", ">/dev/full"), (APPROVE, ">/dev/full"),
     (STOCK, ">&-")],
)  # fmt: skip
def test_an_answer_that_cannot_be_printed_is_no_answer_and_nothing_is_written(
    line: str, where: str, bar: Path
) -> None:
    before = content(bar)
    done = shell(f"{line} {where}", bar)
    assert done.returncode == 74
    assert done.stderr.startswith("equipour: the answer cannot be printed: ")
    assert done.stderr.count("\n") == 1
    assert content(bar) == before


@pytest.mark.parametrize("line", [STOCK, "equipour ingredients"])
def test_a_reader_who_has_gone_is_left_in_peace(line: str, bar: Path) -> None:
    before = content(bar)
    done = shell(f"{line} | true; exit ${{PIPESTATUS[0]}}", bar)
    # A short answer may still fit the pipe before its reader goes.
    assert done.returncode in {141, 0}
    assert done.stderr in {"", "equipour: written: house/rhubarb-syrup.toml, shelf.csv\n"} or (
        done.returncode == 0
    )
    assert (content(bar) == before) == (done.returncode == 141 or "--stock" not in line)


def test_a_pipe_without_a_reader_ends_with_the_code_of_its_signal(bar: Path) -> None:
    reading, writing = os.pipe()
    os.close(reading)
    with os.fdopen(writing, "wb") as nobody:
        done = subprocess.run(
            [*PROGRAM, "shelf", "--bar", str(bar)],
            cwd=ROOT, stdout=nobody, stderr=subprocess.PIPE, text=True, check=False,
        )  # fmt: skip
    assert (done.returncode, done.stderr) == (141, "")


@needs_full
def test_when_nothing_can_be_said_at_all_the_code_still_tells(bar: Path) -> None:
    assert shell('equipour shelf --bar "$BAR" >/dev/full 2>/dev/full', bar).returncode == 74
    assert shell("equipour nonsense 2>/dev/full", bar).returncode == 2
    assert shell(f"{SAVE} 2>/dev/full", bar).returncode == 0
    assert (bar / "specs" / "slow-tide.toml").exists()


@pytest.mark.parametrize("encoding", ["cp1252", "ascii"])
def test_what_an_encoding_lacks_is_said_in_signs_that_it_has(encoding: str, bar: Path) -> None:
    spec = bar / "specs" / "harbour-light.toml"
    text = spec.read_text(encoding="utf-8").replace("Harbour Light", "Świt ½ ≤ 灯台")
    spec.write_text(text, encoding="utf-8")
    done = shell('equipour assess harbour-light --bar "$BAR"', bar, PYTHONIOENCODING=encoding)
    assert done.returncode == 0, done.stderr
    assert "<= \\u706f\\u53f0" in done.stdout


def test_from_a_folder_that_is_gone_a_bar_can_still_be_named(bar: Path, tmp_path: Path) -> None:
    gone = f'mkdir "{tmp_path}/gone" && cd "{tmp_path}/gone" && rmdir "{tmp_path}/gone" && '
    environment = {"PYTHONPATH": str(ROOT)}
    named = shell(
        f'{gone} equipour assess harbour-light --approve --bar "$BAR"', bar, **environment
    )
    assert named.returncode == 0, named.stderr
    assert f"approved in {bar}" in named.stderr
    not_named = shell(f"{gone} equipour shelf", bar, **environment)
    assert not_named.returncode == 2
    assert "is not there any more" in not_named.stderr
    assert not_named.stderr.count("\n") == 1


@pytest.mark.skipif(sys.platform != "linux", reason="limits of memory differ elsewhere")
def test_too_little_memory_is_said(bar: Path) -> None:
    for limit_kb in (60_000, 120_000, 170_000):
        done = shell(f'ulimit -v {limit_kb}; equipour design sour --bar "$BAR"', bar)
        assert (done.returncode, done.stderr) == (74, "equipour: there is not enough memory.\n")


RAISED = [
    (MemoryError(), 74, "equipour: there is not enough memory.\n"),
    (RecursionError(), 2, "equipour: something in a file nests too deeply.\n"),
    (KeyboardInterrupt(), 130, "equipour: interrupted\n"),
    (BrokenPipeError(), 141, ""),
    (OSError(5, "Input/output error"), 74, "equipour: the system refuses: input/output error.\n"),
    (PermissionError(13, "Permission denied", "a\x1b\n"), 74,
     "equipour: the system refuses (a\\x1b\\n): permission denied.\n"),
    (ImportError("no module"), 74,
     "equipour: a part of the installation cannot be loaded: no module.\n"),
]  # fmt: skip


@pytest.mark.parametrize(("error", "code", "said"), RAISED, ids=lambda value: repr(value)[:30])
def test_every_failure_within_a_command_has_its_code_and_its_sentence(
    error: BaseException, code: int, said: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail() -> None:
        raise error

    monkeypatch.setattr(command_line, "_check_memory", fail)
    result = CliRunner().invoke(main, ["shelf"])
    assert (result.exit_code, result.output) == (code, said)


def test_a_fault_of_ours_is_one_line_for_a_report_and_not_exit_code_1(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def fail() -> None:
        raise KeyError("x")

    monkeypatch.setattr(command_line, "_check_memory", fail)
    result = CliRunner().invoke(main, ["shelf"])
    assert result.exit_code == 70
    assert result.output.startswith("equipour: this is a fault of equipour, nothing was proven.")
    assert f"KeyError: 'x' at {__file__}, line " in result.output
    assert result.output.count("\n") == 1


def test_the_codes_are_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "200")
    told = " ".join(CliRunner().invoke(main, ["--help"]).output.split())
    for code in (exits.INTERRUPTED, exits.READER_GONE, exits.FAULT, exits.DISPUTED, 74):
        assert f"{code} " in told


def interrupted(line: Sequence[str], after_s: float) -> subprocess.CompletedProcess[str]:
    process = subprocess.Popen(
        [sys.executable, "-S", "-c", READY, *line],
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": os.pathsep.join([str(ROOT), *sys.path])},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    assert process.stdout is not None
    assert process.stdout.readline() == "begins\n"
    time.sleep(after_s)
    process.send_signal(signal.SIGINT)
    output, errors = process.communicate()
    return subprocess.CompletedProcess(line, process.returncode, output, errors)


READY = """
import _signal
_signal.signal(_signal.SIGINT, _signal.default_int_handler)
from solver.cli.start import start
listen = _signal.signal
def listening(number, handler):
    listen(number, handler)
    _signal.signal = listen
    print("begins", flush=True)
_signal.signal = listening
start()
"""
"""It says "begins" as soon as it listens: no interrupt can come between the two."""


@pytest.mark.parametrize("after_s", [0.0, 0.02, 0.05, 0.1])
def test_an_interrupt_while_the_program_is_loaded_ends_it_quietly(
    after_s: float, bar: Path
) -> None:
    done = interrupted(["design", "sour", "--bar", str(bar)], after_s)
    assert (done.returncode, done.stdout, done.stderr) == (130, "", "equipour: interrupted\n")


@pytest.mark.sweep
def test_interrupts_at_three_hundred_moments_end_it_quietly(bar: Path) -> None:
    for number in range(300):
        done = interrupted(["design", "sour", "--bar", str(bar)], number / 300)
        assert done.returncode in {0, 130}, done.stderr
        assert "Traceback" not in done.stderr
        assert "ignored" not in done.stderr


def test_what_cannot_be_imported_is_one_line(
    monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    def leave(code: int) -> None:
        raise SystemExit(code)

    monkeypatch.setitem(sys.modules, "solver.cli.main", None)
    monkeypatch.setattr(os, "_exit", leave)
    with pytest.raises(SystemExit, match="70"):
        start()
    assert capfd.readouterr().err.startswith("equipour: it cannot start: ModuleNotFoundError")


def test_an_error_outside_any_command_has_its_sentence_too(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def fail(*_: object, **__: object) -> None:
        raise OSError(5, "Input/output error")

    monkeypatch.setattr(click.Group, "main", fail)
    with pytest.raises(SystemExit, match="74"):
        start()
    assert capsys.readouterr().err == "equipour: the system refuses: input/output error.\n"


def test_a_command_hardly_looks_for_garbage(monkeypatch: pytest.MonkeyPatch) -> None:
    """At Python's own pace all that is imported is walked over and over, and again at the end."""
    walks: list[str] = []

    def answer(*_: object, **__: object) -> None:
        gc.callbacks.append(lambda phase, _: walks.append(phase))
        kept = [[number] for number in range(50_000)]
        gc.callbacks.pop()
        assert kept

    monkeypatch.setattr(click.Group, "main", answer)
    pace, frozen = gc.get_threshold(), gc.get_freeze_count()
    try:
        with pytest.raises(SystemExit, match="0"):
            start()
    finally:
        gc.set_threshold(*pace)
    assert not walks
    assert gc.get_freeze_count() > frozen


@pytest.mark.parametrize("method", ["make_context", "invoke"])
def test_an_interrupt_between_two_steps_is_not_exit_code_1(
    method: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Click by itself would end with 1, which means that something is proven impossible."""

    def interrupt(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(main, method, interrupt)
    result = CliRunner().invoke(main, ["shelf"])
    assert (result.exit_code, result.output.strip()) == (130, "equipour: interrupted")


def test_a_path_is_shown_from_where_one_stands(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    assert near(tmp_path / "specs" / "a.toml") == str(Path("specs") / "a.toml")
    assert near(Path("/elsewhere/a.toml")) == "/elsewhere/a.toml"
