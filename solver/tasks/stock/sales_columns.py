"""Which columns of a till's export name the drinks, their numbers and days, whatever it calls
them."""

from __future__ import annotations

import re
import shlex
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from solver.errors import BadInput, Where
from solver.files.grid import GridRow
from solver.files.near_words import near_words
from solver.pantry.library import fold
from solver.printable import short

SAID = {"drink": "drink", "sold": "number", "date": "date"}
"""What a column may say, as people name it, and the field of `Columns` that it is."""
_HEADINGS: Mapping[str, tuple[str, ...]] = {
    "drink": (
        "drink", "spec", "cocktail", "item", "item name", "product", "product name", "article",
        "name", "menu item", "description", "artikel", "produkt", "bezeichnung", "getränk",
        "boisson", "produit", "article name", "bebida", "producto", "prodotto",
    ),
    "number": (
        "sold", "number", "quantity", "qty", "count", "units", "units sold", "quantity sold",
        "qty sold", "pcs", "pieces", "anzahl", "menge", "stück", "stk", "verkauft", "quantité",
        "qté", "cantidad", "quantità", "no", "#",
    ),
    "date": (
        "date", "day", "sold on", "business date", "datum", "tag", "jour", "fecha", "data",
    ),
}  # fmt: skip
"""What tills call their columns, in the languages of which we know: the first that is there."""
_BESIDE: Mapping[str, frozenset[str]] = {
    "drink": frozenset({"drinks", "menu", "name", "item", "items", "artikelname", "des", "of"}),
    "number": frozenset({
        "of", "net", "total", "netto", "verkaufte", "verkaufter", "drinks", "items", "vendue",
        "vendues", "vendida", "vendidas", "vendite", "gesamt", "in",
    }),
    "date": frozenset({"of", "sale", "sales", "business", "des", "verkaufs"}),
}  # fmt: skip
"""What may stand beside such words in a heading of several words."""
_TAKEN_BACK = re.compile(
    r"refund|void|return|cancel|storn|retour|rückgabe|rücknahme|erstatt|gutschrift|annul|rembours"
    r"|devol|anulad|cancelad|rimbors|\breso\b|\bresi\b|waste|spill|\bcomp(s|ed)?\b",
    re.IGNORECASE,
)
"""Words of columns, or of cells, that take back what another column counts."""
_LIKE_A_NUMBER = re.compile(r"[-\N{MINUS SIGN}]?\s*[0-9][0-9.,/ ]*")
_NOTHING = re.compile(r"[-\N{MINUS SIGN}0.,\s]*|no|false|nein|none", re.IGNORECASE)
"""What a cell says where nothing was taken back."""
_LOOKED_AT = 25
"""Rows in which the headings are looked for: a title and a date may stand above them."""


@dataclass(frozen=True)
class Columns:
    """The columns of names, numbers and dates; `first` is the index of the first row below the
    headings, of which there are none where a file begins with its sales."""

    drink: int
    number: int
    date: int | None
    first: int
    headings: tuple[str, ...] = ()


def find_columns(rows: Sequence[GridRow], path: Path, named: Sequence[str] = ()) -> Columns:
    """The columns of a table; `named` are like "sold=Stk." and are taken as they are.

    Raises:
        BadInput: they can't be told, two are alike, one that was named is not there, or a column
            looks like what was taken back and nobody said that it is counted.
    """
    told = dict(map(_told, named))
    for at, row in enumerate(rows[:_LOOKED_AT]):
        places = {meaning: _places(meaning, row.cells, told) for meaning in _HEADINGS}
        found = {meaning: alike[0] if alike else None for meaning, alike in places.items()}
        drink, number = found["drink"], found["number"]
        if drink is None or number is None or drink == number:
            continue
        if "date" in told and found["date"] is None:
            continue
        _refuse_alike(row, places, path)
        columns = Columns(drink, number, found["date"], at + 1, row.cells)
        if "number" not in told:
            _refuse_taken_back(rows, columns, path)
        return columns
    if told:
        raise _not_there(told, rows, path)
    return _without_headings(rows, path)


def _told(text: str) -> tuple[str, str]:
    word, sign, heading = text.partition("=")
    meaning = SAID.get(word.strip().casefold())
    if meaning is None or not sign or not heading.strip():
        remedy = f"Write it like --column sold=Qty; known: {', '.join(SAID)}."
        raise BadInput("a column is not WHAT=HEADING", remedy=remedy)
    return meaning, fold(heading)


