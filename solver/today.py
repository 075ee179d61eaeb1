"""What day it is: the one place that asks the calendar."""

from __future__ import annotations

from datetime import date


def today() -> date:
    """The day of the calendar here."""
    return date.today()
