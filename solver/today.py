"""The only module that asks the calendar and the clock."""

from __future__ import annotations

from datetime import date, datetime


def today() -> date:
    """Today's date in local time."""
    return date.today()


def now() -> datetime:
    """The local time to the minute."""
    return datetime.now().replace(second=0, microsecond=0)
