"""Packs of several, as lists write them: "24 x 0,2 l", "6/750ml", "case of 12"."""

from __future__ import annotations

import re
from dataclasses import dataclass

from solver.errors import BadInput
from solver.pantry.shelf_row import MOST_IN_CASE
from solver.pantry.stocked_as import ONE
from solver.pantry.stocked_as import pieces as as_pieces
from solver.pantry.word_forms import spelled_out
from solver.printable import short

_NUMBER = r"(?:[0-9]+(?:[.,][0-9]+)?|\.[0-9]+)"
_UNIT = (
    r"(?:ml|cl|dl|lt|ltr|lit(?:er|re|ro|ri)s?|l|fl\.?\s?oz|oz|kg|gr|g|lbs?|pounds?|qt|quarts?|pt|"
    r"pints?|gal|gallons?)\b\.?"
)
_SIZE = rf"{_NUMBER}\s*{_UNIT}"
_BEFORE = r"(?<![\w.,/])"
_TIMES = re.compile(rf"{_BEFORE}(?P<n>[0-9]{{1,4}})\s*[x×*]\s*(?P<size>{_SIZE})", re.IGNORECASE)
_AFTER = re.compile(rf"{_BEFORE}(?P<size>{_SIZE})\s*[x×*]\s*(?P<n>[0-9]{{1,4}})\b", re.IGNORECASE)
_SLASH = re.compile(rf"{_BEFORE}(?P<n>[0-9]{{1,4}})\s*/\s*(?P<size>{_SIZE})", re.IGNORECASE)
_COUNT = re.compile(
    r"\b(?:(?:case|pack|box|carton|crate|kiste|karton|tray)\s+(?:of|à|mit)\s+(?P<of>[0-9]{1,4})\b|"
    rf"{_BEFORE}(?P<n>[0-9]{{1,4}})(?:\s*-?\s*(?:pack|pk|bottles?|btls?|cans?|flaschen|dosen)\b|er(?:[\s-]*(?:pack|kiste|karton|träger))?\b))",
    re.IGNORECASE,
)
_PIECES = re.compile(
    rf"{_BEFORE}(?P<n>[0-9]{{1,4}})\s*(?:stück|stueck|stk|pieces?|pcs?|ct|count)\b\.?",
    re.IGNORECASE,
)
_WHATEVER = re.compile(rf"{_BEFORE}[0-9]+(?:\s*[x×*/]\s*{_NUMBER})+\s*{_UNIT}", re.IGNORECASE)
"""A pack in any number of layers, or a fraction."""
_SEVERAL = re.compile(r"[0-9]\s*[x×*]\s*(?=[0-9])", re.IGNORECASE)
_FRACTIONS = frozenset({"1/2", "1/3", "2/3", "1/4", "3/4", "1/5", "1/8", "1/10"})
"""What a slash between two numbers means in a size where it is no pack."""
_NO_FRACTION = 50.0
"""A number behind a slash that is of no fraction."""
_EACH = frozenset({"each", "unit", "single", "stueckpreis", "stuckpreis", "unitprice"})
"""Words of a heading of prices that may mean one of a pack, or the pack."""
_BOTTLE = frozenset({
    "bottle", "bottles", "flasche", "flaschen", "flaschenpreis", "bouteille", "bouteilles",
    "bottiglia", "bottiglie", "botella", "botellas",
})  # fmt: skip
"""Words of a heading that mean one, whatever comes together."""
HOW = "Write the size and the price of one, like 0.2 l and 0.80."


@dataclass(frozen=True)
class Pack:
    """A number of bottles of one size; `size` is empty if not stated, `written` is the matched
    text."""

    count: int
    size: str
    written: str


def without_pack(text: str) -> str:
    """A text without its pack."""
    for pattern in (_WHATEVER, _AFTER, _COUNT, _PIECES):
        text = pattern.sub(" ", text)
    return re.sub(r"\(\s*\)", " ", text)


def fraction_in(text: str) -> str:
    """A size written as a fraction, "3/4 l"; empty if there is none."""
    return next((hit[0] for hit in _SLASH.finditer(text) if _is_pack(hit) is False), "")


def pieces_in(text: str) -> str:
    """The number of pieces in a text, in the shelf's notation; empty if there is none."""
    found = _PIECES.search(text)
    if found is None:
        return ""
    return as_pieces(str(int(found["n"])))


def pack_in(text: str, *, pieces: bool = False) -> Pack | None:
    """The pack in a name or a size; None for a single bottle.

    With `pieces`, "24 pcs" is a pack, as of bottles.

    Raises:
        BadInput: it can be read two ways, or says more than one.
    """
    found = [match for pattern in (_TIMES, _AFTER) for match in pattern.finditer(text)]
    found += [match for match in _SLASH.finditer(text) if _is_pack(match) is not False]
    if any(_is_pack(match) is None for match in _SLASH.finditer(text)):
        raise BadInput(f"'{short(text)}' can be read two ways", remedy=HOW)
    if len(found) > 1 or (not found and _SEVERAL.search(text)) or len(_SEVERAL.findall(text)) > 1:
        raise BadInput(f"'{short(text)}' is a pack that cannot be read", remedy=HOW)
    if found:
        return _pack(int(found[0]["n"]), found[0]["size"], found[0][0])
    counts = [_COUNT] + ([_PIECES] if pieces else [])
    match = next((hit for pattern in counts if (hit := pattern.search(text))), None)
    if match is None:
        return None
    said = match.groupdict()
    return _pack(int(said.get("of") or said["n"]), "", match[0])


def price_of_one(digits: str, pack: Pack, heading: str) -> str:
    """The price of one bottle of a pack in the shelf's notation, to a hundredth of a cent.

    Raises:
        BadInput: the heading leaves open whether it is one's or the pack's.
    """
    if not digits:
        return ""
    said = _heading_words(heading)
    if said & _EACH:
        raise _either(heading, pack.count)
    if said & _BOTTLE:
        return digits
    whole, _, part = f"{float(digits) / pack.count:.4f}".partition(".")
    return f"{whole}.{part.rstrip('0').ljust(2, '0')}"


def counts_ones(heading: str) -> bool:
    """Whether a heading of stock counts single bottles rather than packs."""
    return bool(_heading_words(heading) & _BOTTLE)


def check_price_of_pieces(size: str, heading: str) -> None:
    """Refuse a price of several pieces under a heading that may mean one piece.

    Raises:
        BadInput: it does.
    """
    if size and size != ONE and _heading_words(heading) & _EACH:
        raise _either(heading, int(size.split()[0]))


def _either(heading: str, count: int) -> BadInput:
    what = f"'{short(heading, 30)}' may be the price of one or of all {count}"
    return BadInput(what, remedy=HOW)


def _heading_words(heading: str) -> set[str]:
    return set(re.findall(r"[a-z]+", spelled_out(heading)))


def _pack(count: int, size: str, written: str) -> Pack | None:
    if count == 1:
        return Pack(1, size, written) if size else None
    if not 1 < count <= MOST_IN_CASE:
        raise BadInput(f"'{short(written)}' is no pack", remedy=HOW)
    return Pack(count, size, written)


def _is_pack(found: re.Match[str]) -> bool | None:
    """Whether a slash separates a count and a size, not a fraction; None if it may be either.

    "6/750ml" and "12/1 l" are packs, "3/4 l" is a size.
    """
    count, number = int(found["n"]), re.match(_NUMBER, found["size"])
    size = number[0].replace(",", ".") if number else "0"
    if f"{count}/{size}" in _FRACTIONS:
        return False
    return True if float(size) >= _NO_FRACTION or count > max(1.0, float(size)) else None
