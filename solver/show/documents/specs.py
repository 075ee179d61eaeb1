"""The spec book."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from solver.drinks.assess import Assessment
from solver.pantry.bar import Bar
from solver.pantry.spec import Misread
from solver.show.documents.assessed import assessed_fields
from solver.show.documents.contract import document
from solver.show.documents.target import target_fields
from solver.show.text.specs import target_of


def specs_json(task: str, found: Sequence[Assessment], misread: Sequence[Misread], bar: Bar) -> str:
    """The document of a book, of `specs` or of `assess`."""
    return document(
        task,
        {
            "specs": [_fields(each, bar) for each in found],
            "misread": [{"file": each.path.name, "says": str(each.error)} for each in misread],
        },
    )


def _fields(found: Assessment, bar: Bar) -> dict[str, Any]:
    origin = found.spec.origin
    return {
        "file": origin.name if origin else None,
        **assessed_fields(found, bar),
        **target_fields(found.values, (met.aim for met in found.aims)),
        "target": target_of(found),
    }
