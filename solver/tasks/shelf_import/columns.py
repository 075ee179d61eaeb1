"""Find the meaning of the columns of a foreign table by their headings."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial

from solver.errors import BadInput
from solver.files.grid import GridRow
from solver.files.near_words import near_words
from solver.pantry.library import fold
from solver.pantry.word_forms import without_accents
from solver.printable import short

SAID = {
    "ingredient": "name", "bottle": "size", "price": "price", "on_hand": "on hand",
    "opened": "opened", "use_by": "use by", "note": "note", "abv": "abv", "case": "case",
    "supplier": "supplier",
}  # fmt: skip
"""What a table may say of a bottle, by the columns of a shelf, and what each is called to people;
`abv` becomes one of its overrides."""


_IGNORED = frozenset(
    word
    for words in (
        "total value gesamt wert gesamtpreis valeur valor valore vat tax mwst tva iva",
        "code sku id ean category kategorie categorie",
        "categoria type par reorder mindestbestand minimum delta usage verbrauch location lagerort",
        "emplacement country land proof vol cases",
    )
    for word in words.split()
)
"""Words of headings that say something else, whatever stands beside them."""
_CASES = frozenset({
    "case", "pack", "karton", "kiste", "vpe", "carton", "caisse", "caja", "cassa", "cartone",
})  # fmt: skip
"""Words of headings that say how many bottles come together. Beside a price or a stock they say
that it is one of whole cases, which is no figure of a bottle and is not read."""
_STOCK = frozenset({
    "onhand", "stock", "inventory", "bestand", "lagerbestand", "existencias", "giacenza", "left",
})  # fmt: skip
_SUPPLIERS = frozenset({
    "supplier", "vendor", "distributor", "lieferant", "fournisseur", "distributeur", "proveedor",
    "distribuidor", "fornitore", "distributore", "leverancier", "dostawca",
})  # fmt: skip
_NAMES = frozenset({"name", "nom", "nombre", "nome", "naam", "nazwa"})
"""What may stand beside a word for whoever delivers."""
_WORDS: Mapping[str, tuple[str, ...]] = {
    meaning: tuple(words.split())
    for meaning, words in {
        "price": "price cost unitprice preis ek einkaufspreis stueckpreis stuckpreis netto prix "
        "tarif cout precio coste costo prezzo cena prijs pris paid bezahlt eur euro usd gbp chf",
        "use_by": "useby expiry expires expiration bestbefore mhd haltbar ablauf dlc peremption "
        "caducidad scadenza",
        "abv": "abv alc alcohol alkohol alkoholgehalt strength alcool alcol gradazione graduacion",
        "opened": "opened geoffnet angebrochen ouvert ouverture abierto aperto",
        "bottle": "size volume volumen format contents inhalt grosse gebinde fullmenge contenance "
        "taille tamano contenido formato capacita capacity inhoud pojemnosc content ml cl l litre "
        "liter litres",
        "on_hand": "onhand stock qty quantity count inventory bestand lagerbestand menge anzahl "
        "stuck stk quantite cantidad existencias quantita giacenza amount aantal ilosc left "
        "bottles flaschen bouteilles",
        "note": "note notes comment comments remark bemerkung notiz remarque nota notas",
        "ingredient": "ingredient zutat name product item produkt artikel bezeichnung description "
        "spirit getrank nom produit designation article nombre producto articulo descripcion "
        "prodotto nome articolo descrizione nazwa naam vare bottle flasche bouteille bottiglia "
        "brand marke what was ware",
    }.items()
}
"""Words of headings, the most telling meaning first (a bottle's price is a price), and of each the
most telling word first."""
_PHRASES = {
    "on hand": "onhand", "in stock": "stock", "auf lager": "bestand", "en stock": "stock",
    "best before": "bestbefore", "use by": "useby", "fl oz": "floz",
}  # fmt: skip
_UNITS = {
    "ml": "ml", "cl": "cl", "dl": "dl", "l": "l", "litre": "l", "liter": "l", "litres": "l",
    "litro": "l", "floz": "oz", "oz": "oz", "g": "g", "kg": "kg",
}  # fmt: skip
_BOTTLE = frozenset({"bottle", "flasche", "bouteille", "bottiglia", "botella"})
"""A heading of sizes, where another column has the names."""
_ONE_BOTTLE = _BOTTLE | {"each", "unit", "single"}
_LETTER = re.compile(r"[^\W\d_]")
_LOOKED_AT = 25
"""Rows in which the line of headings is looked for: a title and a date may stand above it."""


@dataclass(frozen=True)
class Head:
    """The columns of a table: positions (`places`) by meaning, and the headings as written.

    `unit` is that of sizes, if the heading names one. `first` is the index of the first row below
    the headings.
    """

    places: Mapping[str, int]
    headings: tuple[str, ...]
    unit: str
    first: int

    @property
    def unread(self) -> tuple[str, ...]:
        """Headings of columns without a meaning for a shelf."""
        read = set(self.places.values())
        return tuple(h for at, h in enumerate(self.headings) if h and at not in read)


def find_head(rows: Sequence[GridRow], named: Mapping[str, str]) -> Head:
    """Find the headings of a table; `named` are those given by the user, by meaning.

    Raises:
        BadInput: no column says what the bottles are called, or one that was named is not there.
    """
    if named:
        return _named_head(rows, named)
    heads = [_head(at, row.cells) for at, row in enumerate(rows[:_LOOKED_AT])]
    named_bottles = [head for head in heads if "ingredient" in head.places]
    named_bottles = named_bottles or [each for each in map(partial(_by_text, rows), heads) if each]
    if not named_bottles:
        what = "no column says what the bottles are called"
        first = ", ".join(f"'{short(cell, 30)}'" for cell in rows[0].cells if cell)
        remedy = "Name it with --column, like --column name=Product."
        raise BadInput(what, why=f"the first line says {first}", remedy=remedy)
    return max(named_bottles, key=lambda head: (len(head.places), -head.first))


def _by_text(rows: Sequence[GridRow], head: Head) -> Head | None:
    """A line of headings with names in the one other column that has text, whatever it is called;
    None where it has no known heading, or there are several such columns, or none."""
    below = rows[head.first :]
    texts = [
        at
        for at, heading in enumerate(head.headings)
        if heading and at not in head.places.values() and not _heading_words(heading) & _IGNORED
        if _is_text([row.cells[at] for row in below if at < len(row.cells) and row.cells[at]])
    ]
    if not head.places or len(texts) != 1:
        return None
    return replace(head, places={**head.places, "ingredient": texts[0]})


def _is_text(cells: Sequence[str]) -> bool:
    """Whether cells are words, no numbers, amounts or dates."""
    return bool(cells) and not any(cell[:1].isdigit() or not _LETTER.search(cell) for cell in cells)


def _named_head(rows: Sequence[GridRow], named: Mapping[str, str]) -> Head:
    """The first line that contains all headings given by the user."""
    wanted = {meaning: fold(heading) for meaning, heading in named.items()}
    for at, row in enumerate(rows[:_LOOKED_AT]):
        cells = [fold(cell) for cell in row.cells]
        if not all(heading in cells for heading in wanted.values()):
            continue
        told = {meaning: cells.index(heading) for meaning, heading in wanted.items()}
        guessed = _head(at, row.cells)
        places = {
            meaning: place
            for meaning, place in guessed.places.items()
            if meaning not in told and place not in told.values()
        } | told
        if "ingredient" in places:
            return Head(places, row.cells, _unit_of(places, row.cells), at + 1)
    cells = [cell for row in rows[:_LOOKED_AT] for cell in row.cells if cell]
    gone = [heading for heading in named.values() if fold(heading) not in map(fold, cells)]
    heading = (gone or list(named.values()))[0]
    what = f"no line has the heading '{short(heading)}'"
    raise BadInput(what, near=near_words(heading, cells), remedy="Write it as the table has it.")


def _head(at: int, cells: tuple[str, ...]) -> Head:
    found: dict[str, tuple[int, int]] = {}
    for place, cell in enumerate(cells):
        meaning, rank = _meaning(cell)
        if meaning:
            found[meaning] = min(found.get(meaning, (rank, place)), (rank, place))
    places = {meaning: place for meaning, (_, place) in found.items()}
    if "bottle" not in places:
        read = set(places.values())
        for place, cell in enumerate(cells):
            words = _heading_words(cell)
            if place not in read and words and words <= _BOTTLE:
                places["bottle"] = place
                break
    return Head(places, cells, _unit_of(places, cells), at + 1)


def _meaning(heading: str) -> tuple[str, int]:
    """The meaning of a heading, "" for none, and its rank: 0 is the most specific."""
    words = _heading_words(heading)
    if len(heading) > 40 or heading[:1].isdigit() or "=" in heading or words & _IGNORED:
        return "", 0
    if words & _SUPPLIERS:
        return ("supplier", 0) if words <= _SUPPLIERS | _NAMES else ("", 0)
    if words & _CASES:
        return _meaning_of_cases(words - _CASES, "pack" in words), 0
    for meaning, known in _WORDS.items():
        ranks = [known.index(word) for word in words if word in known]
        if ranks:
            return meaning, min(ranks)
    return "", 0


def _meaning_of_cases(beside: set[str], pack: bool) -> str:
    """The meaning of a heading about cases, by its other words; a pack's size is a bottle's."""
    if pack and beside.intersection(_WORDS["bottle"]):
        return "bottle"
    priced = beside.intersection(_WORDS["price"])
    if priced and beside & _ONE_BOTTLE:
        return "price"
    return "" if priced or beside & _STOCK else "case"


def _heading_words(heading: str) -> set[str]:
    """The words of a heading in plain letters."""
    said = without_accents(heading).replace("ß", "ss")
    for phrase, word in _PHRASES.items():
        said = said.replace(phrase, word)
    return set(re.findall(r"[a-z]+", said))


def _unit_of(places: Mapping[str, int], cells: tuple[str, ...]) -> str:
    """The unit in the heading of sizes; empty if there is none."""
    words = _heading_words(cells[places["bottle"]]) if "bottle" in places else ()
    return next((_UNITS[word] for word in words if word in _UNITS), "")
