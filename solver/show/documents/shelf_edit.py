"""A row of the shelf that was added, changed or removed."""

from __future__ import annotations

from solver.pantry.bar import Bar
from solver.show.documents.contract import document
from solver.show.documents.shelf import bottle_fields
from solver.tasks.shelf_edit import Restocked


def restocked_json(what: str, done: Restocked, bar: Bar) -> str:
    """The document of such a row."""
    return document("shelf-row", {"done": what, "bottle": bottle_fields(done.row, bar)})
