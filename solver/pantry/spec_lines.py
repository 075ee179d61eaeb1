"""Specs that are only said: pours in one line each, like "2 oz rye-whiskey"."""

from __future__ import annotations

import contextlib
from collections.abc import Sequence

from solver.errors import BadInput
from solver.pantry.library import Library
from solver.pantry.spec import Spec, SpecPour, units_poured
from solver.printable import short
from solver.quantities import Measures, parse_pour

UNNAMED = "these pours"
"""What a spec is called that nobody named."""


def spec_of_lines(
    lines: Sequence[str], topped: Sequence[str], library: Library, measures: Measures
) -> Spec:
    """The spec of pours written like "2 oz rye-whiskey"; `topped` are added after the ice.

    Raises:
        BadInput: a pour can't be read, or its ingredient is not known or not measured so.
    """
    pours = [_pour(line, None, library, measures) for line in lines]
    pours += [_pour(line, "top", library, measures) for line in topped]
    return Spec(name=UNNAMED, pours=tuple(pours))


def begins_with_number(line: str) -> bool:
    """Whether `line` is meant as a pour, and not as the name of a spec."""
    return line.strip().lstrip(".,")[:1].isnumeric()


def _pour(line: str, stage: str | None, library: Library, measures: Measures) -> SpecPour:
    """The longest ending of the line that names an ingredient is it; the rest is the amount."""
    words = line.split()
    for cut in range(1, len(words)):
        name = " ".join(words[cut:])
        if name in library:
            ingredient = library.find(name)
            amount = " ".join(words[:cut])
            units_poured(ingredient, parse_pour(amount, measures))
            return SpecPour(ingredient=ingredient.key, amount=amount, stage=stage)
    remedy = "Write it like '2 oz rye-whiskey'."
    if line in library:
        raise BadInput(f"'{short(line)}' is poured without an amount", remedy=remedy)
    name = _name_in(words, measures)
    if not name:
        raise BadInput(f"'{short(line)}' does not say of what", remedy=remedy)
    what = f"'{short(line)}' is not a pour of anything known here"
    raise BadInput(what, near=library.near(name), remedy=remedy)


def _name_in(words: list[str], measures: Measures) -> str:
    """What follows the longest beginning that is an amount; the last word where none is."""
    for cut in range(len(words), 0, -1):
        with contextlib.suppress(BadInput):
            parse_pour(" ".join(words[:cut]), measures)
            return " ".join(words[cut:])
    return words[-1] if words else ""
