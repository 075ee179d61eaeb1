"""What moved on the shelf."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from solver.pantry.stock_log import LogEntry, StockLog
from solver.show.documents.contract import document
from solver.tasks.stock.movement import Movement, StockMoved


def movement_json(found: Movement) -> str:
    """The document of a movement."""
    return document(f"stock {found.entry.what}", movement_fields(found))


def movement_fields(found: Movement) -> dict[str, Any]:
    """The fields of that document."""
    return {"entry": _entry_fields(found.entry), "rows": [_row_fields(row) for row in found.rows]}


def _entry_fields(entry: LogEntry) -> dict[str, Any]:
    return {
        "number": entry.number,
        "date": entry.day.isoformat(),
        "what": entry.what,
        "why": entry.why,
        "file": entry.file,
        "undoes": entry.undoes,
        "moves": [
            {"ingredient": m.ingredient, "cell": m.cell, "before": m.before, "after": m.after}
            for m in entry.moves
        ],
    }


def _row_fields(moved: StockMoved) -> dict[str, Any]:
    per = moved.row.ingredient.per
    now = moved.after
    return {
        "ingredient": moved.key,
        f"before_{per}": moved.before.on_hand if moved.before else None,
        f"after_{per}": now.on_hand if now else None,
        "use_by": now.use_by.isoformat() if now and now.use_by else None,
    }


def log_json(log: StockLog, entries: Sequence[LogEntry]) -> str:
    """The document of some entries of the log."""
    return document("stock log", log_fields(log, entries))


def log_fields(log: StockLog, entries: Sequence[LogEntry]) -> dict[str, Any]:
    """The fields of that document."""
    return {"entries": [{**_entry_fields(e), "undone": log.undone(e.number)} for e in entries]}
