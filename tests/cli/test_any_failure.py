"""Whatever is wrong with the bar's files, and whatever the system fails at: a command ends well.

Every command runs on a copy of the demonstration bar, in which a file may be broken, and on a disk
that may be full, fail, be interrupted or die at any call. It ends with one of its codes, never with
a traceback; what it says it wrote is written; what it did not write is as it was; and the next
command finds all of it or nothing.
"""

from __future__ import annotations

import functools
import shutil
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from solver.cli.main import main
from solver.errors import BadInput
from solver.files.atomic import settled
from tests.examples import examples
from tests.files.faults import KILLS, Fault, faulty
from tests.pantry.strategies import broken_csv, broken_toml

DEMO = Path(__file__).parents[2] / "demo"
GUESTS = b'[[guests]]\nname = "table 4"\nprofile = "highball"\nwithout = ["dairy"]\n'
LIST = b"name;size;price\npisco;70cl;28,50\ngin;0,7;22\nour own;1l;3\n"
READING = (
    ("shelf",),
    ("shelf", "import", "list.csv", "--dry-run"),
    ("help", "files"),
    ("ingredients",),
    ("ingredients", "rhubarb syrup"),
    ("profiles",),
    ("profiles", "bollard-sour"),
    ("assess", "harbour-light"),
    ("assess", "specs/last-ferry.toml"),
    ("design", "bollard-sour", "--bottles", "<=4"),
    ("check", "highball", "--without", "dairy"),
    ("check", "--requests", "guests.toml"),
    ("swap", "rope-store", "bourbon", "rye-whiskey"),
    ("prep", "almond-spice-syrup"),
    ("price", "harbour-light"),
    ("stock", "past"),
    ("prep", "rhubarb-syrup", "--aim", "52 Brix"),
)
WRITING = (
    ("design", "highball", "--with", "gin", "--bottles", "<=2", "--save", "Slow Tide"),
    ("design", "highball", "--with", "gin", "--bottles", "<=2", "--save", "dry dock", "--replace"),
    ("assess", "harbour-light", "--approve"),
    ("assess", "specs/last-ferry.toml", "--approve"),
    ("swap", "rope-store", "bourbon", "rye-whiskey", "--save", "Rope Walk"),
    ("rebalance", "--out-of", "bourbon", "--apply"),
    ("prep", "rhubarb-syrup", "--stock", "--made", "2026-05-08"),
    ("recipe", "ginger honey syrup", "1 L water", "800 g honey", "simmer 5 min", "strain"),
    ("recipe", "rhubarb-syrup", "--weight", "4.1 kg", "--brix", "50"),
    ("batch", "weighbridge", "--serves", "4", "--stock"),
    ("stock", "in", "gin", "2", "bottles", "--price", "20"),
    ("stock", "sold", "sales.csv", "--skip", "coat check (invented)"),
    ("tradeoff", "highball", "--with", "gin", "--bottles", "<=2", "--points", "2", "--picture",
     "curve.svg"),
    ("shelf", "add", "pisco", "--size", "70cl", "--price", "28"),
    ("shelf", "set", "gin", "--on-hand", "3"),
    ("shelf", "remove", "absinthe"),
    ("shelf", "import", "list.csv", "--update"),
    ("init", "new", "--country", "Germany"),
)  # fmt: skip
CODES = {0, 1, 2, 3, 74, 130}
MOST_CALLS = 90

State = dict[str, bytes]


@dataclass(frozen=True)
class Case:
    """A command, the file that is broken and what it holds, and where the disk fails."""

    line: tuple[str, ...]
    file: str | None
    content: bytes
    fault: Fault | None
    at: int

    def prepare(self, folder: Path) -> Path:
        """The bar, ready for the command."""
        bar = folder / "bar"
        shutil.rmtree(bar, ignore_errors=True)
        shutil.copytree(DEMO, bar)
        (bar / "guests.toml").write_bytes(GUESTS)
        (bar / "list.csv").write_bytes(LIST)
        if self.file is not None:
            (bar / self.file).write_bytes(self.content)
        return bar


FILES = (
    "bar.toml",
    "shelf.csv",
    "guests.toml",
    *(str(path.relative_to(DEMO)) for path in sorted(DEMO.rglob("*/*.toml"))),
)


@functools.cache
def good(file: str) -> str:
    return GUESTS.decode() if file == "guests.toml" else (DEMO / file).read_text(encoding="utf-8")


