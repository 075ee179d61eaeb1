"""The built-in ingredient files as plain tables, read with the standard library alone.

The checks on wording (sources, bases, cautions) look at what is written, before any reader of the
project has filled in a default.
"""

from __future__ import annotations

import csv
import tomllib
from functools import cache
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parent.parent
FIGURES = (
    "abv", "sugar", "acid", "density", "other", "moisture", "insoluble", "bulk", "life", "piece",
)  # fmt: skip
UNITS = {
    "abv": ("pct",),
    "sugar": ("g_100ml", "g_100g"),
    "acid": ("g_100ml", "g_100g"),
    "density": ("g_ml",),
    "other": ("g_100ml", "g_100g"),
    "moisture": ("g_100g",),
    "insoluble": ("g_100g",),
    "bulk": ("g_ml",),
    "life": ("days",),
    "piece": ("ml", "g"),
}

Table = dict[str, Any]


@cache
def ingredient_files() -> tuple[Path, ...]:
    """Every file of the library, in the order of their names."""
    return tuple(sorted((ROOT / "ingredients").glob("*.toml")))


@cache
def ingredient_tables() -> dict[str, Table]:
    """Every ingredient by its key; a key in two files is a mistake that the tests name."""
    tables: dict[str, Table] = {}
    for path in ingredient_files():
        tables.update(tomllib.loads(path.read_text(encoding="utf-8")))
    return tables


def number(table: Table, figure: str) -> float:
    """The value of a figure, in the one unit that its key names; 0 where it is not stated."""
    if figure not in table:
        return 0.0
    unit = next(unit for unit in UNITS[figure] if unit in table[figure])
    return float(table[figure][unit])


def span(table: Table, figure: str) -> tuple[float, float]:
    """The stated range of a figure, or its value twice."""
    value = number(table, figure)
    return float(table[figure].get("low", value)), float(table[figure].get("high", value))


def published(name: str) -> list[dict[str, str]]:
    """The rows of a table in tests/outside/data, whose first lines are its source after `#`."""
    text = (ROOT / "tests" / "outside" / "data" / name).read_text(encoding="utf-8")
    return list(csv.DictReader(line for line in text.splitlines() if not line.startswith("#")))
