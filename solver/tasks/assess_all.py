"""Assess every spec of a bar; a spec that cannot be read does not affect the others."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from solver.drinks.assess import Assessment, assess
from solver.errors import BadInput, BadInputs
from solver.measures import MEASURES
from solver.pantry.bar import Bar
from solver.pantry.spec import Misread


@dataclass(frozen=True)
class Assessed:
    """The assessed specs in the order of their files, and the files that cannot be read."""

    specs: tuple[Assessment, ...]
    misread: tuple[Misread, ...]


def assess_all(bar: Bar) -> Assessed:
    """Assess every spec of the bar that can be read."""
    found: list[Assessment] = []
    misread = [*bar.book.misread]
    for spec in bar.book.specs:
        try:
            found.append(assess(spec, bar))
        except (BadInput, BadInputs) as error:
            misread.append(Misread(spec.origin or Path(), error))
    return Assessed(tuple(found), tuple(sorted(misread, key=lambda each: each.path)))


BY = ("name", "profile", *(name for name in MEASURES if not MEASURES[name].aside),
      "drinks", "allergens", "target", "approved")  # fmt: skip
"""What a book can be sorted by: a measure, or one of its other columns."""


def sorted_by(found: Sequence[Assessment], column: str) -> tuple[Assessment, ...]:
    """Assessed specs in ascending order of a column of `BY`; unknown values come last."""

    def key(each: Assessment) -> tuple[float, str, str]:
        number, word = _value(each, column)
        return (number, word, each.spec.name.casefold())

    return tuple(sorted(found, key=key))


def _value(found: Assessment, column: str) -> tuple[float, str]:
    """What a spec is sorted by: a number, or among equal numbers a word."""
    if column in MEASURES:
        value = found.values[column]
        return (math.inf if value is None else value, "")
    approved = found.spec.approved
    match column:
        case "drinks":
            return (found.guest.standard_drinks, "")
        case "target":
            return (math.inf if found.off_aim is None else found.off_aim, "")
        case "approved":
            return (approved.date.toordinal() if approved else math.inf, "")
        case "allergens":
            return (len(found.guest.allergens), ", ".join(found.guest.allergens))
        case "profile" if found.profile is None:
            return (math.inf, "")
        case "profile" if found.profile is not None:
            return (0.0, found.profile.name)
    return (0.0, found.spec.name.casefold())
