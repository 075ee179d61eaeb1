"""Batches of one ingredient on the shelf: pouring order, and the cells that state them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date

from solver.pantry.dated_batches import Lot, written_lots
from solver.pantry.on_hand import written_on_hand
from solver.pantry.shelf import Shelf
from solver.pantry.shelf_row import USE_BY
from solver.pantry.stocked import Stocked, together

_CRUMB = 1e-6


def left_after(row: Stocked, taken: float, day: date | None = None) -> tuple[Stocked, ...]:
    """The batches of a row after an amount is taken off as in `taken_of`, oldest first; the last
    one with nothing where nothing is left."""
    lots = row.lots
    less = taken_of(row, taken, day)
    left = ((lot.on_hand or 0.0) - n for lot, n in zip(lots, less, strict=True))
    kept = [replace(lot, on_hand=n) for lot, n in zip(lots, left, strict=True) if n > _CRUMB]
    return tuple(kept) or (replace(lots[-1], on_hand=0.0),)


def taken_of(row: Stocked, taken: float, day: date | None = None) -> tuple[float, ...]:
    """What is taken of each batch of a row, in their order, in the ingredient's own unit.

    The oldest is taken first; those past their last day by `day`, if given, last, and those not
    ready by then.
    """
    lots = row.lots
    less = [0.0] * len(lots)
    for at in sorted(range(len(lots)), key=lambda at: _not_to_pour(lots[at], day)):
        less[at] = min(lots[at].on_hand or 0.0, taken)
        taken -= less[at]
    return tuple(less)


def poured_of(row: Stocked, taken: float, day: date) -> tuple[Stocked, ...]:
    """The batches of a row that something was poured of on a day; all of them, where none counts
    anything."""
    less = taken_of(row, taken, day) if row.on_hand else ()
    return (
        tuple(lot for lot, n in zip(row.lots, less, strict=True) if n > _CRUMB)
        if less
        else row.lots
    )


def _not_to_pour(lot: Stocked, day: date | None) -> bool:
    return day is not None and (lot.past(day) or lot.waiting(day))


def cells_after(
    row: Stocked, taken: float, shelf: Shelf, day: date | None = None
) -> dict[str, str]:
    """The cells of a row after an amount is taken off, as in `left_after`."""
    said = shelf.cells(row)
    if not row.newer:
        amount = max(0.0, (row.on_hand or 0.0) - taken)
        return {"on_hand": written_on_hand(amount, said.get("on_hand", ""), row)}
    return lot_cells(left_after(row, taken, day), said, shelf)


def with_batch(lots: Iterable[Stocked], batch: Stocked) -> tuple[Stocked, ...]:
    """Batches with one more, in pouring order; batches with equal dates are merged."""
    found: dict[tuple[date | None, date | None], Stocked] = {}
    for lot in (*lots, batch):
        dates = (lot.opened, lot.use_by)
        before = found[dates].on_hand or 0.0 if dates in found else 0.0
        found[dates] = replace(lot, on_hand=before + (lot.on_hand or 0.0))
    return tuple(sorted(found.values(), key=_pouring_order))


def _pouring_order(lot: Stocked) -> tuple[date, date]:
    return lot.use_by or date.max, lot.opened or date.min


def lot_cells(lots: Sequence[Stocked], said: Mapping[str, str], shelf: Shelf) -> dict[str, str]:
    """The cells of a row with these batches; `said` are its present cells, if it exists."""
    row = together(lots)
    if row is None:
        raise ValueError(lots)  # whoever has no batch has no row either
    cells = {"on_hand": written_on_hand(row.on_hand or 0.0, said.get("on_hand") or "0 ml", row)}
    cells |= dated_cells(row.opened, row.dated, said, shelf)
    newer = written_lots((Lot(n.amount, n.made, n.use_by) for n in row.newer), row.ingredient.per)
    return cells | ({"newer": newer} if newer or said.get("newer") else {})


def dated_cells(
    opened: date | None, use_by: date | None, said: Mapping[str, str], shelf: Shelf
) -> dict[str, str]:
    """The cells that date a row: the last day is in the note if there is no column for it."""
    cells: dict[str, str] = {}
    if opened is not None or said.get("opened"):
        cells["opened"] = opened.isoformat() if opened else ""
    last = use_by.isoformat() if use_by else ""
    note = said.get("note", "")
    bare = USE_BY.sub("", note).strip("; ")
    if "use_by" in shelf.sheet.columns:
        cells["use_by"] = last
    elif last:
        bare = f"{bare}; use by {last}" if bare else f"use by {last}"
    return cells | ({"note": bare} if bare != note else {})
