"""Names in a row."""

from __future__ import annotations

import re
from collections.abc import Iterable

from solver.pantry.ingredient import Ingredient


def short_name(item: Ingredient) -> str:
    """An ingredient as it is called while working."""
    return short(item.name)


def short(name: str) -> str:
    """A name without what stands in brackets or behind a comma."""
    return re.sub(r"\s*\([^)]*\)", "", name).split(",")[0].strip()


def listed(names: Iterable[str], joint: str = " and ") -> str:
    """Names with commas between them, the last one after `joint`; empty where there are none."""
    *first, last = [*names] or [""]
    return f"{', '.join(first)}{joint}{last}" if first else last
