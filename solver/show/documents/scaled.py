"""A spec in another glass."""

from __future__ import annotations

from typing import Any

from solver.pantry.bar import Bar
from solver.show.documents.contract import document
from solver.show.documents.rebalanced import rebalanced_fields
from solver.tasks.respec.scale import Scaled


def scaled_json(found: Scaled, bar: Bar) -> str:
    """The document of a spec in another glass."""
    return document("scale", scaled_fields(found, bar))


def scaled_fields(found: Scaled, bar: Bar) -> dict[str, Any]:
    """What a document says of a spec in another glass."""
    return {
        **rebalanced_fields(found.result, bar),
        "times": round(found.times, 6),
        "glass": found.glass,
        "wash_line_ml": found.line_ml,
        "glass_measured": found.measured if found.glass else None,
        "share_of_line": found.share,
    }
