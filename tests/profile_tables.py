"""Profiles and specs as plain tables, read with the standard library; drinks poured to them.

Inheritance is worked out here a second time, independently of the project's reader: tables merge
key by key, a part is replaced key by key.
"""

from __future__ import annotations

import csv
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np

from solver.measures import MEASURES
from solver.mixture import COLUMNS, TECHNIQUES, Finished, finish
from solver.pantry.ingredient import Ingredient
from solver.pantry.library import Library, load_library, read_ingredients
from solver.quantities import Measures, Span, parse_pour, parse_pour_span, parse_span

ROOT = Path(__file__).parent.parent
DEMO = ROOT / "demo"
SLACK = 1e-9
SAID_THE_SAME = 0.016
"""45 mL are 1 1/2 oz, of 29.57 or of 30 mL."""

Table = dict[str, Any]


@dataclass(frozen=True)
class Poured:
    """One pour of a recipe, as written."""

    part: str
    ingredient: str
    amount: str


@cache
def own_tables(folder: Path) -> dict[str, Table]:
    """Every profile of a folder by file name, as its own file has it."""
    return {
        path.stem: tomllib.loads(path.read_text(encoding="utf-8"))
        for path in sorted(folder.glob("*.toml"))
    }


@cache
def profile_tables() -> dict[str, Table]:
    """Every built-in profile and the demo's, with what they inherit."""
    own = own_tables(ROOT / "profiles") | own_tables(DEMO / "profiles")

    def full(name: str) -> Table:
        table = own[name]
        return merged(full(table["inherits"]), table) if "inherits" in table else table

    return {name: full(name) for name in own}


def merged(below: Mapping[str, Any], above: Mapping[str, Any]) -> Table:
    """`below` with the keys of `above` on top; tables within them likewise, but for shares."""
    result = dict(below)
    for key, value in above.items():
        old = result.get(key)
        both = isinstance(old, dict) and isinstance(value, dict) and not key.startswith("usual")
        result[key] = merged(old, value) if both else value  # type: ignore[arg-type]
    return result


@cache
def demo_pantry() -> Library:
    """The built-in library with the demo's house ingredients before it."""
    return load_library().shadowed_by(read_ingredients(sorted((DEMO / "house").glob("*.toml"))))


def accepts(part: Table, ingredient: Ingredient) -> bool:
    """Whether an ingredient may fill a part."""
    if ingredient.key in part.get("not_ingredients", ()):
        return False
    if ingredient.key in part.get("ingredients", ()):
        return True
    return any(map(ingredient.is_kind, part.get("kinds", ()))) and not any(
        map(ingredient.is_kind, part.get("not_kinds", ()))
    )


def limits(profile: Table) -> dict[str, Span]:
    """The limits of a profile in the units of their measures."""
    table = profile["limits"]
    return {name: parse_span(text, MEASURES[name].quantity) for name, text in table.items()}


def finished(profile: Table, pours: Iterable[Poured], measures: Measures | None = None) -> Finished:
    """The drink that the pours make with the profile's technique, by the published melt."""
    used = measures or Measures()
    stages = {"first": np.zeros(len(COLUMNS)), "top": np.zeros(len(COLUMNS))}
    for pour in pours:
        ingredient = demo_pantry().find(pour.ingredient)
        amount = ingredient.units(parse_pour(pour.amount, used))
        stage = profile["parts"][pour.part].get("stage", "first")
        stages[stage] += amount * ingredient.composition()
    curve = TECHNIQUES[profile["technique"]].curve
    return finish(stages["first"], stages["top"], curve).finished


def broken(profile: Table, pours: list[Poured], measures: Measures | None = None) -> list[str]:
    """What a recipe breaks of its profile: limits, kinds, counts, pours. Nothing if it fits."""
    used = measures or Measures()
    drink = finished(profile, pours, used)
    values = {
        "abv": float(drink.abv_pct),
        "sugar": float(drink.sugar_g_100ml),
        "acid": float(drink.acid_g_100ml),
        "volume": float(drink.volume_ml),
    }
    found = [
        f"{name} {values[name]:.2f}"
        for name, span in limits(profile).items()
        if not (span.low or 0) - SLACK <= values[name] <= (span.high or 1e9) + SLACK
    ]
    for name, part in profile["parts"].items():
        mine = [pour for pour in pours if pour.part == name]
        low, high = part["count"]
        if not low <= len(mine) <= high:
            found.append(f"{len(mine)} of {name}")
        found += _broken_part(part, mine, used)
    return found


def _broken_part(part: Table, pours: list[Poured], measures: Measures) -> list[str]:
    found = []
    total = 0.0
    for pour in pours:
        ingredient = demo_pantry().find(pour.ingredient)
        if not accepts(part, ingredient):
            found.append(f"{pour.ingredient} as {pour.part}")
        each = parse_pour_span(part["each"], measures)
        amount = parse_pour(pour.amount, measures)
        units = ingredient.units(amount)
        total += units
        size = (ingredient.piece_ml or 1.0) if each.unit == "piece" else 1.0
        if not _within(units, each.low * size, each.high * size):
            found.append(f"{pour.amount} of {pour.ingredient}")
    if pours and "total" in part:
        span = parse_pour_span(part["total"], measures)
        if not _within(total, span.low, span.high):
            found.append(f"{total:g} in all")
    return found


def _within(amount: float, low: float, high: float) -> bool:
    return low * (1 - SAID_THE_SAME) - SLACK <= amount <= high * (1 + SAID_THE_SAME) + SLACK


def recipe_rows(path: Path) -> dict[tuple[str, str], list[Poured]]:
    """Recipes of a table with the columns drink, profile, part (or none), ingredient, amount."""
    recipes: dict[tuple[str, str], list[Poured]] = {}
    for row in table_rows(path):
        pour = Poured(row.get("part", ""), row["ingredient"], row["amount"])
        recipes.setdefault((row["drink"], row["profile"]), []).append(pour)
    return recipes


def table_rows(path: Path) -> list[dict[str, str]]:
    """Rows of a comma-separated file whose first lines are its source after `#`."""
    lines = path.read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))
