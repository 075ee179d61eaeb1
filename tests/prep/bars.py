"""Small bars with one house recipe, written out for a test."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from solver.pantry.bar import Bar
from solver.pantry.load_bar import load_bar
from solver.tasks.prep import Prep, find_recipe, prepare

TODAY = date(2026, 5, 4)
SHELF = "ingredient,bottle,price,on_hand,opened,overrides,note\n"


def bar_with(folder: Path, house: str, shelf: str = "") -> Bar:
    """A bar in `folder` whose one house file is `house`."""
    (folder / "house").mkdir(exist_ok=True)
    (folder / "bar.toml").write_text('name = "test"\ncurrency = "EUR"\n', encoding="utf-8")
    (folder / "house" / "house.toml").write_text(house, encoding="utf-8")
    (folder / "shelf.csv").write_text(SHELF + shelf, encoding="utf-8")
    return load_bar(folder)


def recipe(
    inputs: str,
    steps: str = "",
    measured: str = "",
    *,
    key: str = "syrup",
    kind: str = "syrup/plain",
    more: str = "",
) -> str:
    """A house recipe: `inputs` and `measured` are lines, `steps` one step to a line."""
    tables = "".join(
        f"\n[[{key}.recipe.steps]]\n" + "\n".join(part.strip() for part in step.split(";")) + "\n"
        for step in steps.strip().splitlines()
    )
    return (
        f'[{key}]\nname = "the {key}"\nkind = "{kind}"\ncharacter = ["cane"]\n{more}'
        f"\n[{key}.recipe.inputs]\n{inputs}\n{tables}"
        f"\n[{key}.recipe.measured]\n{measured}\n"
    )


def cook(folder: Path, house: str, key: str = "syrup", shelf: str = "") -> Prep:
    """What the recipe `key` of a house file makes."""
    bar = bar_with(folder, house, shelf)
    return prepare(find_recipe(key, bar), bar, TODAY)
