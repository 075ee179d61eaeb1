"""On which days something can be ready: by its hours, the clock, and when the kitchen cooks."""

from __future__ import annotations

from datetime import date, datetime, timedelta

from solver.pantry.plan_file import Coming
from solver.tasks.plan.hours import KITCHEN_FROM, start_by
from solver.tasks.plan.supply import Supply, SupplyWay


def ready_days(supply: Supply, coming: Coming, now: datetime, days: int) -> list[int]:
    """The days, of the next `days`, on which a unit can be ready when the bar opens.

    It is begun `lead_days` before. Empty if there are none.
    """
    first = lead_days(supply, coming, now.date())
    return [
        day
        for day in range(first, days)
        if _cooks(supply, now.date() + timedelta(days=day - first), coming)
        and _in_time(supply, now.date() + timedelta(days=day), coming, now)
    ]


def begun_today(supply: Supply, coming: Coming, now: datetime, days: int) -> list[int]:
    """The day on which a unit begun today is ready, if no day of `ready_days` begins today.

    That is so where it is too late for tonight, or nobody cooks on the day that would do. Empty if
    it is none of the next `days`.
    """
    if supply.hours is None or not _cooks(supply, now.date(), coming):
        return []
    ready = _begun_now(now) + timedelta(hours=supply.hours.hours)
    day = (ready.date() - now.date()).days + (ready.time() > coming.opens)
    return [day] if day < days and day not in ready_days(supply, coming, now, days) else []


def _cooks(supply: Supply, day: date, coming: Coming) -> bool:
    """Whether something may be started on a day."""
    return supply.how is not SupplyWay.COOK or day.weekday() in coming.cook_on


def _in_time(supply: Supply, ready: date, coming: Coming, now: datetime) -> bool:
    """Whether there is still time to start something that must be ready on a day."""
    if supply.hours is None:
        return True
    start = start_by(ready, coming.opens, supply.hours.hours)
    if start >= now or start.date() != now.date():
        return start >= now
    takes = timedelta(hours=supply.hours.hours)
    return _begun_now(now) + takes <= datetime.combine(ready, coming.opens)


def _begun_now(now: datetime) -> datetime:
    """The hour at which something begun at once begins."""
    return max(now, datetime.combine(now.date(), KITCHEN_FROM))


def lead_days(supply: Supply, coming: Coming, today: date) -> int:
    """The number of days before completion on which something is started."""
    if supply.hours is None:
        return 0
    return (today - start_by(today, coming.opens, supply.hours.hours).date()).days
