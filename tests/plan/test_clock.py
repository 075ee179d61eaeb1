"""Nothing is planned to be started before now; what is then too late is said."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, time
from pathlib import Path

import pytest

from solver.pantry import bar as bars
from solver.pantry.bar import Bar
from solver.show.plan.text import plan_text
from solver.tasks.plan.answer import Plan, Refusal
from solver.tasks.plan.in_the_way import in_the_way
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
    assert in_the_way(friday.question) == (
        "the syrup: 0 mL there; more takes 6.5 h and is cooked on Friday, so none is ready before "
        f"{on(4)}",
    )
