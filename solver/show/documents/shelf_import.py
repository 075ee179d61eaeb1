"""What was understood of somebody's list of bottles."""

from __future__ import annotations

from solver.pantry.bar import Bar
from solver.show.documents.contract import document
from solver.show.text.shelf_import import Rest
from solver.tasks.shelf_import.columns import SAID
from solver.tasks.shelf_import.read_list import Understood


def understood_json(found: Understood, bar: Bar, rest: Rest, *, written: bool) -> str:
    """The document of a list."""
    head = found.head
    fields = {
        "written": written,
        "currency": bar.currency,
        "columns": {SAID[meaning]: head.headings[place] for meaning, place in head.places.items()},
        "not_read": list(head.unread),
        "taken_off": list(rest.gone),
        "kept_in": rest.kept.name if rest.kept else None,
        "starter_left": list(rest.starter),
        "lines": [
            {
                "line": line.line,
                "says": line.name,
                "fate": line.fate.value,
                "ingredient": line.item.key if line.item else None,
                "abv_pct": line.abv,
                "abv_stated": line.own_abv,
                "cells": dict(line.cells or {}),
                "guesses": list(line.guesses),
                "taken": line.taken,
                "why": line.why,
            }
            for line in found.lines
        ],
    }
    return document("shelf-import", fields)
