"""Specs that are only said: pours in one line each, like "2 oz rye-whiskey"."""

from __future__ import annotations

import contextlib
from collections.abc import Sequence

from solver.errors import BadInput
from solver.files.checked import gather
from solver.pantry.ingredient import Ingredient
from solver.pantry.library import Library
from solver.pantry.pieces import WHOLE
from solver.pantry.spec import Spec, SpecPour
from solver.pantry.word_forms import words
from solver.printable import short
from solver.quantities import Measures, parse_pour, say_pieces, split_count
from solver.quantities.units import find_unit

UNNAMED = "these pours"
"""What a spec is called that nobody named."""
_BESIDE = frozenset({"a", "of", "fresh", "large", "small", "whole"})
"""Words beside the name of what is counted that change nothing of it."""


def spec_of_lines(
    lines: Sequence[str], topped: Sequence[str], library: Library, measures: Measures
) -> Spec:
    """The spec of pours written like "2 oz rye-whiskey"; `topped` are added after the ice.

    Raises:
        BadInput, BadInputs: each pour that can't be read, or of which the ingredient is not known
            or not measured so.
    """
    pours: list[SpecPour] = []
    mistakes: list[BadInput] = []
    for stage, said in ((None, lines), ("top", topped)):
        for line in said:
            try:
                pours.append(_pour(line, stage, library, measures))
            except BadInput as error:
                mistakes.append(error)
    gather(_remedies_once(mistakes))
    return Spec(name=UNNAMED, pours=tuple(pours))


def _remedies_once(mistakes: Sequence[BadInput]) -> list[BadInput]:
    """The mistakes, what is to be done about several of them said with the last."""
    last = {_told(error): error for error in mistakes}
    return [
        error
        if last[_told(error)] is error
        else BadInput(error.what, why=error.why, near=error.near)
        for error in mistakes
    ]


def _told(error: BadInput) -> str:
    """What a remedy says, without its example."""
    return error.remedy.partition(":")[0]


def begins_with_number(line: str) -> bool:
    """Whether `line` is meant as a pour, and not as the name of a spec."""
    return line.strip().lstrip(".,")[:1].isnumeric()


def ends_like_a_pour(line: str, library: Library) -> bool:
    """Whether a unit and an ingredient end the line: "two oz gin" is a pour without a number."""
    split = line.split()
    return any(
        " ".join(split[cut:]) in library and find_unit(split[cut - 1]) is not None
        for cut in range(1, len(split))
    )


def _pour(line: str, stage: str | None, library: Library, measures: Measures) -> SpecPour:
    """The longest ending of the line that names an ingredient is it; the rest is the amount."""
    split = line.split()
    for cut in range(1, len(split)):
        name, amount = " ".join(split[cut:]), " ".join(split[:cut])
        if name in library and _is_bare(amount):
            break  # "1 egg yolk" counts those, and is no "1 egg" of yolk
        if name in library:
            _check_rest(amount.split(), name, library, measures)
            ingredient = library.said(name)
            library.pieces.poured(ingredient, parse_pour(amount, measures))
            return SpecPour(ingredient=ingredient.key, amount=amount, stage=stage)
    if counted := _counted(line, library, measures):
        ingredient, amount = counted
        return SpecPour(ingredient=ingredient.key, amount=amount, stage=stage)
    raise _mistake(line, library, measures)


def _check_rest(amount: list[str], name: str, library: Library, measures: Measures) -> None:
    """Refuse what begins with an amount, and goes on with more than an ingredient's name.

    Of "2 dashes Harbour bitters" the unit is known; it is the bitters that are not.
    """
    rest = _after_amount(amount, measures)
    if rest:
        raise library.unknown(f"{rest} {name}")


def _is_bare(amount: str) -> bool:
    """Whether it is a number without a unit."""
    taken = split_count(amount)
    return taken is not None and not taken[1]


def _counted(line: str, library: Library, measures: Measures) -> tuple[Ingredient, str] | None:
    """What a line like "8 mint leaves" counts, and the amount as a spec says it: "8 leaves"."""
    taken = split_count(line)
    if taken is None:
        return None
    number, name = taken
    if name in library:
        with contextlib.suppress(BadInput):  # a name that ends in its unit: "1 sugar cube"
            amount = f"{number} {name.split()[-1]}"
            library.pieces.poured(library.find(name), parse_pour(amount, measures))
            return library.said(name), amount
    found = library.pieces.counted(words(name))
    if found is None or not _BESIDE.issuperset(found.rest):
        return None
    if not found.said and found.cut != WHOLE:
        return None
    return library.find(found.key), say_pieces(number, found.cut)


def _mistake(line: str, library: Library, measures: Measures) -> BadInput:
    """Why a line is no pour."""
    remedy = "Write it like '2 oz rye-whiskey'."
    taken = split_count(line)
    if taken and taken[1] in library:
        parse_pour(taken[0], measures)  # which says that it has no unit
    if line in library:
        return BadInput(f"'{short(line)}' is poured without an amount", remedy=remedy)
    name = _after_amount(line.split(), measures)
    if name:
        return library.unknown(name)
    if name is not None:
        return BadInput(f"'{short(line)}' does not say of what", remedy=remedy)
    what = f"'{short(line)}' is not a pour of anything known here"
    return BadInput(
        what, near=library.near(line.split()[-1] if line.split() else ""), remedy=remedy
    )


def _after_amount(split: list[str], measures: Measures) -> str | None:
    """What follows the longest beginning that is an amount; None where none is."""
    for cut in range(len(split), 0, -1):
        with contextlib.suppress(BadInput):
            parse_pour(" ".join(split[:cut]), measures)
            return " ".join(split[cut:])
    return None
