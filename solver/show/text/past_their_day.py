"""What is past its last day or soon will be."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta

from solver.pantry.bar import Bar
from solver.pantry.stocked import Stocked
from solver.quantities import show_money
from solver.show.text.stock import stock_amount


def past_text(bar: Bar, days: int) -> str:
    """What is past its last day, and what will be within some days, with what is left of it."""
    past = past_rows(bar)
    lines = ["Past its last day, and poured nowhere:"] if past else []
    lines += [_past_line(row, bar) for row in past]
    soon = soon_past(bar, days)
    if soon:
        lines += [*([""] if lines else []), f"By {_until(bar, days)}:"]
        lines += [_past_line(row, bar) for row in soon]
    return "\n".join(lines) or f"Nothing is past its last day, nor will be by {_until(bar, days)}."


def _until(bar: Bar, days: int) -> str:
    return (bar.today + timedelta(days=days)).isoformat()


def past_rows(bar: Bar) -> list[Stocked]:
    """What is past, each batch by itself."""
    rows = (row for row in (*bar.past, *bar.past_lots) if row.fruit is None)
    return _by_day([lot for row in rows for lot in row.lots])


def soon_past(bar: Bar, days: int) -> list[Stocked]:
    """What will be past within so many days, each batch by itself."""
    until = bar.today + timedelta(days=days)
    there = (lot for row in bar.stock if row.on_hand != 0 for lot in row.lots)
    return _by_day([row for row in there if row.use_by is not None and row.use_by <= until])


def _by_day(rows: Sequence[Stocked]) -> list[Stocked]:
    return sorted(rows, key=lambda row: (str(row.use_by), row.ingredient.key))


def _past_line(row: Stocked, bar: Bar) -> str:
    day = row.use_by.isoformat() if row.use_by else ""
    left = "not counted" if row.on_hand is None else stock_amount(row.on_hand, row)
    worth = worth_of(row)
    price = "" if worth is None else show_money(worth, bar.currency)
    return f"  {row.ingredient.key[:29]:<30}{day:>12}{left:>13}{price:>12}".rstrip()


def worth_of(row: Stocked) -> float | None:
    """What is there of it costs, in the bar's currency. None if not known."""
    price = row.price_per_unit
    return None if price is None or row.on_hand is None else price * row.on_hand
