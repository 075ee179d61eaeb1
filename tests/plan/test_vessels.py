"""Where what is prepared is made, against every way to place it."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.pantry.vessels import HEADSPACE, Vessel
from solver.show.plan.document import plan_json
from solver.show.plan.words import job_beside
from solver.tasks.plan.answer import Job
from solver.tasks.plan.vessels import with_vessels
from tests.plan.bars import SYRUP, bar_in, coming, on, planned, spec

JUG, POT = Vessel("jug", 2_000.0), Vessel("pot", 8_000.0)
LONG = spec("Long", gin="40 ml", plain="30 ml")
SHELF = "gin,700 ml,20,9 bottles\nwhite-sugar,1 kg,2,9 kg\n"


@cache
def cooked() -> Job:
    with TemporaryDirectory() as folder:
        (job,) = planned(coming((2, 20)), bar_in(Path(folder), SHELF, LONG, house=SYRUP)).jobs
    return job


def jobs(*volumes_ml: float, day: int = 2) -> list[Job]:
    return [replace(cooked(), amount=ml, start=None, ready=on(day)) for ml in volumes_ml]


def told(found: Sequence[Job]) -> list[str]:
    return [job_beside(job)[0] for job in found]


def test_each_thing_has_the_smallest_vessel_that_holds_it() -> None:
    assert told(with_vessels(jobs(1_500, 6_000), [POT, JUG])) == ["in the jug", "in the pot"]


def test_what_finds_its_vessel_taken_is_made_twice_in_a_smaller_one() -> None:
    assert told(with_vessels(jobs(7_000, 3_000), [POT, JUG])) == [
        "in the pot",
        "in two makes in the jug",
    ]


def test_what_cannot_be_made_twice_in_a_free_one_waits_for_its_turn() -> None:
    name = cooked().ingredient.name
    assert told(with_vessels(jobs(7_000, 6_000), [POT, JUG])) == [
        "in the pot",
        f"in the pot, after the {name}",
    ]


def test_what_is_ready_before_another_begins_leaves_its_vessel() -> None:
    found = with_vessels([*jobs(7_000), *jobs(6_000, day=4)], [POT, JUG])
    assert told(found) == ["in the pot", "in the pot"]


def test_a_bar_that_names_no_vessels_is_told_of_none() -> None:
    assert with_vessels(jobs(7_000), []) == tuple(jobs(7_000))


def test_a_plan_says_who_needs_what_vessel(tmp_path: Path) -> None:
    bar = replace(bar_in(tmp_path, SHELF, LONG, house=SYRUP), vessels=(POT, JUG))
    plan = planned(coming((2, 20)), bar)
    assert [job.vessel and job.vessel.vessel for job in plan.jobs] == [JUG]
    assert '"vessel": {"name": "jug"' in plan_json(plan, bar).replace("\n", "").replace("  ", "")


@given(
    st.lists(st.integers(100, 9_000), min_size=1, max_size=4),
    st.lists(st.integers(500, 10_000), min_size=1, max_size=4),
)
def test_where_each_can_have_a_vessel_of_its_own_each_has(
    volumes: list[int], sizes: list[int]
) -> None:
    vessels = [Vessel(str(at), size) for at, size in enumerate(sizes)]
    found = with_vessels(jobs(*volumes), vessels)
    ways = itertools.permutations(sizes, len(volumes))
    possible = any(
        all(ml <= size * (1 - HEADSPACE) for ml, size in zip(volumes, way, strict=True))
        for way in ways
    )
    uses = [job.vessel for job in found if job.vessel]
    alone = all(use.makes == 1 and use.after is None for use in uses)
    assert alone == possible
    for use, ml in zip(uses, volumes, strict=True):
        assert ml <= use.makes * use.vessel.volume_ml * (1 - HEADSPACE) * (1 + 1e-12)
    taken = [use.vessel for use in uses if use.after is None]
    assert len(taken) == len(set(taken))


@pytest.mark.parametrize("volume_ml", [8_000, 30_000])
def test_what_no_vessel_holds_is_made_in_several(volume_ml: float) -> None:
    (job,) = with_vessels(jobs(volume_ml), [POT])
    assert job.vessel
    assert job.vessel.makes == {8_000: 2, 30_000: 4}[int(volume_ml)]
