"""A table of an ingredient file: how its keys name units, and its shape as the model checks it."""

from __future__ import annotations

from typing import Any, Literal

from solver.errors import BadInput
from solver.files.near_words import near_words
from solver.pantry import vocabulary as words

_DEFAULT_TOOLS = {
    "bitters": "dash",
    "seasoning/saline": "drop",
    "sugar": "weigh",
    "acid/powder": "weigh",
    "raw": "weigh",
    "egg": "piece",
}


def default_tool(kind: str) -> str:
    """How things of a kind are usually measured."""
    fits = (tool for start, tool in _DEFAULT_TOOLS.items() if words.kind_within(kind, start))
    return next(fits, "jigger")


def shape_ingredient(table: dict[str, Any]) -> dict[str, Any]:
    """A table of an ingredient file in the model's shape: units out of the keys, tool filled in.

    Raises:
        BadInput: a figure is not given in its unit.
    """
    if "tool" not in table:
        table["tool"] = default_tool(str(table.get("kind")))
    for name, unit in figure_units("g" if table.get("per") == "g" else "ml").items():
        figure = table.get(name)
        if isinstance(figure, dict):
            if unit not in figure:
                what = f"{name} has no '{unit}'"
                near = near_words(unit, figure)
                raise BadInput(what, near=near, remedy=f"Write {name} = {{ {unit} = … }}.")
            rest = {key: value for key, value in figure.items() if key != unit}
            table[name] = {"value": figure[unit], **rest}
    return table


def figure_units(per: Literal["ml", "g"]) -> dict[str, str]:
    """The unit of every figure of an ingredient, of what is poured or weighed, as a key."""
    return {
        "abv": "pct",
        "sugar": f"g_100{per}",
        "acid": f"g_100{per}",
        "other": f"g_100{per}",
        "moisture": f"g_100{per}",
        "insoluble": f"g_100{per}",
        "bulk": "g_ml",
        "density": "g_ml",
        "life": "days",
        "life_in_shell": "days",
        "piece": per,
    }
