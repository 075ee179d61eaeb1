"""Sizes, prices and stock as people write them in lists of their own, as a shelf has them."""

from __future__ import annotations

import re

from solver.errors import BadInput
from solver.pantry.ingredient import Ingredient
from solver.pantry.kept import ONE, counts_pieces, is_one, pieces
from solver.printable import short

_UNITS = {
    "ml": "ml", "cl": "cl", "dl": "dl", "l": "l", "lt": "l", "ltr": "l", "liter": "l",
    "litre": "l", "litres": "l", "liters": "l", "litro": "l", "litri": "l", "oz": "oz",
    "floz": "fl oz", "g": "g", "gr": "g", "kg": "kg", "qt": "qt", "quart": "qt", "quarts": "qt",
    "lb": "lb", "lbs": "lb", "pound": "lb", "pounds": "lb",
    "pt": "pt", "pint": "pt", "pints": "pt", "gal": "gal", "gallon": "gal", "gallons": "gal",
}  # fmt: skip
_SIZE = r"(?P<n>[0-9]+(?:[.,][0-9]+)?)\s*(?P<unit>fl\.?\s?oz|[a-z]+)?\.?"
_SEVERAL = re.compile(r"[0-9]+\s*[x×*]\s*[0-9]", re.IGNORECASE)
_BOTTLES = re.compile(
    r"(?P<n>[0-9]+(?:[.,][0-9]+)?)\s*"
    r"(?:bottles?|btls?|bts?|fl|flaschen?|bouteilles?|botellas?|bottigli[ae]|stk|stück|pcs?|x|"
    r"each|ea|pieces?)?\.?",
    re.IGNORECASE,
)
_IN_A_NAME = re.compile(
    r"[\s,(]*\b[0-9]+(?:[.,][0-9]+)?\s*(?:ml|cl|dl|l|lt|ltr|litre|liter)\b\.?\)?", re.IGNORECASE
)
_PROOF = re.compile(r"[\s,(]*\b(?P<n>[0-9]{2,3})\s*proof\b\)?", re.IGNORECASE)
"""Proof of the United States: twice the strength."""
_STRENGTH = re.compile(
    r"[\s,(]*\b[0-9]+(?:[.,][0-9]+)?\s*%(?:\s*(?:vol|abv))?\.?\)?", re.IGNORECASE
)
_SAME_STRENGTH = 0.05
"""% vol by which labels are rounded."""
_SIGNS = {
    "€": ("EUR",), "£": ("GBP",), "¥": ("JPY",), "₹": ("INR",), "₫": ("VND",),
    "zł": ("PLN",), "kr": ("SEK", "DKK", "ISK", "NOK"), "fr": ("CHF", "XOF"),
    "$": ("USD", "CAD", "AUD", "NZD", "MXN", "ARS", "CLP"),
}  # fmt: skip


def without_sizes(name: str) -> str:
    """A name without the size and strength of the bottle: "Gin 43 %, 70cl" is gin."""
    bare = _PROOF.sub("", _STRENGTH.sub("", _IN_A_NAME.sub("", name)))
    return " ".join(bare.split()).strip(" ,;-") or name


def size_in(name: str) -> str:
    """The size that a name holds; empty where there is none."""
    found = _IN_A_NAME.search(name)
    return found[0].strip(" ,()") if found else ""


def strength_in(name: str) -> str:
    """The strength that a name holds; empty where there is none."""
    if proof := _PROOF.search(name):
        return f"{int(proof['n']) / 2:g}%"
    found = _STRENGTH.search(name)
    return found[0].strip(" ,()") if found else ""


def strength_cell(text: str, item: Ingredient) -> str:
    """What a shelf says of a bottle's strength: nothing where it is the library's own.

    A workbook's 0.45 is 45 %.

    Raises:
        BadInput: it is no strength.
    """
    found = re.fullmatch(r"([0-9]+(?:[.,][0-9]+)?)\s*%?\s*(?:vol|abv|alc)?\.?", text.strip(), re.I)
    if not text.strip():
        return ""
    if found is None:
        raise BadInput(f"'{short(text)}' is no strength", remedy="Write it like 45%.")
    value = float(found[1].replace(",", "."))
    if value <= 1 < item.abv.value and "%" not in text:
        value *= 100
    return "" if abs(value - item.abv.value) < _SAME_STRENGTH else f"abv={value:g}%"


def size_cell(text: str, unit: str = "") -> tuple[str, str]:
    """A size as a shelf has it, and what was taken for granted; `unit` is that of the column.

    A bare number is litres up to 5, centilitres below 100, else millilitres.

    Raises:
        BadInput: it is no size of one bottle.
    """
    if not text:
        return "", ""
    if counts_pieces(text):
        return (ONE if is_one(text) else text), ""
    if _SEVERAL.search(text):
        what = f"'{short(text)}' is a case of several"
        raise BadInput(what, remedy="Give the size and the price of one bottle.")
    found = re.fullmatch(_SIZE, text.casefold().strip())
    written = re.sub(r"[\s.]", "", found["unit"] or "") if found else ""
    if found is None or (written and written not in _UNITS):
        raise BadInput(f"'{short(text)}' is no size", remedy="Write it like 70cl or 0.7 l.")
    number = found["n"].replace(",", ".")
    if written or unit:
        return f"{number} {_UNITS[written] if written else unit}", ""
    value = float(number)
    taken = "l" if value <= 5 else "cl" if value < 100 else "ml"
    return f"{number} {taken}", f"{number} taken as {taken}"


def price_cell(text: str, currency: str) -> str:
    """A price as a shelf has it: digits and a point.

    Raises:
        BadInput: it is none, or in another currency than the bar's.
    """
    if not text:
        return ""
    letters = re.sub(r"[0-9.,\s'’–—-]", "", text).strip("/")
    codes = _SIGNS.get(letters.casefold(), (letters.upper(),))
    if letters and currency and currency not in codes:
        what = f"'{short(text)}' is not in {currency}, the bar's currency"
        raise BadInput(what, remedy="Take the sign away if it is.")
    if letters and letters.casefold() not in _SIGNS and not re.fullmatch(r"[A-Za-z]{3}", letters):
        raise BadInput(f"'{short(text)}' is no price", remedy="Write it like 28.50.")
    return _decimal(re.sub(r"[^0-9.,]", "", text), text)


def _decimal(digits: str, said: str) -> str:
    """A number with a point, where the last of its points and commas may stand before cents."""
    digits = digits.strip(".,")
    last = max(digits.rfind("."), digits.rfind(","))
    whole, part = (digits, "") if last < 0 else (digits[:last], digits[last + 1 :])
    grouped = last >= 0 and len(part) == 3
    if grouped and "." not in whole and "," not in whole and digits[last] == ".":
        grouped = False  # 1.234 with no other sign: as the shelf itself would read it
    if grouped:
        whole, part = whole + part, ""
    whole = re.sub(r"[.,]", "", whole)
    if not whole.isdecimal():
        raise BadInput(f"'{short(said)}' is no price", remedy="Write it like 28.50.")
    return f"{whole}.{part}" if part else whole


def stock_cell(text: str, *, loose: bool = False) -> str:
    """What is on hand as a shelf has it: a bare number counts bottles, or loose pieces."""
    found = _BOTTLES.fullmatch(text.strip())
    if found is None:
        return text
    return pieces(found["n"]) if loose else counted(found["n"])


def counted(number: str) -> str:
    """So many bottles as a shelf has them; `number` is written with a point or a comma."""
    plain = number.replace(",", ".")
    return f"{plain} {'bottle' if plain == '1' else 'bottles'}"
