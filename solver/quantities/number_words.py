"""Numbers that are written as words: half a dozen, two."""

from __future__ import annotations

import re
from typing import Final

from solver.quantities.reading import parse_number
from solver.quantities.showing import show_number

_WORDS: Final = {
    "a": "1", "an": "1", "one": "1", "two": "2", "three": "3", "four": "4", "five": "5",
    "six": "6", "half": "1/2",
}  # fmt: skip
_HALF = re.compile(r"(?:1/2 an?|1 half)(?= )")
_DOZENS = re.compile(
    r"(?:(?P<count>[0-9][0-9.,/ ]*?)\s*)?(?:dozens?|doz\.?|dz\.?|dutzend)(?![\w-])"
    r"\s*(?:of\s+)?(?P<rest>.*)",
    re.IGNORECASE,
)


def in_digits(text: str) -> str:
    """The text with digits in place of the number words that it begins with.

    "half a dozen eggs" is "6 eggs"; "2 dozen" alone is "24 pieces".

    Raises:
        BadInput: what is before "dozen" looks like a number and is none.
    """
    whole = " ".join(text.split())
    first, _, rest = whole.partition(" ")
    number = _WORDS.get(first.casefold())
    if number is not None and rest:
        whole = _HALF.sub("1/2", f"{number} {rest}", count=1)
    dozens = _DOZENS.fullmatch(whole)
    if dozens is None:
        return whole
    count = show_number(12 * parse_number(dozens["count"] or "1"), 4)
    return f"{count} {dozens['rest'] or 'pieces'}"
