"""Dates as people and spreadsheets write them."""

from __future__ import annotations

import re
from datetime import date

from solver.errors import BadInput
from solver.printable import short


def read_date(text: str) -> date | None:
    """A date: year-month-day, or as a spreadsheet turns it round where that has one meaning."""
    if not text:
        return None
    turned = re.fullmatch(
        r"(?P<a>[0-9]{1,2})(?P<sign>[./])(?P<b>[0-9]{1,2})[./](?P<year>2[0-9]{3})", text
    )
    why = ""
    try:
        if turned is None:
            return date.fromisoformat(text)
        first, second, year = int(turned["a"]), int(turned["b"]), int(turned["year"])
        if turned["sign"] == "." or first > 12 or first == second:
            return date(year, second, first)
        if second > 12:
            return date(year, first, second)
        why = "day and month could stand in either order"
    except ValueError:
        pass
    what = f"'{short(text)}' is not a date"
    raise BadInput(what, why=why, remedy="Write year-month-day, like 2026-03-31.")
