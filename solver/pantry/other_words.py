"""What an ingredient is called in another language, brought to its English name.

A name of the library or of the bar always comes first: these words are asked for what nobody
here is called.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from functools import cache

from solver.pantry.folders import LANGUAGES
from solver.pantry.word_forms import brief, spelled_out, without_accents

_NAMES = LANGUAGES / "names"
"""What pages call the library's ingredients in other languages: read backwards here."""
_EVERYDAY: Mapping[str, str] = {
    "sahne": "heavy cream", "sekt": "sparkling wine", "limette": "limes", "zitrone": "lemons",
    "ingwer": "ginger", "zimt": "cinnamon", "wasser": "water",
    "milch": "whole milk", "salz": "salt", "minze": "mint", "soda": "soda water",
    "kümmelschnaps": "aquavit", "wermut rot": "sweet vermouth", "ei": "eggs", "eier": "eggs",
    "vanille": "vanilla", "gin trocken": "gin",
}  # fmt: skip
"""German words of kitchen and bar: common usage, from memory, no source."""
_SAYS_NOTHING = frozenset({"frisch", "frisches", "frische", "pasteurisiert", "bio"})
"""Words that are left out where a name with them is nobody's; raw egg stays the stricter one."""
_ENDING = re.compile(r"(?<=\w{3})(?:e[rsnm]?|n)$")


def in_english(text: str) -> str | None:
    """The English name for an ingredient's name in another language; None where none is known."""
    said = re.findall(r"[^\W_]+", text.casefold())
    known = _english()
    for words in (said, [word for word in said if word not in _SAYS_NOTHING]):
        for plain in (spelled_out, without_accents):
            if (found := known.get(_stems(plain(" ".join(words))))) is not None:
                return found
    return None


@cache
def _english() -> Mapping[tuple[str, ...], str]:
    """English names by the stems of those in other languages: whole names before short ones."""
    names: list[tuple[str, str]] = []
    for path in sorted(_NAMES.glob("*.toml")):
        table = tomllib.loads(path.read_text(encoding="utf-8"))["name"]
        names += [(own, english) for english, own in table.items()]
    # What is called alike in both needs no help: a slip in it is to be told.
    names = [(own, english) for own, english in names if _short(own) != _short(english)]
    short = [(brief(own), english) for own, english in names]
    found: dict[tuple[str, ...], str] = {}
    for several in (names, _EVERYDAY.items(), short):
        for own, english in several:
            for plain in (spelled_out, without_accents):
                found.setdefault(_stems(plain(own)), english)
    found.pop((), None)
    return found


def _short(name: str) -> str:
    return brief(name).casefold()


def _stems(plain: str) -> tuple[str, ...]:
    """The words of a name in plain letters without endings, in any order: "Zucker, weiß" and
    "weißer Zucker" are one.
    """
    return tuple(sorted(_stem(word) for word in re.findall(r"[^\W_]+", plain)))


def _stem(word: str) -> str:
    while (shorter := _ENDING.sub("", word)) != word:
        word = shorter
    return word
