"""Names in a row."""

from __future__ import annotations

from collections.abc import Iterable

from solver.pantry.ingredient import Ingredient
from solver.pantry.word_forms import brief


def short_name(item: Ingredient) -> str:
    """An ingredient as it is called while working."""
    return brief(item.name)


def one_of(name: str) -> str:
    """A name with its article: "a sour", "an old-fashioned"."""
    return f"{'an' if name[:1].casefold() in set('aeiou') else 'a'} {name}"


def listed(names: Iterable[str], joint: str = " and ") -> str:
    """Names with commas between them, the last one after `joint`; empty where there are none."""
    *first, last = [*names] or [""]
    return f"{', '.join(first)}{joint}{last}" if first else last
