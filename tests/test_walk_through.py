"""The walk-through and README say what the command does: every example is run.

In a block of the walk-through `$ ` begins a command and the lines below it are what it prints; a
line `...` stands for any number of lines. Times and versions are not compared. A command ends with
status 0 unless the text above its block says "exit status is" another.
"""

from __future__ import annotations

import re
import shlex
import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from solver.cli.main import main
from tests.open_bars import OPEN

ROOT = Path(__file__).parents[1]
WALK_THROUGH = (ROOT / "demo" / "walk-through.md").read_text(encoding="utf-8")
README = (ROOT / "README.md").read_text(encoding="utf-8")
BLOCK = re.compile(r"^```console\n(.*?)^```$", flags=re.MULTILINE | re.DOTALL)


@dataclass(frozen=True)
class Step:
    """A command of the walk-through, what it prints, and the exit status that the text names."""

    line: int
    command: str
    printed: str
    status: int


def steps(text: str) -> Iterator[Step]:
    """Every command of a text, in order."""
    above = 0
    for block in BLOCK.finditer(text):
        before = text[above : block.start()]
        said = re.search(r"exit\s+status\s+is\s+(\d)", before)
        line = text.count("\n", 0, block.start()) + 2
        command, _, printed = block[1].partition("\n")
        assert command.startswith("$ equipour "), f"line {line} is no command"
        arguments = command.removeprefix("$ equipour ")
        yield Step(line, arguments, printed, int(said[1]) if said else 0)
        above = block.end()


def steady(text: str) -> str:
    """Without what differs from run to run: times, dates of today, versions."""
    text = re.sub(r"\d+\.\d+ s\b", "# s", text)
    return re.sub(r"(CP-SAT|SCIP) [\d.]+\d", r"\1 #", text)


def as_shown(printed: str, output: str) -> bool:
    """Whether an output is the printed one, `...` standing for any lines."""
    pattern = "".join(
        r"(?:.*\n)*?" if line == "..." else re.escape(f"{line}\n")
        for line in steady(printed).splitlines()
    )
    return re.fullmatch(pattern, steady(output)) is not None


def run(arguments: str) -> Result:
    return CliRunner().invoke(main, shlex.split(arguments), input="shelf\n", obj=OPEN)  # for `ask`


@pytest.fixture
def copy(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with a copy of the demo bar in it, which is the current folder."""
    shutil.copytree(ROOT / "demo", tmp_path / "demo")
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("EQUIPOUR_BAR", raising=False)
    monkeypatch.setenv("COLUMNS", "80")
    return tmp_path


STRETCHES = 8
"""The walk-through is taken in so many, each a test of its own, so that two cores share them."""
WRITING = {"stock", "shelf", "recipe", "init", "tasted"}
WRITES = {"--apply", "--save", "--stock", "--approve"}


def may_write(step: Step) -> bool:
    """Whether later steps may find the bar otherwise after this one."""
    command, *words = shlex.split(step.command)
    return command in WRITING or not WRITES.isdisjoint(words)


def steps_of(stretch: int) -> list[Step]:
    every = list(steps(WALK_THROUGH))
    begin, end = (len(every) * at // STRETCHES for at in (stretch, stretch + 1))
    assert end > begin + 1
    return every[begin:end]


@pytest.fixture(scope="module")
def left() -> list[Path]:
    """The bar before the first stretch, and as each later one finds it as far as was asked."""
    return [ROOT / "demo"]


@pytest.mark.parametrize("stretch", range(STRETCHES))
def test_every_step_of_the_walk_through_prints_what_it_says(
    stretch: int,
    copy: Path,
    left: list[Path],
    tmp_path_factory: pytest.TempPathFactory,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    for missing in range(len(left) - 1, stretch):
        left.append(shutil.copytree(left[-1], tmp_path_factory.mktemp("left") / "demo"))
        monkeypatch.chdir(left[-1])
        for step in filter(may_write, steps_of(missing)):
            run(step.command)
    monkeypatch.chdir(shutil.copytree(left[stretch], copy / "evening" / "demo"))
    for step in steps_of(stretch):
        result = run(step.command)
        at = f"walk-through.md, line {step.line}: equipour {step.command}"
        assert result.exit_code == step.status, f"{at}\n{result.output}"
        assert step.printed, f"{at}\nshows nothing"
        assert as_shown(step.printed, result.output), f"{at}\n{result.output}"


def examples() -> list[str]:
    """The commands that README shows, without their comments."""
    lines = [line for block in BLOCK.finditer(README) for line in block[1].splitlines()]
    return [line.partition("  #")[0].strip() for line in lines if line.startswith("equipour ")]


ANSWERED = {f"equipour {step.command}" for step in steps(WALK_THROUGH) if step.status == 0}
"""What the walk-through asks too: there its answer is compared, letter by letter."""


UNANSWERED = [each for each in examples() if each not in ANSWERED]
LITTLE_S = 0.25
"""Seconds that an example has: whether it is one that is understood shows long before its proof."""


SEARCHING = {"check", "design", "menu", "plan", "tradeoff"}
"""Commands that may search for seconds, until their time is up."""


@pytest.mark.parametrize("command", UNANSWERED)
def test_every_example_of_readme_is_understood(
    command: str, copy: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(copy / "demo")
    arguments = command.removeprefix("equipour ")
    little = f" --time-limit {LITTLE_S}" if arguments.split()[0] in SEARCHING else ""
    result = run(arguments + little)
    assert result.exit_code in ({0, 3} if little else {0}), result.output
    assert result.output


@pytest.mark.sweep
@pytest.mark.parametrize("command", UNANSWERED)
def test_every_example_of_readme_is_answered(
    command: str, copy: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(copy / "demo")
    result = run(command.removeprefix("equipour "))
    assert result.exit_code == 0, result.output


def test_readme_has_examples_of_every_command() -> None:
    assert {command.split()[1] for command in examples()} == set(main.commands)


@pytest.mark.usefixtures("copy")
def test_the_first_command_of_readme_answers_with_a_proof() -> None:
    question = re.search(r"&& \.venv/bin/equipour (.+)$", README, flags=re.MULTILINE)
    assert question is not None
    result = run(question[1])
    assert result.exit_code == 0, result.output
    assert "rhubarb syrup" in result.output
    assert "Proven" in result.output


def test_what_is_shown_is_compared_line_by_line() -> None:
    assert as_shown("a\n...\nd\n", "a\nb\nc\nd\n")
    assert as_shown("1.8 s\n", "0.2 s\n")
    assert not as_shown("a\n", "a\nb\n")
    assert not as_shown("a\n...\nc\n", "a\nb\n")
    assert not as_shown("17 %\n", "18 %\n")
