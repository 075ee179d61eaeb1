"""Nothing is planned to be started before now; what is then too late is said."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, time
from pathlib import Path

import pytest

from solver.pantry import bar as bars
from solver.pantry.bar import Bar
from solver.show.text.plan import plan_text
from solver.tasks.plan.answer import Plan, Refusal
from solver.tasks.plan.missing_supplies import missing_supplies
from tests.plan.bars import SYRUP, TODAY, answer, bar_in, coming, on, planned, spec

SOUR = spec("Sour", gin="50 ml", plain="20 ml")
SHELF = "gin,700 ml,20,9 bottles\nwhite-sugar,1 kg,2,9 kg\n"
SIX_H = SYRUP.replace('"20 h"', '"6 h"')


def bar_at(folder: Path, hour: time, monkeypatch: pytest.MonkeyPatch, house: str = SIX_H) -> Bar:
    """A bar whose calendar says so, and not its file."""
    monkeypatch.setattr(bars, "now", lambda: datetime.combine(TODAY, hour))
    return replace(bar_in(folder, SHELF, SOUR, house=house), today_stated=False)


@pytest.mark.parametrize(
    ("hour", "there_is"), [(time(9), True), (time(11, 30), True), (time(11, 31), False)]
)
def test_what_cannot_be_ready_any_more_is_not_poured(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, hour: time, there_is: bool
) -> None:
    # 6 h and half an hour of hands before 18:00.
    found = answer(coming((0, 10)), bar_at(tmp_path, hour, monkeypatch))
    assert isinstance(found, Plan if there_is else Refusal)


def test_a_no_says_when_it_would_be_ready(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    bar = bar_at(tmp_path, time(18, 27), monkeypatch)
    found = answer(coming((0, 10)), bar)
    assert isinstance(found, Refusal)
    assert found.in_the_way == (
        "the syrup: 0 mL there; more takes 6.5 h: begun now, it is ready 2026-05-05 00:57",
    )
    assert "begun now" in " ".join(plan_text(found, bar).split())


def test_every_start_is_still_to_come(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    bar = bar_at(tmp_path, time(13, 10), monkeypatch)
    found = planned(coming((1, 10), (3, 300)), bar)
    assert found.jobs
    assert all(job.start is not None and job.start >= bar.now for job in found.jobs)


def test_a_day_that_is_stated_is_there_from_its_first_hour(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    bar = replace(bar_at(tmp_path, time(22), monkeypatch), today_stated=True)
    assert bar.now == datetime.combine(TODAY, time.min)
    assert isinstance(answer(coming((0, 10)), bar), Plan)
    other_day = replace(bar, today=date(2026, 5, 1), today_stated=False)
    assert other_day.now == datetime.combine(date(2026, 5, 1), time.min)


def test_a_no_says_that_the_kitchen_cooks_too_seldom(tmp_path: Path) -> None:
    bar = bar_in(tmp_path, SHELF, SOUR, house=SIX_H)  # keeps five days
    monday = frozenset({0})
    found = answer(coming((1, 9), (6, 9), cook_on=monday), bar)
    assert isinstance(found, Refusal)
    assert found.in_the_way == (
        "the syrup: 0 mL there; more keeps 5 days and is cooked on Monday, so there is none on "
        f"{on(6)}",
    )
    friday = answer(coming((1, 9), cook_on=frozenset({4})), bar)
    assert isinstance(friday, Refusal)
    assert missing_supplies(friday.question) == (
        "the syrup: 0 mL there; more takes 6.5 h and is cooked on Friday, so none is ready before "
        f"{on(4)}",
    )


HALF_A_DAY = SYRUP.replace('"20 h"', '"12 h"')
MONDAY, THURSDAY = frozenset({0}), frozenset({3})


@pytest.mark.parametrize("hour", [time(9), time(19, 50), time(23, 59)])
def test_what_is_begun_now_and_ready_tomorrow_is_there_for_tomorrows_night(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, hour: time
) -> None:
    # 12.5 h: a day ahead, it would be begun by 18:00.
    bar = bar_at(tmp_path, hour, monkeypatch, HALF_A_DAY)
    (job,) = planned(coming((1, 10)), bar).jobs
    assert job.start == datetime.combine(TODAY, max(hour, time(18)))
    assert job.ready == on(1)


def test_what_is_begun_now_is_not_there_for_a_night_that_begins_before(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    long = SYRUP.replace('"20 h"', '"22 h"')
    in_time = bar_at(tmp_path, time(19, 31), monkeypatch, long)
    assert isinstance(answer(coming((1, 10)), in_time), Refusal)
    assert isinstance(answer(coming((1, 10), opens=time(20)), in_time), Plan)


@pytest.mark.parametrize("hours", ["2 h", "8 h", "12 h"])
def test_on_a_day_to_cook_it_is_cooked_while_there_is_time(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, hours: str
) -> None:
    house = SYRUP.replace('"20 h"', f'"{hours}"')
    bar = bar_at(tmp_path, time(19, 50), monkeypatch, house)
    (job,) = planned(coming((1, 10), cook_on=MONDAY), bar).jobs
    assert (job.start, job.ready) == (bar.now, on(1))
    other = answer(coming((1, 10), cook_on=THURSDAY), bar)
    assert isinstance(other, Refusal)
    assert len(other.in_the_way) == 1
    assert f"none is ready before {on(4 if hours == '12 h' else 3)}" in other.in_the_way[0]


def test_what_takes_longer_says_when_what_is_begun_today_is_ready(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    house = SYRUP.replace('"20 h"', '"30 h"')
    bar = bar_at(tmp_path, time(19, 50), monkeypatch, house)
    found = answer(coming((1, 10), cook_on=MONDAY), bar)
    assert isinstance(found, Refusal)
    assert found.in_the_way[0].endswith(f"cooked on Monday, so none is ready before {on(2)}")
    (job,) = planned(coming((2, 10), cook_on=MONDAY), bar).jobs
    assert job.day == TODAY