def _places(meaning: str, cells: Sequence[str], told: Mapping[str, str]) -> list[int]:
    """Where a row has the heading of a meaning: as told, else the most telling one; several where
    they are alike."""
    if meaning in told:
        return [at for at, cell in enumerate(cells) if fold(cell) == told[meaning]]
    ranked = [
        (rank, at)
        for at, cell in enumerate(cells)
        if fold(cell) not in told.values() and (rank := _rank(meaning, cell)) is not None
    ]
    best = min(ranked, default=(0, 0))[0]
    return [at for rank, at in ranked if rank == best]


def _rank(meaning: str, heading: str) -> int | None:
    """How telling a heading is, 0 the most: one known whole, else one of known words only."""
    known = _HEADINGS[meaning]
    said = " ".join(re.findall(r"[^\W_]+|#", heading.casefold()))
    if said in known:
        return known.index(said)
    words = said.split()
    telling = [known.index(word) for word in words if word in known]
    if not telling or not all(word in known or word in _BESIDE[meaning] for word in words):
        return None
    return len(known) + min(telling)


def _refuse_alike(row: GridRow, places: Mapping[str, Sequence[int]], path: Path) -> None:
    """Refuse headings of which two say the same.

    Raises:
        BadInput: some do.
    """
    for word, meaning in SAID.items():
        said = [row.cells[at] for at in places[meaning]]
        if len(said) > 1:
            first, second = (f"'{short(heading)}'" for heading in said[:2])
            what = f"columns {first} and {second} are alike: nobody can tell which is meant"
            remedy = f"Say which: --column {shlex.quote(f'{word}={short(said[0])}')}."
            if fold(said[0]) in map(fold, said[1:]):
                remedy = "Call one of them otherwise in the file."
            raise BadInput(what, where=Where(path, row.line), remedy=remedy)


def _refuse_taken_back(rows: Sequence[GridRow], columns: Columns, path: Path) -> None:
    """Refuse a table of which another column says what was taken back.

    Raises:
        BadInput: one does, in its heading or in a cell.
    """
    read = {columns.drink, columns.number, columns.date}
    counted = columns.headings[columns.number]
    for row in rows[columns.first :]:
        for at, cell in enumerate(row.cells):
            heading = columns.headings[at] if at < len(columns.headings) else ""
            if at in read or _NOTHING.fullmatch(cell):
                continue
            if _TAKEN_BACK.search(heading) or (
                _TAKEN_BACK.search(cell) and not _is_minus(row, columns.number)
            ):
                why = f"'{short(cell)}' stands under '{short(heading)}'"
                what = "nobody can tell whether what was taken back is counted"
                remedy = (
                    f"If '{short(counted)}' is without it, say --column 'sold={short(counted)}';"
                    " else take it off in the file first."
                )
                raise BadInput(what, where=Where(path, row.line), why=why, remedy=remedy)


def _is_minus(row: GridRow, place: int) -> bool:
    return place < len(row.cells) and row.cells[place].startswith(("-", "\N{MINUS SIGN}"))


def _not_there(told: Mapping[str, str], rows: Sequence[GridRow], path: Path) -> BadInput:
    cells = [cell for row in rows[:_LOOKED_AT] for cell in row.cells if cell]
    missing = [heading for heading in told.values() if heading not in map(fold, cells)]
    if not missing:
        return _unknown(rows, path)
    what = f"no line has the heading '{short(missing[0])}'"
    near = near_words(missing[0], cells)
    return BadInput(what, where=Where(path), near=near, remedy="Write it as the file has it.")


def _without_headings(rows: Sequence[GridRow], path: Path) -> Columns:
    first = rows[0].cells
    numbers = [at for at, cell in enumerate(first) if _LIKE_A_NUMBER.fullmatch(cell)]
    words = [at for at, cell in enumerate(first) if cell and at not in numbers]
    if len(numbers) == 1 and len(words) == 1:
        return Columns(words[0], numbers[0], None, 0)
    raise _unknown(rows, path)


def _unknown(rows: Sequence[GridRow], path: Path) -> BadInput:
    what = "nobody can tell which column names the drinks, and which says how many"
    first = ", ".join(f"'{short(cell, 30)}'" for cell in rows[0].cells if cell)
    remedy = "Name them, like --column drink=Article --column sold=Qty."
    where = Where(path, rows[0].line)
    return BadInput(what, where=where, why=f"the first line says {first}", remedy=remedy)