@st.composite
def broken(draw: st.DrawFn) -> Case:
    """A command on a bar with a broken file, and a sound disk."""
    file = draw(st.sampled_from(FILES))
    content = draw((broken_csv if file.endswith(".csv") else broken_toml)(good(file)))
    line = draw(st.sampled_from([*READING, *WRITING]))
    return Case(line, file, content, None, -1)


@st.composite
def failing(draw: st.DrawFn) -> Case:
    """A command that writes, on a disk that fails."""
    line = draw(st.sampled_from(WRITING))
    return Case(line, None, b"", draw(st.sampled_from(Fault)), draw(st.integers(0, MOST_CALLS)))


@st.composite
def both(draw: st.DrawFn) -> Case:
    """Both at a time."""
    one, other = draw(broken()), draw(failing())
    return Case(other.line, one.file, one.content, other.fault, other.at)


ANY = broken() | failing() | failing() | both()


def state(bar: Path) -> State:
    return {str(p.relative_to(bar)): p.read_bytes() for p in bar.rglob("*") if p.is_file()}


def run(line: tuple[str, ...]) -> Result:
    return CliRunner().invoke(main, list(line))


def check(case: Case, folder: Path) -> None:
    with pytest.MonkeyPatch.context() as patch:
        bar = case.prepare(folder)
        patch.chdir(bar)
        before = state(bar)
        with faulty(case.fault, case.at):
            result = run(case.line)
        if case.fault not in KILLS:
            check_ending(result)
        mend(bar)
        after = state(bar)
        if case.fault not in KILLS:
            check_words(result, before, after)
        if after != before:
            assert case.line in WRITING
            patch.chdir(case.prepare(folder))
            run(case.line)
            assert after == state(bar), "half of it"


def mend(bar: Path) -> None:
    """What the next command does first; where it says that it can't, nothing is changed."""
    told: list[str] = []
    for folder in filter(Path.is_dir, (bar, bar / "new")):  # the second may be a bar by now
        with settled(folder, told.append):
            assert all("an earlier command was stopped" in sentence for sentence in told)


def check_ending(result: Result) -> None:
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exc_info
    assert result.exit_code in CODES, result.output
    assert "Traceback" not in result.output
    assert all(c.isprintable() or c == "\n" for c in result.output)
    if result.exit_code in {2, 74}:
        assert result.stderr.startswith("equipour: ")
        assert len(result.stderr) < 4000


def check_words(result: Result, before: State, after: State) -> None:
    """What is said to be written is, and what is not said to be was not, unless interrupted."""
    notes = ("saved in", "written:", "approved in", "drawn in")
    said = any(f"equipour: {word}" in result.stderr for word in notes)
    if result.exit_code != 130:
        assert (after != before) <= said
    if result.exit_code in {2, 74}:
        assert after == before


quiet = settings(suppress_health_check=[HealthCheck.too_slow, HealthCheck.function_scoped_fixture])


@settings(quiet, max_examples=examples(0.3))  # ten thousand with -m sweep
@given(case=ANY)
def test_a_command_ends_well_whatever_fails(case: Case, tmp_path: Path) -> None:
    check(case, tmp_path)


@pytest.mark.sweep
@pytest.mark.parametrize("kind", [broken, failing, both])
def test_ten_thousand_commands_end_well(
    kind: Callable[[], st.SearchStrategy[Case]], tmp_path: Path
) -> None:
    @settings(quiet, max_examples=3334)
    @given(case=kind())
    def many(case: Case) -> None:
        check(case, tmp_path)

    many()


@pytest.mark.parametrize("line", WRITING, ids=" ".join)
def test_every_writing_command_writes_where_nothing_fails(
    line: tuple[str, ...], tmp_path: Path
) -> None:
    """What the others are compared with is something."""
    bar = Case(line, None, b"", None, -1).prepare(tmp_path)
    before = state(bar)
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(bar)
        assert run(line).exit_code in {0, 1}
    assert state(bar) != before


def test_a_bar_that_cannot_be_mended_is_said(tmp_path: Path) -> None:
    bar = Case(("shelf",), None, b"", None, -1).prepare(tmp_path)
    (bar / ".equipour-journal").write_bytes(b"{}")
    with pytest.raises(BadInput):
        mend(bar)
    result = run(("shelf", "--bar", str(bar)))
    assert result.exit_code == 2
    assert "journal of an interrupted command" in result.stderr
