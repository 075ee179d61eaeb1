"""What was written, before anything is converted: a number and its unit, or the ends of a range."""

from __future__ import annotations

import re
from dataclasses import dataclass

from solver.quantities.numbers import clip, plain, take_number, wrong
from solver.quantities.units import WrittenUnit, find_unit, near_units


@dataclass(frozen=True)
class Expected:
    """What the text should hold: named with its article, one unit of `dimensions`, an example."""

    article: str
    dimensions: tuple[str, ...]
    example: str

    @property
    def remedy(self) -> str:
        """What to write instead."""
        return f"Write it like {self.example}."


def take_amount(written: str, expected: Expected) -> tuple[float, str]:
    """The number in `written` and the text of its unit, "" where it has none.

    Raises:
        BadInput: there is no number, or it is below zero.
    """
    clean = plain(written)
    taken = take_number(clean)
    if taken is None:
        below = re.match(r"-\s*[0-9.,]", clean)
        raise wrong(
            written,
            f"is not {expected.article}",
            why="it is below zero" if below else "it does not begin with a number",
            remedy=expected.remedy,
        )
    return taken


def expect_unit(unit: str, text: str, expected: Expected) -> WrittenUnit:
    """The unit that `unit` writes; `text` is the whole that is quoted in a mistake.

    Raises:
        BadInput: there is no unit, none known, or one of something else.
    """
    if not unit:
        raise wrong(
            text,
            "has no unit",
            why=f"a bare number could be read in several units as {expected.article}",
            remedy=expected.remedy,
        )
    found = find_unit(unit)
    if found is None:
        raise wrong(
            text,
            f"is not {expected.article}",
            why=f"'{clip(unit)}' is not a unit known here",
            remedy=expected.remedy,
            near=near_units(unit),
        )
    if found.dimension not in expected.dimensions:
        raise wrong(
            text,
            f"is not {expected.article}",
            why=f"'{clip(unit)}' measures {found.dimension}",
            remedy=expected.remedy,
        )
    return found


_SEPARATOR = re.compile(r"\s*(?:\.{2,}|–|\bto\b)\s*", re.IGNORECASE)
_HYPHEN = re.compile(r"[^-]*?\s*-\s*(?P<last>[0-9.,].*)")
_BOUND = re.compile(r"(?P<sign><=|>=|≤|≥|=<|=>|<|>)\s*(?P<value>.*)")


def split_range(text: str, expected: Expected) -> tuple[str, str] | None:
    """The ends of a range as written, "" for an open one; None where `text` is one value.

    A unit on one side is given to both. Read as ranges: "15..18%", "15-18%", "15 to 18%", "<=18%",
    ">= 15%", "15%..", "..18%".

    Raises:
        BadInput: no end is given, or more than two, or the end is excluded by "<" or ">".
    """
    clean = plain(text)
    bound = _BOUND.fullmatch(clean)
    if bound:
        return _one_sided(bound["sign"], bound["value"], text, expected)
    ends = _SEPARATOR.split(clean)
    if len(ends) == 1:
        taken = take_number(clean)
        hyphen = _HYPHEN.fullmatch(taken[1]) if taken else None
        if hyphen is None:
            return None
        ends = [clean[: -len(hyphen["last"])].rstrip("- "), hyphen["last"]]
    if len(ends) != 2 or not any(ends):
        raise wrong(
            text,
            "is not a range",
            why="a range has two ends, and at least one is given",
            remedy=expected.remedy,
        )
    return _share_unit(ends[0], ends[1])


def _one_sided(sign: str, value: str, text: str, expected: Expected) -> tuple[str, str]:
    if sign in ("<", ">"):
        raise wrong(
            text,
            "leaves its end out",
            why="limits include their ends",
            remedy=f"Write {sign}={clip(value)} instead.",
        )
    if not value:
        raise wrong(text, "has no number", remedy=expected.remedy)
    return ("", value) if sign in ("<=", "≤", "=<") else (value, "")


def _share_unit(first: str, last: str) -> tuple[str, str]:
    low, high = take_number(first), take_number(last)
    if low and high:
        if not low[1]:
            return f"{first} {high[1]}", last
        if not high[1]:
            return first, f"{last} {low[1]}"
    return first, last


def in_order(low: float | None, high: float | None, text: str) -> None:
    """Check the ends of a range.

    Raises:
        BadInput: the low end is above the high end.
    """
    if low is not None and high is not None and low > high:
        raise wrong(
            text,
            "ends below where it begins",
            why="the low end of a range comes first",
            remedy="Swap the two ends.",
        )
