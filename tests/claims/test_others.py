"""Whatever cuts the other commands short, and whenever: what they say is part of the whole truth.

The whole truth is what they say with all the time there is, which other tests compare with every
drink. Cut short, they may say less of it, and must own up to that.
"""

from __future__ import annotations

import random
import re
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from typing import Generic, TypeVar

import pytest

from solver.cli.exits import exit_code_of_all
from solver.errors import Unproven, Where
from solver.pantry.guests import Guest, Placed
from solver.requests.origin import ASKED
from solver.requests.request import Request
from solver.search.milp.cpsat import CpSat
from solver.show.text.check import verdicts_text
from solver.show.text.prep_strengths import served_text
from solver.show.text.rebalanced_book import book_text
from solver.show.text.swapped import swap_text
from solver.show.text.tradeoff import tradeoff_text
from solver.tasks.check import Verdict, check_all
from solver.tasks.design_result import Status
from solver.tasks.prep.additions import Aimed, BatchWish, aim_at
from solver.tasks.prep.best_strength import Served, serve
from solver.tasks.prep.strength_grid import Grid, GridPoint
from solver.tasks.respec.bar_changes import read_changes
from solver.tasks.respec.book import Book, State, rebalance_book
from solver.tasks.respec.rebalanced import Rebalanced
from solver.tasks.respec.substitutes import Swap
from solver.tasks.respec.swap import Swaps, swap
from solver.tasks.tradeoff import Tradeoff, tradeoff
from tests.claims.moments import Cut, counted, cut_short, moment
from tests.prep.bars import TODAY
from tests.respec.specs import demo, spec_of
from tests.tasks.bars import small_bar, small_wish, sour

Told = TypeVar("Told")


@dataclass(frozen=True)
class Command(Generic[Told]):
    """A command, and what must hold of what it says when it is cut short, beside all it knows."""

    run: Callable[[], Told]
    check: Callable[[Told, Told], None]


def guests(seed: int) -> Command[tuple[Verdict, ...]]:
    rng = random.Random(seed)
    bar = small_bar(rng)
    placed: list[Placed] = []
    for number in range(3):
        asked = small_wish(rng, bar)
        table = {"name": f"guest {number}", "with": list(asked.wanted), **asked.measures}
        placed.append(Placed(Guest.model_validate(table), Where("guests")))

    def run() -> tuple[Verdict, ...]:
        return check_all(placed, "sour", {"sour": sour().origin[0]}, bar, Request(), CpSat())

    def check(found: tuple[Verdict, ...], whole: tuple[Verdict, ...]) -> None:
        stopped = False
        for one, all_ in zip(found, whole, strict=True):
            assert one.name == all_.name
            assert one.found.status in {all_.found.status, Status.STOPPED}
            if stopped:
                assert one.found.status is Status.STOPPED
                assert one.found.answer is None
            stopped |= one.found.interrupted
            if one.found.status is Status.OPTIMAL:
                assert one.found.answer is not None
                assert all_.found.answer is not None
                assert one.found.answer.pours == all_.found.answer.pours
            if one.found.why is not None and all_.found.why is not None:
                conflicts, every = (
                    {frozenset(d for d in each if d.origin == ASKED) for each in w.conflicts}
                    for w in (one.found.why, all_.found.why)
                )
                assert conflicts <= every
                assert one.found.why.undecided or one.found.why.ways_out
        text = verdicts_text(found, bar)
        code = exit_code_of_all([each.found for each in found])
        assert (code == 130) == stopped
        unknown = [v for v in found if v.found.status is Status.STOPPED]
        assert code in ({130} if stopped else {3} if unknown else {0, 1})
        assert text.count(": not known") + text.count("not proven") == len(unknown)

    return Command(run, check)


def curve(seed: int) -> Command[Tradeoff]:
    rng = random.Random(seed)
    bar = small_bar(rng)
    between = rng.choice(
        [
            ("cost", "off-aim"),
            ("abv", "cost"),
            ("off-aim", "ethanol"),
            ("cost", "in-keeping"),
            ("in-keeping", "off-aim"),
        ]
    )

    def run() -> Tradeoff:
        return tradeoff(sour(), bar, Request(), between, CpSat(), 12)

    def check(found: Tradeoff, whole: Tradeoff) -> None:
        places = [(spot.first, spot.second) for spot in found.spots]
        every = [(spot.first, spot.second) for spot in whole.spots]
        if whole.complete:
            assert set(places) <= set(every)
        for first, second in set(every) - set(places):
            inside = [
                low[0] - 1e-6 <= first <= high[0] + 1e-6
                and low[1] - 1e-6 <= second <= high[1] + 1e-6
                for low, high in found.unsearched
            ]
            assert any(inside) or not found.spots
        if places != every:
            assert not found.complete
            assert found.stopped
        assert not found.interrupted or found.stopped
        text = tradeoff_text(found, bar)
        assert found.complete or re.search("Stopped before|ask for more|nothing proven", text)

    return Command(run, check)


def spec_pours(found: Rebalanced) -> object:
    return (found.after.spec.pours if found.after else None, found.held)


def same_or_less(found: Rebalanced, whole: Rebalanced) -> None:
    assert spec_pours(found) == spec_pours(whole)
    assert set(found.conflicts) <= set(whole.conflicts)
    if not found.undecided:
        assert set(found.conflicts) == set(whole.conflicts)
        assert (found.finer is None) == (whole.finer is None)


