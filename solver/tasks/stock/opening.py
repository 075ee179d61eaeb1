"""Which bottles of what perishes were opened by what was poured."""

from __future__ import annotations

from collections.abc import Container
from datetime import date
from typing import Final

from solver.pantry.stocked import SAME_BOTTLES, Stocked

KEEPS_LONG_DAYS: Final = 366
"""What keeps longer once it is open is not asked when it was: our own choice."""
_ROUNDING: Final = 1e-6
"""mL; what is less than that beyond a whole bottle, or below nothing, is rounding."""


def begins(row: Stocked, left: float, house: Container[str]) -> bool:
    """Whether a new bottle of something perishable was opened, where so much of it is left, or the
    open one is just empty; of what is in `house`, which is made here, there is no other bottle."""
    days = row.life_days
    if row.bottle is None or days is None or days > KEEPS_LONG_DAYS or left <= _ROUNDING:
        return False
    if row.ingredient.key in house or row.ingredient.per == "g" or row.in_shell:
        return False
    if row.by_bottle and row.opened is not None:
        return left < (row.closed_bottles + SAME_BOTTLES) * row.bottle
    return left < row.closed_bottles * row.bottle - _ROUNDING


def date_after(row: Stocked, left: float, day: date) -> str | None:
    """What stands in the cell "opened" after a bottle was begun on a day; None: what stood there.

    It is the day where part of a bottle is left, and empty where only full ones are. A date that is
    over stays until somebody counts what is there, and so does one of bottles that are not opened
    one by one.
    """
    if row.bottle is None or (row.opened is not None and (not row.by_bottle or row.past(day))):
        return None
    bottles = left / row.bottle
    if row.by_bottle:
        return day.isoformat() if abs(bottles - round(bottles)) > SAME_BOTTLES else ""
    return day.isoformat() if left < row.bottle - _ROUNDING else None
