"""What is in what, by the raw tables alone: an independent walk, without any reader of the project.

A house is a mapping of keys to tables as TOML has them; the library's tables come from its files.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from tests.ingredient_tables import ingredient_tables

Tables = Mapping[str, Mapping[str, Any]]
FIGURES = ("abv", "sugar", "acid")


def all_tables(house: Tables) -> dict[str, Mapping[str, Any]]:
    """The library with the house's own before it."""
    return {**ingredient_tables(), **house}


@dataclass
class Walked:
    """Everything that was met on the way down."""

    allergens: set[str] = field(default_factory=set)
    may_contain: set[str] = field(default_factory=set)
    animal: set[str] = field(default_factory=set)
    may_animal: set[str] = field(default_factory=set)
    declare: set[str] = field(default_factory=set)
    alcohol: set[str] = field(default_factory=set)
    may_hold_alcohol: set[str] = field(default_factory=set)
    no_allergens_stated: set[str] = field(default_factory=set)
    no_animal_stated: set[str] = field(default_factory=set)
    keys: set[str] = field(default_factory=set)
    untold: set[str] = field(default_factory=set)


def below(table: Mapping[str, Any]) -> Iterator[str]:
    """Names of what goes straight into something."""
    recipe = table.get("recipe", {})
    yield from recipe.get("inputs", {})
    for step in recipe.get("steps", []):
        if "ingredient" in step:
            yield step["ingredient"]
    yield from table.get("made_of", [])


def walk(key: str, house: Tables, met: Walked | None = None) -> Walked:
    """Everything that is in something, through every level."""
    tables = all_tables(house)
    met = met if met is not None else Walked()
    if key in met.keys:
        return met
    met.keys.add(key)
    table = tables[key]
    cooked = "recipe" not in table or any(figure in table for figure in (*FIGURES, "life"))
    met.allergens |= set(table.get("allergens", []))
    met.may_contain |= set(table.get("may_contain", []))
    met.animal |= set(table.get("animal", []))
    met.may_animal |= set(table.get("may_animal", []))
    met.declare |= set(table.get("declare", []))
    if cooked:
        if "allergens" not in table:
            met.no_allergens_stated.add(table["name"])
        if "animal" not in table:
            met.no_animal_stated.add(table["name"])
        abv = table["abv"]
        if abv["pct"] > 0:
            met.alcohol.add(table["name"])
        elif abv.get("high", 0) > 0:
            met.may_hold_alcohol.add(table["name"])
    if key in house and "recipe" not in table and "made_of" not in table:
        met.untold.add(key)
    for name in below(table):
        walk(name, house, met)
    return met


def toml(house: Tables) -> str:
    """A house file that holds these tables."""
    return "\n".join(f"[{key}]\n{_table(key, table)}" for key, table in house.items())


def _table(key: str, table: Mapping[str, Any]) -> str:
    lines = [f"{name} = {_value(value)}" for name, value in table.items() if name != "recipe"]
    recipe = table.get("recipe")
    if recipe is not None:
        lines += ["", f"[{key}.recipe.inputs]"]
        lines += [f"{name} = {_value(amount)}" for name, amount in recipe["inputs"].items()]
        for step in recipe.get("steps", []):
            lines += ["", f"[[{key}.recipe.steps]]"]
            lines += [f"{name} = {_value(value)}" for name, value in step.items()]
    return "\n".join(lines) + "\n"


def _value(value: object) -> str:
    if isinstance(value, Mapping):
        return "{ " + ", ".join(f"{k} = {_value(v)}" for k, v in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(map(_value, value)) + "]"
    return json.dumps(value, ensure_ascii=False)
