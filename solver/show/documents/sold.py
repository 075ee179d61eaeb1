"""What was sold and what it took off the shelf."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from solver.pantry.stocked import Stocked
from solver.show.documents.contract import document
from solver.show.documents.stock import movement_fields
from solver.tasks.stock.sales import Sold


def sold_json(found: Sold) -> str:
    """The document of sales."""
    return document("stock sold", sold_fields(found))


def sold_fields(found: Sold) -> dict[str, Any]:
    """The fields of that document."""
    movement = movement_fields(found.movement) if found.movement else {"entry": None, "rows": []}
    for row in movement["rows"]:
        per = "g" if "after_g" in row else "ml"
        row[f"poured_{per}"] = found.poured[row["ingredient"]]
    return {
        "columns": dict(found.file.columns),
        "voided": found.file.voided,
        "drinks": [
            {"spec": drunk.spec.name, "till": drunk.till, "sold": drunk.number}
            for drunk in found.drinks
        ],
        "from_batches": [
            {
                "spec": each.spec.name,
                "batch": each.key,
                "serves": each.number,
                "each_ml": each.each_ml,
                "past": each.past is not None,
                "older_recipe": each.older,
                "another_recipe": each.another is not None,
            }
            for each in found.batches
        ],
        **movement,
        "not_on_shelf": list(found.absent),
        "never_counted": list(found.uncounted),
        "taken_as_fruit": list(found.pressed),
        "garnish_not_weighed": list(found.unweighed),
        "ran_out": [each.row.ingredient.key for each in found.ran_out],
        "opened": list(found.opened),
        "new_bottle_begun": list(found.begun),
        "past": _keys(found.past),
        "before_ready": _keys(found.early),
        "skipped": [line.name for line in found.skipped],
    }


def _keys(rows: Sequence[Stocked]) -> list[str]:
    return list(dict.fromkeys(row.ingredient.key for row in rows))
