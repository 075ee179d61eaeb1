"""What is cut short is marked, ends with its own code, and is not written without a word."""

from __future__ import annotations

import json
import shutil
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from solver.cli.exits import EXIT_CODES
from solver.cli.main import main
from solver.search.lexicographic import Disagreed
from solver.search.problem import Drink
from solver.search.result import Impossible, Optimal
from tests.claims.moments import Cut, counted, cut_short
from tests.open_bars import OPEN

DEMO = Path(__file__).parents[2] / "demo"
README = (DEMO.parent / "README.md").read_text(encoding="utf-8")
SOUR = ("design", "bollard-sour")
GUESTS = "".join(f'[[guests]]\nname = "table {n}"\nwith = "gin"\n' for n in range(4))


@pytest.fixture
def bar(tmp_path: Path) -> Path:
    folder = tmp_path / "bar"
    shutil.copytree(DEMO, folder)
    return folder


def run(*arguments: str, bar: Path = DEMO) -> Result:
    return CliRunner().invoke(main, ["--bar", str(bar), *arguments], obj=OPEN)


@cache
def looks(*arguments: str) -> int:
    """How often a command looks at a clock."""
    with counted(calls=False) as counts:
        assert run(*arguments).exit_code in {0, 1}
    return counts["looks"]


def cut(how: Cut, at: int, *arguments: str, bar: Path = DEMO) -> Result:
    with cut_short(how, at):
        result = run(*arguments, bar=bar)
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exc_info
    return result


def last_cut(bar: Path, *arguments: str) -> int:
    """The last look at which the time may end so that something stays unknown, by halving."""
    with counted(calls=False) as counts:
        run(*arguments, bar=bar)
    cuts, ends = 0, counts["looks"] + 1  # cut short at the one, and at the other no more
    while ends - cuts > 1:
        at = (cuts + ends) // 2
        if cut(Cut.TIME, at, *arguments, bar=bar).exit_code == 3:
            cuts = at
        else:
            ends = at
    return cuts


def document(result: Result) -> dict[str, Any]:
    found = json.loads(result.stdout)
    assert isinstance(found, dict)
    return found


@pytest.mark.parametrize(
    ("option", "unsettled", "says"),
    [
        (("--alternatives", "9"), "alternatives", "alternatives was cut short"),
        (("--verify",), "verify", "stopped before a second solver had its word"),
    ],
)
@pytest.mark.parametrize(("how", "code"), [(Cut.TIME, 3), (Cut.INTERRUPT, 130)])
def test_a_proven_answer_without_what_else_was_asked_for_owns_up_to_it(
    option: tuple[str, ...], unsettled: str, says: str, how: Cut, code: int
) -> None:
    """The answer is proven when what comes after it is cut short, at its first look."""
    alone = looks(*SOUR, "--json", "--time-limit", "1e6") - reasons_of(SOUR)
    result = cut(how, alone + 1, *SOUR, *option)
    said = " ".join(result.output.split())
    assert result.exit_code == code, said
    assert says in said
    assert "Proven" in said
    found = document(cut(how, alone + 1, *SOUR, *option, "--json"))
    assert found["status"] == "optimal"
    assert found["unsettled"] == [unsettled]
    assert found["interrupted"] == (how is Cut.INTERRUPT)


@cache
def reasons_of(arguments: tuple[str, ...]) -> int:
    """How many of a command's looks are for the reasons: with no share of time, none is left."""
    with counted(calls=False) as whole:
        run(*arguments)
    with pytest.MonkeyPatch.context() as patch, counted(calls=False) as without:
        patch.setattr("solver.tasks.design.why_in_keeping", lambda *_, **__: None)
        run(*arguments)
    return whole["looks"] - without["looks"]


CHEAP, STRONG = ("--cost", "<=1.50"), ("--abv", ">=45%")


