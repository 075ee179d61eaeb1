"""Numbers as bartenders write them: 22.5, 22,5, 3/4, 1 1/2, 1-1/2, ½, 1½."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache

from solver.errors import BadInput

_VULGAR = {
    "½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4", "⅕": "1/5", "⅖": "2/5",
    "⅗": "3/5", "⅘": "4/5", "⅙": "1/6", "⅚": "5/6", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8",
    "⅞": "7/8",
}  # fmt: skip
_SAME = str.maketrans(
    {"\u2044": "/", "\u2215": "/", "\u2212": "-", "\u2014": "–", "\u2026": ".."}
    | {fraction: f" {plain}" for fraction, plain in _VULGAR.items()}
)
_NUMBER = re.compile(
    r"(?:(?P<whole>[0-9]+)(?:\s+|-))?(?P<over>[0-9]+)\s?/\s?(?P<under>[0-9]+)(?![0-9.,])"
    r"|(?P<decimal>[0-9]+(?:[.,][0-9]+)*|[.,][0-9]+)"
)
_THOUSANDS = re.compile(r"[1-9][0-9]{0,2}\.[0-9]{2}0\s*(?:g|gr|grams?|ml)\b", re.IGNORECASE)
"""Nobody at a bar weighs milligrams, and no program writes that last 0: where a comma marks
decimals, 1.500 g are thousands."""
_MOST_DIGITS = 9
KEPT = 4096
"""Texts of which it is remembered what number they are: the files of a bar say the same few."""


@lru_cache(maxsize=KEPT)
def plain(text: str) -> str:
    """`text` with typographic fractions, dashes and spaces as plain ones, and none at the ends."""
    return " ".join(text.translate(_SAME).split())


def clip(text: str, most: int = 40) -> str:
    """`text` on one line and short enough to repeat in a sentence."""
    clean = "".join(c if c.isprintable() else " " for c in " ".join(text.split()))
    return clean if len(clean) <= most else f"{clean[:most]}…"


def wrong(
    text: str, claim: str, *, why: str = "", remedy: str = "", near: Sequence[str] = ()
) -> BadInput:
    """The mistake that `claim` says of the quoted text: "'1/0' divides by zero"."""
    return BadInput(f"'{clip(text)}' {claim}", why=why, remedy=remedy, near=near)


@lru_cache(maxsize=KEPT)
def take_number(text: str) -> tuple[float, str] | None:
    """The number that the plain text begins with, and the rest; None where it begins with none.

    Raises:
        BadInput: the number can be read two ways, divides by zero, or is absurdly long.
    """
    match = _NUMBER.match(text)
    if match is None:
        return None
    if any(len(digits) > _MOST_DIGITS for digits in re.findall("[0-9]+", match[0])):
        raise wrong(
            match[0],
            "has too many digits",
            why=f"{_MOST_DIGITS} on either side of the point are plenty at a bar",
        )
    if _THOUSANDS.match(text):
        raise two_ways(match[0])
    value = _decimal(match["decimal"]) if match["decimal"] else _fraction(match)
    return value, text[match.end() :].strip()


def split_count(text: str) -> tuple[str, str] | None:
    """The number that `text` begins with, as plainly written, and the rest; None without one.

    Raises:
        BadInput: as `take_number`.
    """
    clean = plain(text)
    taken = take_number(clean)
    if taken is None:
        return None
    rest = taken[1]
    return clean[: len(clean) - len(rest)].strip(), rest


def _fraction(match: re.Match[str]) -> float:
    over, under = int(match["over"]), int(match["under"])
    if under == 0:
        raise wrong(match[0], "divides by zero", remedy="Write it like 3/4.")
    if match["whole"] and over >= under:
        raise wrong(
            match[0],
            "is not a number",
            why="the fraction after a whole number must be less than one",
            remedy="Write it like 1 1/2.",
        )
    return int(match["whole"] or 0) + over / under


def _decimal(text: str) -> float:
    marks = text.count(".") + text.count(",")
    thousands = re.fullmatch(r"[1-9][0-9]{0,2},[0-9]{3}", text)
    if marks > 1 or thousands:
        raise two_ways(text)
    return float(text.replace(",", "."))


def two_ways(text: str) -> BadInput:
    """The mistake of a number of which nobody can tell what its mark is."""
    return wrong(
        text,
        "can be read two ways",
        why="a comma or point may mark decimals or thousands",
        remedy="Write thousands without a mark, like 1000, and decimals like 22.5.",
    )
