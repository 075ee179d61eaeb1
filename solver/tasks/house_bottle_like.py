"""A bottle like an ingredient of the library, as an ingredient of the house."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from solver.errors import BadInput, Where
from solver.files.read import ABSENT, version_at
from solver.files.toml import TomlText, parse_toml
from solver.pantry.bar import Bar
from solver.pantry.batches import plain_key
from solver.pantry.figure import Figure
from solver.pantry.house_file import figure_values
from solver.pantry.ingredient import Ingredient
from solver.pantry.ingredient_table import default_tool
from solver.pantry.own_figures import read_figure, with_own_figures
from solver.printable import printable, short
from solver.tasks.stock.house_figures import HouseFile, house_file

LABEL = "label"
"""The source of a figure that somebody reads off the bottle."""


def like_in_house(name: str, like: str, bar: Bar, root: Path, abv: str = "") -> HouseFile:
    """The house file of a bottle called `name`, with the figures of `like` and its own strength.

    Its guest notice is copied from the library's `like`, and says so.

    Raises:
        BadInput: the name is another's or no name, `like` is not known or not poured, or the
            strength cannot be read.
    """
    called = " ".join(printable(name).split())
    model = bar.library.find(like)
    key = plain_key(called)
    path = root / "house" / f"{key}.toml"
    _check_name(called, key, path, bar)
    if model.per == "g" or model.piece is not None:
        what = f"nothing is made like {model.key} so"
        raise BadInput(what, why="it is weighed or counted", remedy="Write a file in house/.")
    heading = (
        f"# Like {model.key}: written by `equipour shelf`. Correct it by the label, and then take\n"
        "# the caution out that nobody has read it.\n"
    )
    text = f"{heading}[{key}]\n"
    file = TomlText(path, text, parse_toml(text, path))
    own = _as_said(model)
    if abv:
        own = with_own_figures(own, {"abv": read_figure("abv", abv, bar.measures)}, LABEL)
        own.composition()  # no such liquid may exist: better said here
    return house_file(file, key, _values(called, model, own, bar))


def _check_name(called: str, key: str, path: Path, bar: Bar) -> None:
    """Refuse a name that is empty, or another ingredient's."""
    if not any(sign.isalpha() for sign in key):
        what = f"'{short(called)}' makes no name of a file"
        raise BadInput(what, remedy="Call it by letters from a to z.")
    other = bar.library.get(called) or bar.library.get(key) or bar.recipe(called)
    if other is not None:
        what = f"'{short(called)}' is a name of {other.key} already"
        raise BadInput(what, remedy=f"Add that: `equipour shelf add {other.key}`.")
    if version_at(path) != ABSENT:
        raise BadInput("there is such a file already", where=Where(path), remedy="Look into it.")


def _as_said(model: Ingredient) -> Ingredient:
    """The ingredient, its figures marked with their source."""
    figures = {name: getattr(model, name) for name in Ingredient.model_fields}
    said = {
        name: figure.model_copy(update={"source": f"as {model.key}: {figure.source}"})
        for name, figure in figures.items()
        if isinstance(figure, Figure)
    }
    source = f"as {model.key}: {model.allergens_source}" if model.allergens_source else ""
    return model.model_copy(update={**said, "allergens_source": source, "origin": None})


def _unread(called: str, model: Ingredient) -> str:
    """The caution to every guest until the copy has been compared with a label."""
    return f"{called}: figures and allergens are copied from {model.name}; its label is not read."


def _values(called: str, model: Ingredient, own: Ingredient, bar: Bar) -> Mapping[str, Any]:
    """The content of the file."""
    words: dict[str, Any] = {
        "name": called,
        "kind": model.kind,
        "character": list(model.character),
        "like": model.key,
    }
    if model.tool != default_tool(model.kind):
        words["tool"] = model.tool
    told = bar.told_of(model)
    told = replace(told, cautions=(*told.cautions, _unread(called, model)))
    # A bottle is bought, not cooked: of what is in it as much is known as of that in the library.
    about = {"made_of": list(model.made_of or ()), "bought": True}
    return words | figure_values(own, told, {}) | about
