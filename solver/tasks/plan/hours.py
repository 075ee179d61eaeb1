"""When to start cooking: the hours of a recipe, counted back from opening."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import Final

from solver.pantry.recipe import Recipe
from solver.quantities import Measures, parse

COOL_H: Final = 2.0
"""From hot to room temperature: the time that the FDA Food Code (3-501.14, from memory) leaves for
the first half of cooling."""
HANDS_H: Final = 0.5
"""To weigh out, strain and bottle: common practice, no source."""
KITCHEN_FROM: Final = time(9)
"""When a kitchen begins: common practice, no source. What would have to start before is started on
the day before, by the time that the bar opens."""


@dataclass(frozen=True)
class Hours:
    """How long a recipe takes; `stated` is true if its steps say how long, cooling aside."""

    hours: float
    stated: bool


def hours_of(recipe: Recipe, measures: Measures) -> Hours:
    """The time of all steps, with cooling and manual work.

    Raises:
        BadInput: a time can't be read.
    """
    steps = recipe.table.steps
    minutes = [parse(step.time, "time", measures) for step in steps if step.time is not None]
    cooling = COOL_H if any(step.do == "cool" for step in steps) else 0.0
    return Hours(math.fsum(minutes) / 60 + cooling + HANDS_H, stated=bool(minutes))


def start_on(day: date, ready: date, opens: time, hours: float, now: datetime) -> datetime:
    """When to start on a day so that it is ready then: as `start_by`, or now if that is over; on an
    earlier day by the time that the bar opens."""
    start = start_by(ready, opens, hours)
    return max(now, start if start.date() == day else datetime.combine(day, opens))


def start_by(ready: date, opens: time, hours: float) -> datetime:
    """When to start so that it is ready when the bar opens, rounded down to a quarter hour."""
    opening = datetime.combine(ready, opens)
    start = opening - timedelta(hours=hours)
    start -= timedelta(
        minutes=start.minute % 15, seconds=start.second, microseconds=start.microsecond
    )
    if start.time() < KITCHEN_FROM <= opens:
        return datetime.combine(start.date() - timedelta(days=1), opens)
    return start
