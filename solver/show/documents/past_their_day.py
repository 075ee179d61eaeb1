"""What is past its last day or soon will be."""

from __future__ import annotations

from typing import Any

from solver.pantry.bar import Bar
from solver.pantry.stocked import Stocked
from solver.show.documents.contract import document
from solver.show.text.past_their_day import past_rows, soon_past, worth_of


def past_json(bar: Bar, days: int) -> str:
    """The document of what is past its last day, and soon will be."""
    return document("stock past", past_fields(bar, days))


def past_fields(bar: Bar, days: int) -> dict[str, Any]:
    """The fields of that document."""
    return {
        "today": bar.today.isoformat(),
        "currency": bar.currency,
        "past": [_past_fields(row) for row in past_rows(bar)],
        "within_days": days,
        "soon": [_past_fields(row) for row in soon_past(bar, days)],
    }


def _past_fields(row: Stocked) -> dict[str, Any]:
    return {
        "ingredient": row.ingredient.key,
        "use_by": row.use_by.isoformat() if row.use_by else None,
        f"on_hand_{row.ingredient.per}": row.on_hand,
        "worth": worth_of(row),
    }
