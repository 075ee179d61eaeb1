"""The spec book after a change."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from solver.pantry.bar import Bar
from solver.show.documents.contract import document
from solver.show.documents.guest import past_fields
from solver.show.documents.rebalanced import rebalanced_fields
from solver.tasks.respec.book import Book, BookEntry, State
from solver.tasks.respec.outdated_recipes import Unstocked


def book_json(book: Book, bar: Bar, unstocked: Sequence[Unstocked] = ()) -> str:
    """The document of a book; `unstocked` as in `book_text`."""
    return document("rebalance", book_fields(book, bar, unstocked))


def book_fields(book: Book, bar: Bar, unstocked: Sequence[Unstocked] = ()) -> dict[str, Any]:
    """What a document says of a book; `unstocked` as in `book_text`."""
    lost = any(book.of(each) for each in (State.LOST, State.NEARLY, State.BY_HAND))
    return {
        "status": "stopped" if book.of(State.UNDECIDED) else "moved" if lost else "kept",
        "changes": list(book.changes.said),
        "specs": [_fields(entry, bar) for entry in book.entries],
        "counts": {state.value: len(book.of(state)) for state in State},
        "seconds": round(book.seconds, 3),
        "past": past_fields(book.past),
        "edited_recipes": [
            {
                "recipe": each.key,
                "specs": [impact.file for impact in each.impacts],
                "wrong": each.wrong or None,
            }
            for each in unstocked
        ],
    }


def _fields(entry: BookEntry, bar: Bar) -> dict[str, Any]:
    origin = entry.spec.origin
    return {
        "name": entry.spec.name,
        "file": origin.name if origin else None,
        "state": entry.state.value,
        "out": [item.key for item in entry.out],
        "named": [item.key for item in entry.named],
        "result": rebalanced_fields(entry.result, bar) if entry.result else None,
    }
