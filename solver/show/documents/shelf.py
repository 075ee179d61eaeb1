"""The shelf as it stands."""

from __future__ import annotations

from typing import Any

from solver.pantry.bar import Bar
from solver.pantry.stocked import Stocked
from solver.show.documents.contract import document
from solver.show.text.ingredients import FIGURES, figure_key


def shelf_json(bar: Bar) -> str:
    """The document of the shelf."""
    fields = {
        "bar": bar.name,
        "currency": bar.currency,
        "today": bar.today.isoformat(),
        "bottles": [bottle_fields(stocked, bar) for stocked in bar.listed],
    }
    return document("shelf", fields)


def bottle_fields(stocked: Stocked, bar: Bar) -> dict[str, Any]:
    """A bottle of the shelf, as numbers with their unit."""
    item = stocked.ingredient
    return {
        "ingredient": item.key,
        "name": item.name,
        "kind": item.kind,
        **{figure_key(name, item): getattr(item, name).value for name in FIGURES},
        f"bottle_{item.per}": stocked.bottle,
        "price": stocked.price,
        f"on_hand_{item.per}": stocked.on_hand,
        "opened": stocked.opened.isoformat() if stocked.opened else None,
        "use_by": stocked.use_by.isoformat() if stocked.use_by else None,
        "past": stocked.past(bar.today),
        "ready": stocked.ready.isoformat() if stocked.ready else None,
        "note": stocked.note,
    }
