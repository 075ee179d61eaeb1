"""Read sales from a till's export: a table of names and numbers in unknown columns."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from solver.errors import BadInput, Where
from solver.files.sheet import Sheet, read_export
from solver.pantry.dates import read_date
from solver.pantry.library import fold
from solver.printable import short
from solver.quantities import parse_number

_DRINK = (
    "drink", "spec", "cocktail", "item", "item_name", "product", "product_name", "article", "name",
    "menu_item", "description", "artikel", "produkt", "bezeichnung", "getränk", "boisson",
    "produit", "article_name", "bebida", "producto", "prodotto",
)  # fmt: skip
_NUMBER = (
    "sold", "number", "quantity", "qty", "count", "units", "units_sold", "quantity_sold",
    "qty_sold", "pcs", "pieces", "anzahl", "menge", "stück", "verkauft", "quantité", "qté",
    "cantidad", "quantità", "no", "#",
)  # fmt: skip
_DATE = ("date", "day", "sold_on", "business_date", "datum", "tag", "jour", "fecha", "data")
"""What tills call their columns, in the languages of which we know: the first that is there."""
_LIKE_A_NUMBER = re.compile(r"[-\N{MINUS SIGN}]?\s*[0-9][0-9.,/ ]*")
_TWO_WAYS = re.compile(r"[1-9][0-9]{0,2}[.,][0-9]{3}")
"""As many as 1200, or 1.2: a till may write either."""
_GROUPED = re.compile(r"([1-9][0-9]{0,2}(?:(?P<mark>[.,])[0-9]{3})+)(?!(?P=mark))[.,]([0-9]+)")
"""Thousands with one mark and decimals with the other."""


@dataclass(frozen=True)
class SoldLine:
    """A drink of a file by the till's name, with the number sold; `line` is its first line."""

    name: str
    number: float
    line: int


@dataclass(frozen=True)
class SalesFile:
    """The sales of a file, each name once, and their days; `digest` is of its content."""

    path: Path
    lines: tuple[SoldLine, ...]
    days: tuple[date, ...]
    digest: str


@dataclass(frozen=True)
class _Columns:
    """The columns of names, numbers and dates; `head` is true if the first line has headings."""

    drink: int
    number: int
    date: int | None
    head: bool


def read_sales(path: Path) -> SalesFile:
    """Read the sales of a file. Voids, with a minus, are subtracted.

    A name may have a negative total: another may be of the same drink.

    Raises:
        BadInput: it is no table, its columns can't be told, or a line has no number.
    """
    sheet = read_export(path)
    columns = _columns(sheet)
    found: dict[str, SoldLine] = {}
    days: set[date] = set()
    for record in sheet.records[sheet.head + columns.head :]:
        cells = [cell.strip() for cell in record.cells]
        name = cells[columns.drink] if columns.drink < len(cells) else ""
        if not name:
            continue
        try:
            number = _number(cells[columns.number] if columns.number < len(cells) else "")
            if columns.date is not None and columns.date < len(cells) and cells[columns.date]:
                days |= {day for day in [_day(cells[columns.date])] if day is not None}
        except BadInput as error:
            raise error.at(Where(path, record.line)) from None
        line = found.setdefault(fold(name), SoldLine(name, 0.0, record.line))
        found[fold(name)] = SoldLine(line.name, line.number + number, line.line)
    if not any(line.number for line in found.values()):
        raise BadInput("the file says of nothing that it was sold", where=Where(path, 1))
    digest = hashlib.sha256(sheet.render()).hexdigest()[:12]
    return SalesFile(path, tuple(found.values()), tuple(sorted(days)), digest)


def _columns(sheet: Sheet) -> _Columns:
    names = sheet.columns
    drink, number, day = (_first(wanted, names) for wanted in (_DRINK, _NUMBER, _DATE))
    if drink is not None and number is not None:
        return _Columns(drink, number, day, head=True)
    first = [cell.strip() for cell in sheet.records[sheet.head].cells]
    numbers = [at for at, cell in enumerate(first) if _is_number(cell)]
    words = [at for at, cell in enumerate(first) if cell and not _is_number(cell)]
    if len(numbers) == 1 and len(words) == 1:
        return _Columns(words[0], numbers[0], None, head=False)
    what = "nobody can tell which column names the drinks, and which says how many"
    remedy = "Call them drink and sold in the first line."
    raise BadInput(what, where=Where(sheet.path, sheet.records[sheet.head].line), remedy=remedy)


def _first(wanted: Sequence[str], names: Sequence[str]) -> int | None:
    return next((names.index(name) for name in wanted if name in names), None)


def _is_number(text: str) -> bool:
    return _LIKE_A_NUMBER.fullmatch(text) is not None


def _number(text: str) -> float:
    """The number sold; 0 for an empty cell.

    Raises:
        BadInput: it is no number, can be read two ways, or is a fraction of a drink.
    """
    if not text:
        return 0.0
    bare = text.removeprefix("-").removeprefix("\N{MINUS SIGN}").strip()
    sign = 1 if bare == text else -1
    if _TWO_WAYS.fullmatch(bare):
        what = f"'{short(text)}' can be read two ways"
        why = "a comma or point may mark decimals or thousands"
        raise BadInput(what, why=why, remedy="Write whole drinks without a mark, like 3 or 1000.")
    if grouped := _GROUPED.fullmatch(bare):
        bare = f"{re.sub('[.,]', '', grouped[1])}.{grouped[3]}"
    value = parse_number(bare)
    if not value.is_integer():
        remedy = "Drinks are sold whole: is this the column that says how many?"
        raise BadInput(f"'{short(text)}' is a fraction of a drink", remedy=remedy)
    return sign * value


def _day(text: str) -> date | None:
    """The day of a date, which may include a time; None if there is none."""
    return read_date(text.replace("T", " ").split()[0])
