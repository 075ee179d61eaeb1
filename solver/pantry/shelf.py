"""The shelf: what the bar has, from a table that a spreadsheet can edit."""

from __future__ import annotations

import csv
import io
from dataclasses import dataclass
from pathlib import Path

from solver.errors import BadInput, BadInputs, Where
from solver.pantry.checked import gather, short
from solver.pantry.ingredient import Ingredient
from solver.pantry.library import Library
from solver.pantry.toml_file import read_bytes
from solver.quantities import Measures, parse

COLUMNS = ("ingredient", "bottle", "price", "on_hand", "opened", "overrides", "note")

_OVERRIDES = {"abv": "strength", "sugar": "concentration", "acid": "concentration"}


@dataclass(frozen=True)
class Stocked:
    """One row of the shelf.

    `bottle` and `on_hand` are in the ingredient's own unit (mL, or g of what is weighed), `price`
    in the bar's currency for one bottle; None where the shelf does not say.
    """

    ingredient: Ingredient
    bottle: float | None = None
    price: float | None = None
    on_hand: float | None = None
    line: int = 0

    @property
    def price_per_unit(self) -> float | None:
        """Price of one mL (or g), where price and bottle are known."""
        return None if self.price is None or not self.bottle else self.price / self.bottle


def read_shelf(path: Path, library: Library, measures: Measures) -> tuple[Stocked, ...]:
    """The rows of a shelf: UTF-8 with or without a mark, or Windows text; comma, semicolon or tab.

    Raises:
        BadInput, BadInputs: everything that is wrong with it, each with its line.
    """
    rows = list(csv.reader(io.StringIO(_text(path), newline=""), delimiter=_separator(_text(path))))
    heads = [cell.strip().lower() for cell in rows[0]] if rows else []
    if "ingredient" not in heads:
        what = "the shelf has no column 'ingredient'"
        remedy = f"Its first line names the columns: {', '.join(COLUMNS)}."
        raise BadInput(what, where=Where(path, 1), remedy=remedy)
    found: dict[str, Stocked] = {}
    mistakes: list[BadInput | BadInputs] = []
    for line, cells in enumerate(rows[1:], start=2):
        if not any(cell.strip() for cell in cells):
            continue
        row = dict(zip(heads, (cell.strip() for cell in cells), strict=False))
        try:
            stocked = _row(row, line, library, measures)
            if stocked.ingredient.key in found:
                what = f"{stocked.ingredient.key} is on the shelf twice"
                first = found[stocked.ingredient.key].line
                raise BadInput(what, why=f"first on line {first}", remedy="Keep one row.")
            found[stocked.ingredient.key] = stocked
        except BadInput as error:
            mistakes.append(error.at(Where(path, line)))
    gather(mistakes)
    return tuple(found.values())


def _text(path: Path) -> str:
    raw = read_bytes(path)
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        return raw.decode("cp1252", errors="replace")


def _separator(text: str) -> str:
    first = text.split("\n", 1)[0]
    return max(",;\t", key=first.count)


def _row(row: dict[str, str], line: int, library: Library, measures: Measures) -> Stocked:
    ingredient = library.find(row["ingredient"])
    overrides = row.get("overrides", "")
    if overrides:
        ingredient = ingredient.with_overrides(_overrides(overrides, measures))
    unit = "mass" if ingredient.per == "g" else "volume"
    bottle = parse(row["bottle"], unit, measures) if row.get("bottle") else None
    price = parse(row["price"], "money", measures) if row.get("price") else None
    on_hand = _on_hand(row.get("on_hand", ""), unit, bottle, measures)
    return Stocked(ingredient, bottle, price, on_hand, line)


def _on_hand(text: str, unit: str, bottle: float | None, measures: Measures) -> float | None:
    if not text:
        return None
    number, _, word = text.partition(" ")
    if word in {"bottle", "bottles"}:
        if bottle is None:
            what = f"'{short(text)}' counts bottles of unknown size"
            raise BadInput(what, remedy="Fill in the column 'bottle', like 700 ml.")
        return bottle * parse(number, "money", measures)
    return parse(text, unit, measures)


def _overrides(text: str, measures: Measures) -> dict[str, float]:
    figures: dict[str, float] = {}
    for item in text.split(";"):
        name, sign, value = item.strip().partition("=")
        if not sign or name.strip() not in _OVERRIDES:
            what = f"'{short(item)}' does not override a figure"
            raise BadInput(what, remedy="Write it like abv=45%; sugar=20 g/100ml.")
        figures[name.strip()] = parse(value, _OVERRIDES[name.strip()], measures)
    return figures
