"""One question after another: each answered as the command line does, and none ends the rest."""

from __future__ import annotations

import contextlib
import io
import os
import re
import select
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from solver.cli.conversation import Conversation
from solver.cli.main import main
from solver.pantry.bar import Bar
from tests.tasks.bars import DEMO


@pytest.fixture
def bar(tmp_path: Path) -> Path:
    shutil.copytree(DEMO, tmp_path / "demo")
    return tmp_path / "demo"


def ask(bar: Path, *lines: str) -> Result:
    return CliRunner().invoke(main, ["--bar", str(bar), "ask"], input="\n".join(lines))


def steady(text: str) -> str:
    return re.sub(r"\d+\.\d+ s\b", "# s", text)


@pytest.mark.parametrize(
    "line",
    ["shelf", "design sour --abv 17%", "check harbour-light --lighter", "specs --csv",
     "profiles nothing", "assess '2 oz gin'", "check sour --without alcohol", "--help"],
)  # fmt: skip
def test_an_answer_is_what_the_command_line_prints(bar: Path, line: str) -> None:
    import shlex

    words = ["--bar", str(bar), *shlex.split(line)]
    alone = CliRunner().invoke(main, words, prog_name="equipour")
    asked = ask(bar, line)
    assert steady(asked.stdout) == steady(alone.stdout)
    assert steady(asked.stderr) == steady(alone.stderr)
    assert asked.exit_code == alone.exit_code


def test_a_mistake_does_not_end_it_and_the_worst_code_is_the_last(bar: Path) -> None:
    result = ask(bar, "foo", "profiles sour", 'assess "2 oz', "check sour --without alcohol", "")
    assert "no such command 'foo'" in result.stderr
    assert "a quotation mark is missing" in result.stderr
    assert "sour: spirit" in result.stdout
    assert "This shelf has no such sour" in result.stdout
    assert result.exit_code == 2


def test_what_comes_after_the_end_is_not_asked(bar: Path) -> None:
    for word in ("quit", "exit"):
        result = ask(bar, "# the shelf", "profiles sour", word, "foo")
        assert result.exit_code == 0
        assert result.stderr == ""


def test_help_tells_of_all_commands_or_of_one(bar: Path) -> None:
    assert "Commands:" in ask(bar, "help").output
    assert "--without" in ask(bar, "help check").output


def test_it_is_not_asked_within_itself(bar: Path) -> None:
    assert "this is where questions are asked" in ask(bar, "ask").stderr


@contextlib.contextmanager
def printed() -> Iterator[io.StringIO]:
    with contextlib.redirect_stdout(io.StringIO()) as out:
        yield out


def test_the_bar_is_loaded_once_and_again_when_a_file_changes(
    bar: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from solver.pantry import load_bar as home

    loads: list[Path | None] = []
    load = home.load_bar

    def counted(root: Path | None, *, with_shelf: bool = True) -> Bar:
        loads.append(root)
        return load(root, with_shelf=with_shelf)

    monkeypatch.setattr(home, "load_bar", counted)
    asked = iter(["shelf", "shelf", "specs", "CHANGE", "shelf", "specs"])
    conversation = Conversation(main, bar)
    said: list[str] = []
    for line in asked:
        if line == "CHANGE":
            shelf = bar / "shelf.csv"
            shelf.write_text(shelf.read_text().replace("21.50", "99.50"))
            (bar / "specs" / "rope-store.toml").unlink()
            continue
        with printed() as out:
            assert conversation.answer([line]) == 0
        said.append(out.getvalue())
    assert loads == [bar, bar]
    assert "21.50" in said[0]
    assert "99.50" in said[3]
    assert "Rope Store" in said[2]
    assert "Rope Store" not in said[4]


def test_an_edited_profile_counts_from_the_next_question_on(bar: Path) -> None:
    conversation = Conversation(main, bar)
    said: list[str] = []
    for text in ("15..17%", "16..18%"):
        profile = bar / "profiles" / "bollard-sour.toml"
        lines = profile.read_text().splitlines()
        aims = lines.index("[aims]")
        at = next(at for at in range(aims, len(lines)) if lines[at].startswith("abv"))
        lines[at] = f'abv = "{text}"'
        profile.write_text("\n".join(lines))
        with printed() as out:
            assert conversation.answer(["assess", "harbour-light"]) == 0
        said.append(out.getvalue())
    assert "15..17 % vol" in said[0]
    assert "16..18 % vol" in said[1]


@pytest.mark.parametrize(
    ("before", "begun", "found"),
    [
        ("", "des", "design "),
        ("", "qu", "quit "),
        ("help ", "reb", "rebalance "),
        ("design ", "bol", "bollard-sour "),
        ("design ", "harb", "harbour-light "),
        ("design sour ", "--wi", "--with "),
        ("design sour --with ", "rye", "rye-whiskey "),
        ("assess ", "last", "last-ferry "),
    ],
)
def test_words_are_completed_as_the_shell_does(before: str, begun: str, found: str) -> None:
    assert found in Conversation(main, DEMO).completions(before, begun)


def test_what_cannot_be_read_is_not_completed() -> None:
    assert Conversation(main, DEMO).completions('assess "2 oz', "gin") == []


def test_an_interrupt_ends_one_question_and_not_the_rest(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    held = Conversation(main, DEMO)
    answer = held.answer

    def interrupted_once(words: list[str]) -> int:
        if words == ["check", "any"]:
            raise KeyboardInterrupt
        return answer(words)

    monkeypatch.setattr(held, "answer", interrupted_once)
    lines = iter(["check any", "profiles bollard-sour"])
    assert held._answer_all(lambda: next(lines, None), on_terminal=True) == 130
    said = capsys.readouterr()
    assert "interrupted" in said.err
    assert "the house sour" in said.out


@pytest.mark.skipif(sys.platform == "win32", reason="there are no such terminals")
def test_an_interrupt_ends_a_question_and_end_of_file_the_rest(bar: Path) -> None:
    import pty

    ours, theirs = pty.openpty()
    line = [sys.executable, "-m", "solver", "--bar", str(bar), "ask"]
    process = subprocess.Popen(line, stdin=theirs, stdout=theirs, stderr=theirs)

    said = ""

    def heard(until: str) -> None:
        nonlocal said
        patience = time.monotonic() + 60
        while until not in said and time.monotonic() < patience:
            if select.select([ours], [], [], 0.1)[0]:
                said += os.read(ours, 65536).decode(errors="replace")
        assert until in said
        said = said.partition(until)[2]  # what comes after it is for the next to hear

    try:
        heard("equipour> ")
        os.write(ours, b"check any --time-limit 50\n")
        heard("check any")
        process.send_signal(signal.SIGINT)
        heard("equipour> ")
        os.write(ours, b"profiles bollard-sour\n")
        heard("the house sour")
        heard("equipour> ")
        os.write(ours, b"\x04")
        assert process.wait(60) == 0
    finally:
        process.kill()
        process.wait()
        os.close(ours)
        os.close(theirs)
