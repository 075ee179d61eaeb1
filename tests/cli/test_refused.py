"""What is asked for and cannot be: one sentence that says what to do, and nothing is written."""

from __future__ import annotations

import shlex
import shutil
from pathlib import Path

from click.testing import CliRunner

from solver.cli.main import main
from tests.each import each
from tests.open_bars import OPEN

DEMO = Path(__file__).parents[2] / "demo"


def content() -> dict[Path, bytes]:
    return {path: path.read_bytes() for path in DEMO.rglob("*") if path.is_file()}


@each([
    ("stock log 99", "the log has no entry 99"),
    ("stock undo 1 2 --json", "a document tells of one entry"),
    ("stock out gin '99 bottles'", "there is no such amount of gin to take out"),
    ("stock out gin '0 ml'", "'0 ml' is nothing"),
    ("stock out pisco '1 bottle'", "pisco is not on the shelf"),
    (f"stock sold {DEMO}/sales.csv --as 'HARBOUR LIGHT'", "maps no name to a spec"),
    (f"stock sold {DEMO}/sales.csv --as 'HARBOUR LIGHT=harbor-ligt'",
     "'harbor-ligt' is not a spec of this bar"),
    (f"stock sold {DEMO}/sales.csv --skip 'nothing like it'", "does not stand in sales.csv"),
    (f"stock sold {DEMO}/sales.csv --column quantity", "a column is not WHAT=HEADING"),
    (f"init {DEMO}/bar.toml", "that is a file and no folder"),
    ("plan weekend --no-buying --spend 20", "two answers to one question"),
    ("plan weekend --use-up rhubarb-syrup", "does not say what is to be gone by when"),
    ("plan --drinks many harbour-light", "'many' is not a number"),
    ("plan --drinks 1.5 harbour-light", "'1.5' is no number of drinks"),
    ("price harbour-light --at 0", "a price is more than nothing"),
    ("price harbour-light --at '-1'", "it is below zero"),
    ("prep rhubarb-syrup --aim '60 Brix' --step '0.00001 g'", "are more than a scale"),
    ("prep rhubarb-syrup --aim '60 Brix' --stored '300 C'", "dissolved at 300 °C is not known"),
])  # fmt: skip
def test_one_sentence_says_why_not(line: str, said: str) -> None:
    before = content()
    bar = [] if line.startswith("init") else ["--bar", str(DEMO)]
    done = CliRunner().invoke(main, [*shlex.split(line), *bar], obj=OPEN)
    assert (done.exit_code, done.stdout) == (2, ""), done.output
    assert said in " ".join(done.stderr.split()), done.stderr
    assert content() == before


def test_what_was_undone_is_undone_once_and_the_log_says_so(tmp_path: Path) -> None:
    bar = shutil.copytree(DEMO, tmp_path / "bar")

    def stock(*line: str) -> tuple[int, str]:
        done = CliRunner().invoke(main, ["stock", *line, "--bar", str(bar)])
        return done.exit_code, done.output

    assert stock("log") == (0, "Nothing has moved yet.\n")
    assert stock("in", "rye-whiskey", "2 bottles")[0] == 0
    assert stock("undo", "1")[0] == 0
    code, said = stock("undo", "1")
    assert (code, "entry 1 was undone already" in said) == (2, True), said
    code, said = stock("log", "1")
    assert code == 0
    first, *moves = said.splitlines()
    assert first.startswith("Entry 1")
    assert first.endswith("; undone")
    assert any(line.startswith("  rye-whiskey  ") for line in moves), said
    assert "1 earlier: --last 2 shows all." in stock("log", "--last", "1")[1]


def test_a_guest_of_a_file_without_a_profile_is_asked_for_one(tmp_path: Path) -> None:
    guests = tmp_path / "guests.toml"
    guests.write_text('[[guests]]\nname = "Ada"\nwithout = ["nuts"]\n', encoding="utf-8")
    line = ["check", "--requests", str(guests), "--bar", str(DEMO)]
    done = CliRunner().invoke(main, line, obj=OPEN)
    assert (done.exit_code, done.stdout) == (2, "")
    assert "Ada names no profile" in done.stderr