def swapped(seed: int) -> Command[Swaps]:
    bar = demo()
    name, out = random.Random(seed).choice(
        [("rope-store", "bourbon"), ("weighbridge", "amaro"), ("last-ferry", "almond-spice-syrup")]
    )

    def run() -> Swaps:
        return swap(spec_of(name, bar), bar, out, None, CpSat())

    def check(found: Swaps, whole: Swaps) -> None:
        every = {each.instead: each for each in whole.found}
        assert len(found.found) + found.untried == len(whole.found)
        for each in found.found:
            explained = each in (found.best, whole.best)
            if not explained or each.instead == (whole.best or each).instead:
                same_or_less(_plain(each, explained), _plain(every[each.instead], explained))
            assert spec_pours(each.result) == spec_pours(every[each.instead].result)
        text = swap_text(found, out, bar)
        assert ("time was up" in text) == (found.untried > 0)

    return Command(run, check)


def _plain(found: Swap, explained: bool) -> Rebalanced:
    """Without reasons, which only the best is asked for."""
    result = found.result
    if explained:
        return result
    return Rebalanced(result.before, result.after, result.kept, result.lines, result.held)


def book(seed: int) -> Command[Book]:
    bar = demo()
    figures, gone = random.Random(seed).choice(
        [(("lemon-juice.acid=4 g/100ml",), ()), ((), ("bourbon",)), (("gin.abv=55%",), ("amaro",))]
    )
    changes = read_changes(figures, gone, (), bar)

    def run() -> Book:
        return rebalance_book(bar, changes, CpSat())

    def check(found: Book, whole: Book) -> None:
        for one, all_ in zip(found.entries, whole.entries, strict=True):
            assert one.state in {all_.state, State.UNDECIDED}
            if one.state is not State.UNDECIDED and one.result and all_.result:
                same_or_less(one.result, all_.result)
        unknown = found.of(State.UNDECIDED)
        text = " ".join(book_text(found, demo()).split())
        assert ("proven for every spec" in text) <= (not unknown)
        assert ("the time was up" in text) == bool(unknown)

    return Command(run, check)


def syrup(_: int) -> Command[Served]:
    bar = demo()
    grid = Grid(46, 48, coarse=2, fine=1)

    def run() -> Served:
        profiles = ("old-fashioned", "hot-coffee")
        return serve("almond-spice-syrup", profiles, bar, TODAY, CpSat(), grid)

    def check(found: Served, whole: Served) -> None:
        every: dict[GridPoint, dict[str, float | None]] = {
            strength.point: {s.profile: s.off_aim for s in strength.servings}
            for strength in whole.strengths
        }
        for strength in found.strengths:
            for serving in strength.servings:
                known = every.get(strength.point, {}).get(serving.profile)
                if known is not None and serving.off_aim is not None:
                    assert serving.off_aim == pytest.approx(known)
                if known is not None:
                    assert serving.worst >= known - 1e-9
        text = served_text(found, bar)
        assert ("Every drink on the grid is proven closest" in text) == found.proven
        assert ("Not proven" in text) == (not found.proven)
        if found.proven:
            assert found.best.point == whole.best.point

    return Command(run, check)


def batch(seed: int) -> Command[Aimed]:
    bar = demo()
    aims = random.Random(seed).choice([("60 Brix",), ("40 Brix", "acid 2 g/100ml"), ("79 Brix",)])

    def run() -> Aimed:
        return aim_at("rhubarb-syrup", BatchWish(aims), bar, TODAY)

    def check(found: Aimed, whole: Aimed) -> None:
        assert found.added == whole.added
        assert set(found.held.limits) <= set(whole.held.limits)
        assert found.held.undecided or found.held == whole.held

    return Command(run, check)


COMMANDS: dict[str, Callable[[int], Command[object]]] = {
    made.__name__: made  # type: ignore[misc]
    for made in (guests, curve, swapped, book, syrup, batch)
}


@cache
def whole_of(name: str, seed: int) -> tuple[Command[object], object, dict[str, int]]:
    command = COMMANDS[name](seed)
    with counted() as counts:
        whole = command.run()
    command.check(whole, whole)
    return command, whole, counts


def tried(name: str, seed: int, number: int) -> str:
    """Cut a command short at a random moment, and check what it says."""
    command, whole, counts = whole_of(name, seed)
    cut, at = moment(random.Random(f"{name} {seed} {number}"), counts)
    try:
        with cut_short(cut, at):
            found = command.run()
    except KeyboardInterrupt:
        assert cut in {Cut.INTERRUPT, Cut.ANYWHERE}
        return "interrupted"
    except Unproven:
        assert cut in {Cut.TIME, Cut.SHARE}
        return "unproven"
    command.check(found, whole)
    return "said"


@pytest.mark.parametrize("name", COMMANDS)
def test_what_is_said_is_part_of_the_whole_truth(name: str) -> None:
    ends = {tried(name, 0, number) for number in range(4)}
    assert ends <= {"said", "unproven", "interrupted"}


@pytest.mark.sweep
@pytest.mark.parametrize("name", COMMANDS)
@pytest.mark.parametrize("seed", range(1, 6))
def test_what_is_said_is_part_of_the_whole_truth_at_length(name: str, seed: int) -> None:
    for number in range(20):
        tried(name, seed, number)
    whole_of.cache_clear()
