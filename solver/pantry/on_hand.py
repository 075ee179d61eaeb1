"""How much is left, as a shelf says it: in bottles, cases or pieces, or as an amount."""

from __future__ import annotations

import re

from solver.errors import BadInput
from solver.pantry.ingredient import Ingredient
from solver.pantry.library import Library
from solver.pantry.stocked import Stocked
from solver.pantry.stocked_as import counts_pieces, pieces
from solver.printable import short
from solver.quantities import Measures, in_digits, parse_number, parse_pour, show_number

_BOTTLES = re.compile(r"(?P<count>.*?)\s*(?:bottles?|btls?\.?)", re.IGNORECASE)
_CARTONS = re.compile(r"(?P<count>.*?)\s*(?:cartons?|kartons?|box(?:es)?)", re.IGNORECASE)
"""What comes in pieces is bought so."""
_BAGS = re.compile(r"(?P<count>.*?)\s*(?:bags?|packets?|tubs?|jars?)", re.IGNORECASE)
"""What is weighed is bought so, and honey."""
_CASES = re.compile(r"(?P<count>.*?)\s*(?:cases?|crates?|kisten?|kartons?)", re.IGNORECASE)
_AND = re.compile(r"\s+(?:and|und|plus)\s+|\s*\+\s*", re.IGNORECASE)


def read_on_hand(
    text: str,
    ingredient: Ingredient,
    bottle: float | None,
    measures: Measures,
    library: Library,
    case: int = 1,
) -> float:
    """An amount like "1.5 bottles", "450 ml" or "2 bottles and 300 ml", in the ingredient's own
    unit; `case` is how many bottles come together.

    Raises:
        BadInput: it can't be read, or counts bottles of which nobody knows the size.
    """
    parts = _AND.split(text)
    if len(parts) > 1:
        each = (read_on_hand(p, ingredient, bottle, measures, library, case) for p in parts)
        return sum(each)
    text = in_digits(text)
    bottles = _bottles(text, ingredient)
    cases = _CASES.fullmatch(text)
    if cases is not None and bottles is None:
        if case == 1:
            what = f"'{short(text)}' counts cases of unknown size"
            raise BadInput(what, remedy="Fill in the column 'case', like 6, or count bottles.")
        count = show_number(case * parse_number(cases["count"]), 4)
        bottles = _BOTTLES.fullmatch(f"{count} bottles")
    if text == "0":
        return 0.0
    if bottles is None:
        pour = parse_pour(text, measures, example="1.5 bottles or 450 ml")
        return library.units(ingredient, pour)
    single = ingredient.piece is not None and bottle == ingredient.piece.value
    if bottle is None or (single and bottles.re is _CARTONS):
        counts = "bottles" if bottles.re is _BOTTLES else "packs"
        what = f"'{short(text)}' counts {counts} of unknown size"
        example = "1 kg" if ingredient.per == "g" else "700 ml"
        example = "10 pieces" if bottles.re is _CARTONS else example
        raise BadInput(what, remedy=f"Fill in the column 'bottle', like {example}.")
    return bottle * parse_number(bottles["count"])


def _bottles(text: str, ingredient: Ingredient) -> re.Match[str] | None:
    """How many of what is bought: bottles, cartons of eggs, bags of sugar; None where an amount
    counts none."""
    found = _BOTTLES.fullmatch(text)
    if found is None and ingredient.piece is not None:
        found = _CARTONS.fullmatch(text)
    weighed = ingredient.per == "g" or ingredient.sold_by == "weight"
    return _BAGS.fullmatch(text) if found is None and weighed else found


def written_on_hand(amount: float, like: str, row: Stocked) -> str:
    """An amount as a row says it: in bottles or pieces where `like` counts those (cases are of
    bottles), else in mL or g.

    To a ten-thousandth of a bottle, a hundredth of a piece or a tenth of a mL or g, never below
    nothing.
    """
    in_bottles = _BOTTLES.fullmatch(like) or _CASES.fullmatch(like)
    if row.bottle and (in_bottles or not like):
        count = show_number(amount / row.bottle, 4)
        return f"{count} {'bottle' if count == '1' else 'bottles'}"
    piece = row.ingredient.piece
    if piece is not None and (counts_pieces(like) or _CARTONS.fullmatch(like)):
        return pieces(show_number(amount / piece.value, 2))
    return f"{show_number(amount)} {row.ingredient.per}"
