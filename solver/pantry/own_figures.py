"""Figures that a bar states for its own bottle, where the library says otherwise."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from pydantic import ValidationError

from solver.errors import BadInput
from solver.files.near_words import near_words
from solver.pantry.figure import Figure
from solver.pantry.ingredient import Ingredient
from solver.printable import short
from solver.quantities import Measures, parse

OVERRIDES = ("abv", "sugar", "acid", "density", "other")
"""Figures that a bar may state for its own bottle."""
_OWN_FIGURE = "the bar's own figure"


def read_figures(text: str, measures: Measures) -> dict[str, float]:
    """Figures like "abv=45%; sugar=20 g/100ml", each in the unit of the ingredient's field.

    Raises:
        BadInput: one can't be read, is not known, or is given twice.
    """
    figures: dict[str, float] = {}
    for item in filter(str.strip, re.split(r"[;\n]", text)):
        name, sign, value = (part.strip() for part in item.partition("="))
        if not sign or name not in OVERRIDES or name in figures:
            what = f"'{short(item.strip())}' does not override a figure"
            why = f"{name} is given twice" if name in figures else ""
            near = () if name in figures else near_words(name, OVERRIDES)
            remedy = "Write it like abv=45%; sugar=20 g/100ml."
            raise BadInput(what, why=why, near=near, remedy=remedy)
        figures[name] = read_figure(name, value, measures)
    return figures


def read_figure(name: str, text: str, measures: Measures) -> float:
    """A figure that a bar states for its own bottle, in the unit of the ingredient's field.

    Raises:
        BadInput: it can't be read.
    """
    if name == "abv":
        return parse(text, "strength", measures)
    grams_per_100ml = parse(text, "concentration", measures)
    return grams_per_100ml / 100 if name == "density" else grams_per_100ml


def overridden(ingredient: Ingredient, figures: Mapping[str, float]) -> Ingredient:
    """The ingredient as the bar's own bottle has it.

    Raises:
        BadInput: it is weighed, or there is no such liquid.
    """
    if ingredient.per == "g":
        what = f"the figures of {ingredient.name} cannot be overridden here"
        raise BadInput(what, why="it is weighed", remedy="Make it a house ingredient.")
    own = with_own_figures(ingredient, figures).model_copy(update={"origin": None})
    own.composition()  # no such liquid may exist: better said here, where the line is known
    return own


def with_own_figures(
    item: Ingredient, figures: Mapping[str, float], source: str = _OWN_FIGURE
) -> Ingredient:
    """The same ingredient with the bar's own figures for abv, sugar, acid, density or other.

    A measured density belongs to the label it was measured with: it is dropped where that
    changes and no new one is given.

    Raises:
        BadInput: there is no such figure, or the result contradicts itself.
    """
    unknown = [name for name in figures if name not in OVERRIDES]
    if unknown:
        what = f"'{short(unknown[0])}' is not a figure that can be overridden"
        near = near_words(unknown[0], OVERRIDES)
        raise BadInput(what, near=near, remedy=f"Use {', '.join(OVERRIDES)}.")
    table: dict[str, Any] = {name: getattr(item, name) for name in Ingredient.model_fields}
    if figures and "density" not in figures:
        table["density"] = None
    try:
        for name, value in figures.items():
            table[name] = Figure(value=value, basis="published", source=source)
        return Ingredient.model_validate(table)
    except ValidationError as error:
        first = error.errors(include_url=False)[0]
        what = f"the figures given for {item.name} cannot be"
        raise BadInput(what, why=str(first.get("ctx", {}).get("what", first["msg"]))) from None
