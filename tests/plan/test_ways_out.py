"""Every way out of a plan that cannot be is asked again, word for word, and has a plan."""

from __future__ import annotations

import random
import re
import tempfile
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from solver.pantry.bar import Bar
from solver.pantry.plan_file import Coming, read_share
from solver.tasks.plan.answer import Plan, PlanWayOut, Refusal
from tests.each import each
from tests.plan.bars import SYRUP, answer, bar_in, coming, on, spec

NAMES = ("One", "Two", "Three")
SHARES = (
    "One=40% Two=30% Three",
    "One=20..60% Two=5..20% Three",
    "One=50% Two=50%",
    "One=30..70% Two",
    "One Two",
)


def typed(way: PlanWayOut, asked: Coming, bar: Bar) -> tuple[Coming, Bar]:
    """What somebody asks who reads a way out."""
    words = way.nearest or "without " + " and ".join(way.dropped)
    for part in re.split(r"(?: and|,) (?=without|more bought|none on|\d+ drinks? on)", words):
        said, _, without = part.partition("without ")
        asked, bar = _with(said.strip(), asked, bar)
        for demand in without.split(" and ") if without else ():
            asked, bar = _without(demand, asked, bar)
    return asked, bar


def _with(said: str, asked: Coming, bar: Bar) -> tuple[Coming, Bar]:
    if not said:
        return asked, bar
    if said == "more bought":
        return replace(asked, spend=None), bar
    if night := re.fullmatch(r"(none|\d+ drinks?) on (\S+)", said):
        count = 0 if night[1] == "none" else int(night[1].split()[0])
        day = date.fromisoformat(night[2])
        nights = tuple((d, count if d == day else n) for d, n in asked.nights)
        return replace(asked, nights=tuple(each for each in nights if each[1])), bar
    if share := re.fullmatch(r"(\d\S*\.\.\S+ %) (\w+)", said):
        stated = {**dict.fromkeys(NAMES[: len(asked.shares)]), **asked.shares}
        return replace(asked, shares={**stated, share[2]: read_share(share[1])}), bar
    if spent := re.fullmatch(r"([\d.]+) EUR spent", said):
        return replace(asked, spend=float(spent[1])), bar
    if most := re.fullmatch(r"(\d+) (\w+) a night", said):
        return asked, replace(bar, most_a_night={most[2]: int(most[1])})
    if batch := re.fullmatch(r"a batch of (\d+ mL) the syrup", said):
        return replace(asked, batches={"plain": batch[1]}), bar
    assert re.fullmatch(r"\d+ mL of .* left after \S+", said), said
    return replace(asked, use_up={}), bar


def _without(demand: str, asked: Coming, bar: Bar) -> tuple[Coming, Bar]:
    if share := re.fullmatch(r"at (least|most) ([\d.]+) % (\w+)", demand):
        known = asked.shares[share[3]]
        low, high = (known.low, known.high) if known else (0, 10_000)
        ends = f"0..{high / 100}%" if share[1] == "least" else f"{low / 100}..100%"
        return replace(asked, shares={**asked.shares, share[3]: read_share(ends)}), bar
    if "spent" in demand or demand == "nothing bought":
        return replace(asked, spend=None), bar
    if demand.endswith("a night"):
        return asked, replace(bar, most_a_night={})
    assert demand.startswith("using up "), demand
    return replace(asked, use_up={}), bar


def refused(seeds: Iterator[int], folder: Path) -> Iterator[tuple[int, Coming, Bar, Refusal]]:
    """Small bars that cannot do what is asked of them."""
    for seed in seeds:
        pick = random.Random(seed)
        place = folder / str(seed)
        place.mkdir()
        shelf = (
            f"gin,700 ml,20,{pick.choice((0, 1, 2, 9))} bottles,,,,\n"
            f"vodka,700 ml,15,{pick.choice((1, 3))} bottles,,,{pick.choice(('', '6'))},\n"
            f"soda-water,200 ml,0.5,{pick.choice((6, 24, 90))} bottles,,,"
            f"{pick.choice(('', '24'))},Quay\n"
            "white-sugar,1 kg,2,9 kg,,,,\n"
        )
        drinks = (
            spec("One", gin="40 ml", plain="20 ml"),
            spec("Two", vodka="50 ml", soda_water=pick.choice(("100 ml", "150 ml"))),
            spec("Three", gin="30 ml", soda_water="60 ml").replace('"sour"', '"highball"'),
        )
        bar = bar_in(place, shelf, *drinks, house=SYRUP)
        limits = {} if pick.random() < 0.6 else {"shake": pick.randint(3, 15)}
        bar = replace(bar, most_a_night=limits)
        days = sorted(pick.sample(range(6), pick.randint(1, 3)))
        asked = coming(
            *((day, pick.randint(5, 40)) for day in days),
            shares=pick.choice(SHARES),
            spend=pick.choice((None, 0.0, 20.0)),
            cook_on=frozenset(pick.sample(range(7), pick.choice((1, 7)))),
        )
        found = answer(asked, bar)
        if isinstance(found, Refusal):
            yield seed, asked, bar, found


SEEDS = (1, 3, 5, 6, 7, 8, 9, 10, 11, 14, 15, 18, 19, 22)
"""Those of the first 24 that between them are told every sort of way out that these are."""


@each(SEEDS)
def test_every_way_out_that_is_told_has_a_plan_when_it_is_asked(seed: int) -> None:
    follow(seed)


@pytest.mark.sweep
@pytest.mark.parametrize("seed", range(60))
def test_every_way_out_that_is_told_has_a_plan_at_length(seed: int) -> None:
    follow(seed)


def follow(seed: int) -> None:
    with tempfile.TemporaryDirectory() as folder:
        for _, asked, bar, found in refused(iter((seed,)), Path(folder)):
            for way in found.ways:
                again, bar_then = typed(way, asked, bar)
                assert again.nights, way
                assert isinstance(answer(again, bar_then), Plan), way


def test_what_there_is_is_shared_out_among_the_nights(tmp_path: Path) -> None:
    """Where nobody says on which night there are fewer, the busy one does not starve."""
    bar = bar_in(tmp_path, "gin,700 ml,20,700 ml\n", spec("One", gin="50 ml"))
    found = answer(coming((0, 40), (1, 20), spend=0.0), bar)
    assert isinstance(found, Refusal)
    days = [way.nearest for way in found.ways if way.nearest.count("drinks on") == 2]
    assert days == [f"9 drinks on {on(0)} and 5 drinks on {on(1)}"]


def test_what_is_let_go_reads_without_a_second_no(tmp_path: Path) -> None:
    shelf = "gin,700 ml,20,9 bottles\nsoda-water,200 ml,0.5,40 bottles\nlime-juice,1 l,8,900 ml\n"
    bar = bar_in(tmp_path, shelf, spec("One", gin="50 ml", lime_juice="10 ml"))
    found = answer(coming((0, 10), use_up={"lime juice": on(0)}), bar)
    assert isinstance(found, Refusal)
    words = [said for way in found.ways for said in (way.nearest, *way.dropped)]
    assert words
    assert not any(said.startswith("no ") or "without no" in said for said in words)
