"""When to start what is cooked, counted back from opening."""

from __future__ import annotations

from datetime import date, datetime, time
from pathlib import Path

import pytest

from solver.tasks.plan.hours import Hours, hours_of, start_by
from solver.tasks.prep import find_recipe
from tests.prep.bars import bar_with, recipe

PLAIN = 'white-sugar = "1 kg"\nwater = "1 kg"'
DAY = date(2026, 5, 8)


@pytest.mark.parametrize(
    ("steps", "hours"),
    [
        # half an hour of hands is common practice, no source
        ("", Hours(0.5, stated=False)),
        ('do = "simmer"; time = "30 min"', Hours(1.0, stated=True)),
        # FDA Food Code 3-501.14, from memory: two hours for the first half of cooling
        ('do = "cool"', Hours(2.5, stated=False)),
        (
            'do = "simmer"; time = "30 min"\ndo = "steep"; time = "12 hours"\ndo = "cool"',
            Hours(15.0, stated=True),
        ),
    ],
)
def test_a_recipe_takes_its_steps_cooling_and_hands(
    steps: str, hours: Hours, tmp_path: Path
) -> None:
    bar = bar_with(tmp_path, recipe(PLAIN, steps))
    assert hours_of(find_recipe("syrup", bar), bar.measures) == hours


@pytest.mark.parametrize(
    ("opens", "hours", "start"),
    [
        (time(18), 1.0, datetime(2026, 5, 8, 17)),
        (time(18), 1.1, datetime(2026, 5, 8, 16, 45)),
        (time(18), 1.01, datetime(2026, 5, 8, 16, 45)),
        # a kitchen begins at nine; what would start before is started on the day before
        (time(18), 9.0, datetime(2026, 5, 8, 9)),
        (time(18), 9.25, datetime(2026, 5, 7, 18)),
        (time(18), 24.0, datetime(2026, 5, 7, 18)),
        (time(9), 0.5, datetime(2026, 5, 7, 9)),
        (time(7), 1.0, datetime(2026, 5, 8, 6)),
    ],
)
def test_it_is_started_by_the_quarter_hour_before_and_not_before_the_kitchen_begins(
    opens: time, hours: float, start: datetime
) -> None:
    assert start_by(DAY, opens, hours) == start
