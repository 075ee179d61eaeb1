"""Read sizes, prices and stock of a foreign list into the shelf's notation."""

from __future__ import annotations

import re

from solver.errors import BadInput
from solver.pantry.ingredient import Ingredient
from solver.pantry.shelf_row import MOST_IN_CASE
from solver.pantry.stocked_as import ONE, counts_pieces, is_one, pieces
from solver.printable import short
from solver.quantities import split_count
from solver.quantities.numbers import plain
from solver.tasks.shelf_import.packs import fraction_in, pieces_in, without_pack

_UNITS = {
    "ml": "ml", "cl": "cl", "dl": "dl", "l": "l", "lt": "l", "ltr": "l", "liter": "l",
    "litre": "l", "litres": "l", "liters": "l", "litro": "l", "litri": "l", "oz": "oz",
    "floz": "fl oz", "g": "g", "gr": "g", "kg": "kg", "qt": "qt", "quart": "qt", "quarts": "qt",
    "lb": "lb", "lbs": "lb", "pound": "lb", "pounds": "lb",
    "pt": "pt", "pint": "pt", "pints": "pt", "gal": "gal", "gallon": "gal", "gallons": "gal",
}  # fmt: skip
_BOTTLES = re.compile(
    r"(?:bottles?|btls?|bts?|fl|flaschen?|bouteilles?|botellas?|bottigli[ae]|stk|stück|pcs?|x|"
    r"each|ea|pieces?)?\.?",
    re.IGNORECASE,
)
"""What may stand behind a number of bottles."""
_BEFORE = r"[\s,(]*(?<![\w./])"
"""What stands before a number in a name; its point belongs to it, as in ".75 l"."""
_DECIMAL = r"(?:[0-9]+(?:[.,][0-9]+)?|\.[0-9]+)"
_CASE = re.compile(
    r"(?:case of\s*)?(?P<n>[0-9]{1,4})\s*"
    r"(?:[x×*/]\s*[0-9].*|(?:/?\s?(?:case|cs)|pk|pack|packs|bottles?|btls?|flaschen?|ct)\.?)?",
    re.IGNORECASE,
)
_IN_A_NAME = re.compile(
    rf"{_BEFORE}{_DECIMAL}\s*(?:ml|cl|dl|l|lt|ltr|litre|liter|fl\.?\s?oz|oz|g|gr|kg|lbs?)\b\.?\)?",
    re.IGNORECASE,
)
_PROOF = re.compile(r"[\s,(]*\b(?P<n>[0-9]{2,3})\s*proof\b\)?", re.IGNORECASE)
"""Proof of the United States: twice the strength."""
_STRENGTH = re.compile(rf"{_BEFORE}{_DECIMAL}\s*%(?:\s*(?:vol|abv))?\.?\)?", re.IGNORECASE)
_THREE_DECIMALS = re.compile(r"[1-9][0-9]{0,2}[.,][0-9]{3}")
"""A thousand, or one and some: people write either."""
_SAME_STRENGTH = 0.05
"""% vol by which labels are rounded."""
_SIGNS = {
    "€": ("EUR",), "£": ("GBP",), "¥": ("JPY",), "₹": ("INR",), "₫": ("VND",),
    "zł": ("PLN",), "kr": ("SEK", "DKK", "ISK", "NOK"), "fr": ("CHF", "XOF"),
    "$": ("USD", "CAD", "AUD", "NZD", "MXN", "ARS", "CLP"),
}  # fmt: skip
_MARK_OF_MONEY = re.compile(r"(?:kr|fr)\.|/$|[^0-9.,/\s'’–-]", re.IGNORECASE)
"""Signs and letters beside a price; the point of "Fr." is no decimal point."""
_PRICE = re.compile(r"(?P<n>[0-9.,]*[0-9])(?:[.,][-–]*)?")
"""A price without them: 28.50, .45, and 44,- for no cents."""


def without_sizes(name: str) -> str:
    """A name without size, strength and pack: "Gin 43 %, 6 x 70cl" is gin."""
    bare = _PROOF.sub("", _STRENGTH.sub("", _IN_A_NAME.sub("", without_pack(name))))
    return " ".join(bare.split()).strip(" ,;-") or name


def size_in(name: str) -> str:
    """The size within a name; empty if there is none."""
    found = _IN_A_NAME.search(name)
    return found[0].strip(" ,()") if found else fraction_in(name) or pieces_in(name)


def strength_in(name: str) -> str:
    """The strength within a name; empty if there is none."""
    if proof := _PROOF.search(name):
        return f"{int(proof['n']) / 2:g}%"
    found = _STRENGTH.search(name)
    return found[0].strip(" ,()") if found else ""


def strength_cell(text: str, item: Ingredient) -> str:
    """A strength in the shelf's notation; empty if it is that of the library.

    A workbook's 0.45 is 45 %.

    Raises:
        BadInput: it is no strength.
    """
    found = re.fullmatch(rf"({_DECIMAL}|,[0-9]+)\s*%?\s*(?:vol|abv|alc)?\.?", text.strip(), re.I)
    if not text.strip():
        return ""
    if found is None:
        raise BadInput(f"'{short(text)}' is no strength", remedy="Write it like 45%.")
    value = float(found[1].replace(",", "."))
    if value <= 1 < item.abv.value and "%" not in text:
        value *= 100
    return "" if abs(value - item.abv.value) < _SAME_STRENGTH else f"abv={value:g}%"


