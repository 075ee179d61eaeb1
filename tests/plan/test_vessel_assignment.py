"""Where what is prepared is made, against every way to place it."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime, time, timedelta
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.pantry.plan_file import OPENS
from solver.pantry.vessels import HEADSPACE, Vessel
from solver.show.documents.plan import plan_json
from solver.show.text.plan_words import job_beside
from solver.tasks.plan.answer import Job
from solver.tasks.plan.hours import Hours, start_by
from solver.tasks.plan.vessel_assignment import with_vessels as with_vessels_at
from tests.plan.bars import SYRUP, TODAY, bar_in, coming, on, planned, spec

JUG, POT = Vessel("jug", 2_000.0), Vessel("pot", 8_000.0)
LONG = spec("Long", gin="40 ml", plain="30 ml")
SHELF = "gin,700 ml,20,9 bottles\nwhite-sugar,1 kg,2,9 kg\n"


@cache
def cooked() -> Job:
    with TemporaryDirectory() as folder:
        (job,) = planned(coming((2, 20)), bar_in(Path(folder), SHELF, LONG, house=SYRUP)).jobs
    return job


def jobs(*volumes_ml: float, day: int = 2) -> list[Job]:
    supply = replace(cooked().supply, hours=None, fills=1.0)
    job = replace(cooked(), supply=supply, start=None, ready=on(day))
    return [replace(job, amount=ml) for ml in volumes_ml]


def with_vessels(jobs: Sequence[Job], vessels: Sequence[Vessel]) -> tuple[Job, ...]:
    return with_vessels_at(jobs, vessels, OPENS, datetime.combine(TODAY, time.min))


def told(found: Sequence[Job]) -> list[str]:
    return [str(job_beside(job)[0]) for job in found]


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
        f"in the pot, after the {name}",
        "in the pot",
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
    for vessel in vessels:
        first = [use for use in uses if use.vessel == vessel and use.fits and use.after is None]
        assert len(first) <= 1


@pytest.mark.parametrize("volume_ml", [8_000, 30_000])
def test_what_no_vessel_holds_is_made_in_several(volume_ml: float) -> None:
    (job,) = with_vessels(jobs(volume_ml), [POT])
    assert job.vessel
    assert job.vessel.makes == {8_000: 2, 30_000: 4}[int(volume_ml)]


def timed(number: int, ml: float, hours: float, day: int) -> Job:
    """A job of so many hours that is to be ready on a day."""
    job = cooked()
    return replace(
        job,
        ingredient=job.ingredient.model_copy(update={"name": f"thing {number}"}),
        supply=replace(job.supply, hours=Hours(hours, stated=True), fills=1.0),
        amount=ml,
        ready=on(day),
        start=start_by(on(day), OPENS, hours),
    )


@given(
    st.lists(
        st.builds(
            lambda *args: args,
            st.integers(100, 9_000),
            st.sampled_from([0.5, 2.5, 6, 8.5, 13, 20, 72.5]),
            st.integers(4, 7),
        ),
        min_size=1,
        max_size=7,
    ),
    st.lists(st.integers(500, 10_000), min_size=1, max_size=3),
)
def test_no_vessel_holds_two_things_at_the_same_hour(
    wanted: list[tuple[int, float, int]], sizes: list[int]
) -> None:
    vessels = [Vessel(str(at), size) for at, size in enumerate(sizes)]
    before = [timed(at, *each) for at, each in enumerate(wanted)]
    found = with_vessels(before, vessels)
    turns: list[tuple[str, datetime, datetime]] = []
    for job, was, (ml, hours, day) in zip(found, before, wanted, strict=True):
        use = job.vessel
        assert use is not None
        assert job.start is not None
        assert was.start is not None
        if not use.fits:
            assert job.start == was.start
            continue
        assert ml <= use.makes * use.vessel.room_ml * (1 + 1e-12)
        end = job.start + use.makes * timedelta(hours=hours)
        assert end <= datetime.combine(on(day), OPENS)
        assert job.day == was.day  # what goes in is taken on that day
        assert job.start <= was.start
        turns.append((use.vessel.name, job.start, end))
    for one, other in itertools.combinations(turns, 2):
        assert one[0] != other[0] or one[2] <= other[1] or other[2] <= one[1]


def test_what_is_pressed_stands_in_its_vessel_until_the_night_is_over(tmp_path: Path) -> None:
    flip = spec("Flip", gin="50 ml", egg_yolk="15 ml", lemon_juice="9 ml", lime_juice="20 ml")
    shelf = (
        "gin,700 ml,20,9 bottles\nwhole-egg,10 pieces,3,30 pieces\nwhole-limes,,0.3,90 pieces\n"
        "whole-lemons,,0.3,90 pieces\n"
    )
    small = Vessel("jar", 500), Vessel("can", 1_000)
    plan = planned(coming((1, 9), (2, 9)), replace(bar_in(tmp_path, shelf, flip), vessels=small))
    evenings = [[job for job in plan.jobs if job.ready == on(day)] for day in (1, 2)]
    for pressed in evenings:
        uses = [job.vessel for job in pressed if job.vessel]
        assert len(pressed) == 3
        assert {use.vessel for use in uses} == {*small}  # one each, and the third in none
        assert len(uses) == 2
        assert not any(use.after for use in uses)
        assert all(use.fits for use in uses)


def test_a_little_juice_stands_in_no_stockpot(tmp_path: Path) -> None:
    flip = spec("Flip", gin="50 ml", egg_yolk="1 piece", lemon_juice="50 ml")
    shelf = (
        "gin,700 ml,20,9 bottles\nwhole-egg,10 pieces,3,30 pieces\nwhole-lemons,,0.3,90 pieces\n"
    )
    bar = replace(bar_in(tmp_path, shelf, flip), vessels=(JUG, Vessel("stockpot", 8000)))
    jobs = {job.ingredient.key: job for job in planned(coming((0, 6)), bar).jobs}
    assert jobs["lemon-juice"].vessel is not None
    assert jobs["egg-yolk"].amount == pytest.approx(6 * 16.5)
    assert jobs["egg-yolk"].vessel is None


def test_nothing_is_cooked_where_juice_stands(tmp_path: Path) -> None:
    drink = spec("Sour", gin="50 ml", plain="20 ml", lime_juice="20 ml")
    shelf = f"{SHELF}whole-limes,,0.3,90 pieces\n"
    bar = replace(bar_in(tmp_path, shelf, drink, house=SYRUP), vessels=(JUG,))
    plan = planned(coming((2, 9)), bar)
    vessels = {job.ingredient.key: job.vessel for job in plan.jobs}
    assert vessels["plain"] is not None  # until the bar opens: the juice is in another by then
    assert vessels["lime-juice"] is None


def test_makes_one_after_another_need_the_hours_of_each() -> None:
    jug = Vessel("jug", 500)
    (job,) = with_vessels([timed(1, 1_400, 8.5, 2)], [jug])
    assert told([job]) == ["no vessel is free for it: 3 makes in the jug take 26 h"]
    (short,) = with_vessels([timed(1, 1_400, 2, 2)], [jug])
    assert told([short]) == ["in 3 makes in the jug"]
    assert short.start == datetime.combine(on(2), time(12))


def test_what_steeps_for_days_keeps_its_vessel() -> None:
    gin, milk = timed(1, 680, 72.5, 4), timed(2, 740, 8.5, 2)
    found = with_vessels([gin, milk], [JUG])
    assert told(found) == ["no vessel is free for it then", "in the jug"]
    both = with_vessels([gin, milk], [JUG, POT])
    assert told(both) == ["in the pot", "in the jug"]


def test_all_that_goes_in_must_fit() -> None:
    job = replace(timed(1, 1_480, 6, 2), supply=replace(timed(1, 1, 6, 2).supply, fills=1.53))
    assert told(with_vessels([job], [JUG])) == [
        "no vessel is free for it: 2 makes in the jug take 12 h"
    ]
    assert told(with_vessels([job], [JUG, POT])) == ["in the pot"]


def test_a_recipe_fills_more_than_it_gives(tmp_path: Path) -> None:
    strained = SYRUP.partition("[plain.recipe.measured]")[0]
    strained += '[[plain.recipe.steps]]\ndo = "strain"\nthrough = "cloth"\n'
    house = strained.replace('water = "500 g"', 'water = "700 g"\nalmonds = "200 g"')
    (job,) = planned(coming((2, 20)), bar_in(tmp_path, SHELF, LONG, house=house)).jobs
    # 700 g of water, 500 g of sugar at some 1.59 g/mL and 200 g of almonds at about 1 g/mL.
    assert job.filled_ml == pytest.approx(700 + 500 / 1.62 + 200, rel=0.05)
