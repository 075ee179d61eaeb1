"""A new bar: what was written."""

from __future__ import annotations

from solver.show.documents.contract import document
from solver.tasks.new_bar import NewBar


def opened_json(opened: NewBar) -> str:
    """The document of a new bar."""
    fields = {
        "folder": str(opened.root),
        "country": opened.choices.country,
        "currency": opened.choices.currency or None,
        "pour_set": opened.choices.pour_set,
        "written": [str(path.relative_to(opened.root)) for path in opened.written],
        "kept": [str(path.relative_to(opened.root)) for path in opened.kept],
    }
    return document("init", fields)
