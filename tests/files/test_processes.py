"""Real processes, killed while they write, and two at a time: all or nothing, and nothing lost."""

from __future__ import annotations

import itertools
import random
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.files.processes import Ended, Helper, Run, helper

DEMO = Path(__file__).parents[2] / "demo"
SAVE = ("design", "highball", "--with", "gin", "--bottles", "<=2", "--save")
APPROVE = ("assess", "harbour-light", "--approve")
APPLY = ("rebalance", "--set", "lemon-juice.acid=4 g/100ml", "--out-of", "bourbon", "--apply")
STOCK = ("prep", "rhubarb-syrup", "--stock", "--made", "2026-05-08")
SWAP = ("swap", "rope-store", "bourbon", "rye-whiskey", "--save", "Rope Walk")
WRITING = {
    "save": (*SAVE, "Slow Tide"),
    "replace": (*SAVE, "Harbour Light", "--replace"),
    "approve": APPROVE,
    "apply": APPLY,
    "swap": SWAP,
    "stock": STOCK,
}
REFUSED = ("while the command ran", "there is a spec", "is on the shelf already")
MOST_CALLS = 90
"""More calls to the disk than any of these makes."""

State = dict[str, bytes]


@pytest.fixture(scope="module")
def processes() -> Iterator[Helper]:
    with helper() as started:
        yield started


def bar(folder: Path) -> Path:
    shutil.copytree(DEMO, folder)
    return folder


def state(bar: Path) -> State:
    return {str(p.relative_to(bar)): p.read_bytes() for p in bar.rglob("*") if p.is_file()}


def kill_it(name: str, number: int, old: Path, new: State, processes: Helper, folder: Path) -> bool:
    """Kill a command once, let the next one mend what it left; whether it was killed at all."""
    copy = folder / "bar"
    shutil.rmtree(copy, ignore_errors=True)
    shutil.copytree(old, copy)
    chance = random.Random(number)
    how = (
        Run(copy, WRITING[name], at=number // 2 % MOST_CALLS)
        if number % 2
        else Run(copy, WRITING[name], after_s=0.02 * chance.random() ** 3)
    )
    (ended,) = processes.together(how)
    killed = ended.code == -9
    assert killed or ended.code in {0, 1}, ended.errors
    following = processes.run(copy, "shelf")
    assert following.code == 0, following.errors
    assert not following.errors or "an earlier command was stopped" in following.errors
    assert state(copy) in (state(old), new), (name, number, following.errors)
    if not killed or "saved in" in ended.errors or "written:" in ended.errors:
        assert state(copy) == new
    assert processes.run(copy, "shelf").errors == ""
    return killed


@pytest.mark.parametrize("name", ["save", "approve", "stock"])
def test_a_killed_command_wrote_all_or_nothing(
    name: str, processes: Helper, tmp_path: Path
) -> None:
    killed_again_and_again(name, [0, 67], processes, tmp_path)


@pytest.mark.sweep
@pytest.mark.parametrize("name", WRITING)
def test_a_hundred_kills_of_each_command_are_all_or_nothing(
    name: str, processes: Helper, tmp_path: Path
) -> None:
    killed = killed_again_and_again(name, itertools.count(), processes, tmp_path, until=100)
    assert killed == 100


def killed_again_and_again(
    name: str,
    numbers: itertools.count[int] | list[int],
    processes: Helper,
    folder: Path,
    until: int = 1000,
) -> int:
    old, done = bar(folder / "old"), bar(folder / "done")
    assert processes.run(done, *WRITING[name]).code in {0, 1}
    new = state(done)
    assert new != state(old)
    killed = 0
    for number in numbers:
        killed += kill_it(name, number, old, new, processes, folder)
        if killed == until:
            break
    assert killed > 0
    return killed


PAIRS = [
    (STOCK, ("prep", "almond-spice-syrup", "--make", "0.5x", "--stock", "--made", "2026-05-08")),
    (STOCK, STOCK),
    ((*SAVE, "Slow Tide"), (*SAVE, "Quick Tide")),
    ((*SAVE, "Slow Tide"), (*SAVE, "Slow Tide")),
    (APPROVE, ("assess", "last-ferry", "--approve")),
    (APPROVE, APPROVE),
    (APPLY, ("assess", "rope-store", "--approve")),
    (APPLY, APPLY),
    (STOCK, (*SAVE, "Slow Tide")),
    ((*SAVE, "Rope Walk"), SWAP),
]


@pytest.mark.parametrize("number", [0, 3])
def test_two_commands_at_a_time_are_as_one_after_the_other(
    number: int, processes: Helper, tmp_path: Path
) -> None:
    at_a_time(PAIRS[number], 1, processes, tmp_path)


@pytest.mark.sweep
@pytest.mark.parametrize("number", range(len(PAIRS)))
def test_fifty_pairs_of_commands_at_a_time_lose_nothing(
    number: int, processes: Helper, tmp_path: Path
) -> None:
    at_a_time(PAIRS[number], 5, processes, tmp_path)


def at_a_time(
    pair: tuple[tuple[str, ...], tuple[str, ...]], times: int, processes: Helper, folder: Path
) -> None:
    """Run a pair: what both say they did is there, and what one refused to do is not."""
    one, other = pair
    allowed: dict[tuple[bool, bool], list[State]] = {}
    for order in ((0, 1), (1, 0), (0,), (1,)):
        alone = bar(folder / "".join(map(str, order)))
        did = [False, False]
        for at in order:
            did[at] = done(processes.run(alone, *pair[at]))
            allowed.setdefault((did[0], did[1]), []).append(state(alone))
    for time in range(times):
        shared = bar(folder / f"shared-{time}")
        ended = processes.together(Run(shared, one), Run(shared, other))
        did = [done(each) for each in ended]
        assert any(did), ended
        assert state(shared) in allowed[did[0], did[1]], [each.errors for each in ended]


def done(ended: Ended) -> bool:
    """Whether a command did what it was asked; if it did not, it said why."""
    assert ended.code in {0, 1, 2}, ended.errors
    if ended.code == 2:
        assert any(said in ended.errors for said in REFUSED)
        return False
    return any(word in ended.errors for word in ("saved in", "written:", "approved in"))