@pytest.mark.parametrize(
    ("asked", "how", "code"),
    [(CHEAP, Cut.TIME, 3), (CHEAP, Cut.INTERRUPT, 130), (STRONG, Cut.TIME, 3)],
    ids=["an answer", "an answer, interrupted", "none"],
)
def test_reasons_that_were_asked_for_and_are_missing_are_told(
    asked: tuple[str, ...], how: Cut, code: int
) -> None:
    arguments = ("design", "duo", *asked, "--why")
    last = looks(*arguments)
    result = cut(how, last, *arguments)
    assert result.exit_code == code
    said = " ".join(result.output.split()).lower()
    assert "stopped before" in said or "no time" in said
    assert "proven, " in said or "proven: all" in said
    assert document(cut(how, last, *arguments, "--json"))["unsettled"] == ["reasons"]


def test_reasons_that_nobody_asked_for_do_not_make_an_answer_unproven() -> None:
    last = looks(*SOUR, "--cost", "<=1.50")
    result = cut(Cut.TIME, last, *SOUR, "--cost", "<=1.50")
    assert result.exit_code == 0
    assert "There was no time to tell what holds it back" in " ".join(result.output.split())


def test_the_first_interrupt_stops_all_guests(tmp_path: Path) -> None:
    file = tmp_path / "guests.toml"
    file.write_text(GUESTS, encoding="utf-8")
    arguments = ("check", "bollard-sour", "--requests", str(file))
    whole = looks(*arguments)
    result = cut(Cut.INTERRUPT, whole // 2, *arguments)
    assert result.exit_code == 130
    said = [line for line in result.output.splitlines() if line.startswith("table")]
    assert len(said) == 4
    assert said[0] == "table 0: yes, bollard-sour."
    assert said[-1] == "table 3: not known: it was stopped."
    verdicts = document(cut(Cut.INTERRUPT, whole // 2, *arguments, "--json"))["verdicts"]
    assert [each["status"] for each in verdicts][::3] == ["optimal", "stopped"]


def test_guests_share_the_time(tmp_path: Path) -> None:
    file = tmp_path / "guests.toml"
    file.write_text(GUESTS, encoding="utf-8")
    arguments = ("check", "bollard-sour", "--requests", str(file))
    result = cut(Cut.SHARE, 3, *arguments, "--time-limit", "1e7")
    assert result.exit_code == 3
    said = [line for line in result.output.splitlines() if line.startswith("table")]
    assert said[0].startswith(("table 0: not known", "table 0: yes, though"))
    assert said[3] == "table 3: yes, bollard-sour."


def specs(bar: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in (bar / "specs").iterdir()}


def test_what_is_not_proven_is_saved_only_with_a_word(bar: Path) -> None:
    before = specs(bar)
    save = (*SOUR, "--save", "Slow Tide")
    # As far as a drink is known and not proven.
    at = next(at for at in range(1, 200) if document(cut(Cut.TIME, at, *SOUR, "--json"))["answer"])
    refused = cut(Cut.TIME, at, *save, bar=bar)
    assert refused.exit_code == 3
    assert "nothing was saved, as it is not proven best" in refused.stderr
    assert "--unproven" in refused.stderr
    assert specs(bar) == before
    stopped = cut(Cut.INTERRUPT, at, *save, "--unproven", bar=bar)
    assert stopped.exit_code == 130
    assert specs(bar) == before
    saved = cut(Cut.TIME, at, *save, "--unproven", bar=bar)
    assert saved.exit_code == 3
    assert specs(bar).keys() == {*before, "slow-tide.toml"}


def test_a_swap_that_is_not_proven_the_best_is_saved_only_with_a_word(bar: Path) -> None:
    before = specs(bar)
    swap = ("swap", "rope-store", "bourbon", "--save", "Rope Loft")
    at = looks("swap", "rope-store", "bourbon") - 1
    refused = cut(Cut.TIME, at, *swap, bar=bar)
    assert refused.exit_code == 3
    assert "The time was up before 1 more were settled" in " ".join(refused.stdout.split())
    assert "nothing was saved, as it is not proven the best" in refused.stderr
    assert specs(bar) == before
    saved = cut(Cut.TIME, at, *swap, "--unproven", bar=bar)
    assert saved.exit_code == 3
    assert specs(bar).keys() == {*before, "rope-loft.toml"}


def test_a_book_that_is_not_known_in_full_is_written_only_with_a_word(bar: Path) -> None:
    for path in (bar / "specs").iterdir():
        if path.stem not in {"dry-dock", "harbour-light"}:
            path.unlink()
    before = specs(bar)
    change = ("rebalance", "--set", "lemon-juice.acid=4 g/100ml")
    at = last_cut(bar, *change)
    refused = cut(Cut.TIME, at, *change, "--apply", bar=bar)
    assert refused.exit_code == 3
    assert "nothing was written, as 1 of the specs are not known" in refused.stderr
    assert "proven for all but 1" in " ".join(refused.stdout.split())
    assert specs(bar) == before
    written = cut(Cut.TIME, at, *change, "--apply", "--unproven", bar=bar)
    assert written.exit_code == 3
    changed = {name for name, raw in specs(bar).items() if raw != before[name]}
    assert len(changed) == 1


@pytest.mark.parametrize("arguments", [(*SOUR, "--unproven"), ("rebalance", "--unproven")])
def test_the_word_alone_is_a_slip(arguments: tuple[str, ...]) -> None:
    result = run(*arguments)
    assert result.exit_code == 2
    assert "--unproven goes with" in result.stderr


def test_two_solvers_that_disagree_are_both_told_and_nothing_is_saved(
    bar: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def disagree(_: object, __: object, drink: Drink) -> Disagreed:
        first, second = Optimal(drink, -0.5, -0.5), Optimal(drink, -0.75, -0.75)
        return Disagreed("another solver", first, second)

    monkeypatch.setattr("solver.tasks.subproblems.Subproblems.verified", disagree)
    before = specs(bar)
    result = run(*SOUR, "--verify", "--save", "Slow Tide", bar=bar)
    said = " ".join(result.stdout.split())
    assert result.exit_code == 4
    assert "two ways to prove it come to different ends" in said
    assert "First: most in keeping is a drink like 2 oz" in said
    assert "(worth 0.5)." in said
    assert "another solver: most in keeping is a drink like 2 oz" in said
    assert "(worth 0.75)." in said
    assert "nothing was saved" in result.stderr
    assert specs(bar) == before
    found = document(run(*SOUR, "--verify", "--json"))
    assert found["status"] == "disputed"
    assert not found["proof"]["checked"]
    assert found["proof"]["dispute"]["objective"] == -0.75


@pytest.mark.parametrize("first_is_none", [True, False])
def test_a_drink_against_none_is_a_dispute_too(
    first_is_none: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    def a_drink(*_: object) -> Disagreed:
        return Disagreed("another solver", Impossible(), Optimal((), 0.0, 0.0))

    def none(_: object, __: object, drink: Drink) -> Disagreed:
        return Disagreed("another solver", Optimal(drink, 0.0, 0.0), Impossible())

    monkeypatch.setattr("solver.tasks.design.verified", a_drink)
    monkeypatch.setattr("solver.tasks.subproblems.Subproblems.verified", none)
    asked = (*SOUR, "--abv", ">=25%") if first_is_none else SOUR
    result = run(*asked, "--verify")
    assert result.exit_code == 4
    assert result.output.count("there is no such drink") == 1


def test_every_exit_code_is_named_where_people_look() -> None:
    help_text = " ".join(EXIT_CODES.split())
    for code in ("0", "1", "2", "3", "4", "130"):
        assert f"{code} " in help_text
    assert " ".join(README.split()).count("130 interrupted") == 1
    for words in ("3 stopped", "4 two solvers disagree"):
        assert words in " ".join(README.split())
        assert words in help_text
