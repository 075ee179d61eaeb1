"""A batch that goes onto the shelf."""

from __future__ import annotations

from typing import Any

from solver.tasks.stock.made_batch import Produced


def produced_fields(found: Produced) -> dict[str, Any]:
    """What is written, for a document."""
    return {
        "house": str(found.house),
        "shelf": str(found.shelf),
        "entry": found.movement.entry.number,
        "ready": found.ready.isoformat() if found.ready else None,
        "taken": [
            {
                "ingredient": each.ingredient.key,
                each.ingredient.per: each.units,
                f"left_{each.ingredient.per}": each.left,
            }
            for each in found.taken
        ],
        "not_counted": list(found.uncounted),
        "older": [
            {
                "ml": lot.on_hand,
                "made": lot.opened.isoformat() if lot.opened else None,
                "use_by": lot.use_by.isoformat() if lot.use_by else None,
            }
            for lot in found.older
        ],
    }