def size_cell(text: str, unit: str = "") -> tuple[str, str]:
    """A size in the shelf's notation, and the assumption made; `unit` is that of the column.

    A bare number is litres up to 5, centilitres below 100, else millilitres.

    Raises:
        BadInput: it is no size of one bottle.
    """
    if not text:
        return "", ""
    if counts_pieces(text):
        return (ONE if is_one(text) else text), ""
    split = split_count(text.casefold())
    written = re.sub(r"[\s.]", "", split[1]) if split else ""
    if split is None or (written and written not in _UNITS):
        raise BadInput(f"'{short(text)}' is no size", remedy="Write it like 70cl or 0.7 l.")
    number, by = _with_point(split[0]), _UNITS[written] if written else unit
    if by in ("ml", "g") and _THREE_DECIMALS.fullmatch(number):
        what = f"'{short(text)}' can be read two ways"
        remedy = f"Write it like {number.replace('.', '')} {by}."
        raise BadInput(what, why="a point may mark decimals or thousands", remedy=remedy)
    if by:
        return f"{number} {by}", ""
    if "/" in number:
        raise BadInput(f"'{short(text)}' has no unit", remedy="Write it like 1/2 l.")
    value = float(number)
    taken = "l" if value <= 5 else "cl" if value < 100 else "ml"
    return f"{number} {taken}", f"{number} taken as {taken}"


def price_cell(text: str, currency: str) -> str:
    """A price in the shelf's notation: digits and a point.

    Raises:
        BadInput: it is none, below zero, or in another currency than the bar's.
    """
    said = plain(text)
    if not said:
        return ""
    letters = re.sub(r"[0-9.,\s'’–-]", "", said).strip("/")
    codes = _SIGNS.get(letters.casefold(), (letters.upper(),))
    if letters and currency and currency not in codes:
        what = f"'{short(text)}' is not in {currency}, the bar's currency"
        raise BadInput(what, remedy="Take the sign away if it is.")
    if letters and letters.casefold() not in _SIGNS and not re.fullmatch(r"[A-Za-z]{3}", letters):
        raise _no_price(text)
    number = _PRICE.fullmatch(re.sub(r"[\s'’]", "", _MARK_OF_MONEY.sub("", said)))
    if number is None:
        raise _no_price(text)
    return _with_cents(number["n"], text)


def price_taken(text: str) -> str:
    """The assumption about an ambiguous price; empty if it is clear."""
    found = _THREE_DECIMALS.search(text)
    if found is None or not re.fullmatch(r"[^0-9.,]*", text.replace(found[0], "", 1)):
        return ""
    return f"{found[0]} taken as {float(_with_cents(found[0], text)):g}"


def _no_price(text: str) -> BadInput:
    below = re.match(r"[^0-9]*[-–]\s*[.,]?[0-9]", plain(text))
    why = "it is below zero" if below else ""
    return BadInput(f"'{short(text)}' is no price", why=why, remedy="Write it like 28.50.")


def _with_cents(digits: str, said: str) -> str:
    """A number with a decimal point, if its last separator may precede cents."""
    last = max(digits.rfind("."), digits.rfind(","))
    whole, part = (digits, "") if last < 0 else (digits[:last], digits[last + 1 :])
    grouped = len(part) == 3 and whole not in ("", "0")
    if grouped and "." not in whole and "," not in whole and digits[last] == ".":
        grouped = False  # 1.234 with no other sign: as the shelf itself would read it
    if grouped:
        whole, part = whole + part, ""
    whole = re.sub(r"[.,]", "", whole) or "0"
    if not whole.isdecimal():
        raise _no_price(said)
    return f"{whole}.{part}" if part else whole


def stock_cell(text: str, *, loose: bool = False) -> str:
    """The stock in the shelf's notation: a bare number counts bottles, or loose pieces.

    Raises:
        BadInput: its number can be read two ways.
    """
    split = split_count(text)
    if split is None or not _BOTTLES.fullmatch(split[1]):
        return text
    return pieces(_with_point(split[0])) if loose else count_cell(split[0])


def case_cell(text: str) -> tuple[str, str]:
    """The number of bottles in a case, and what of the cell was not understood.

    It may state the size too, "6 x 750 ml"; a cell that states anything else, like a bare size, is
    not used.
    """
    found = _CASE.fullmatch(text.strip())
    if found is not None and 1 <= int(found["n"]) <= MOST_IN_CASE:
        return found["n"], ""
    return "", f"case '{short(text, 20)}' not read" if text else ""


def count_cell(number: str) -> str:
    """A count of bottles in the shelf's notation; `number` has a decimal point or comma."""
    written = _with_point(number)
    return f"{written} {'bottle' if written == '1' else 'bottles'}"


def _with_point(number: str) -> str:
    """A number with a decimal point and a leading digit; fractions stay as written."""
    written = number.replace(",", ".")
    return f"0{written}" if written.startswith(".") else written
