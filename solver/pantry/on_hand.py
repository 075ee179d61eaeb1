"""How much is left, as a shelf says it: in bottles, in pieces, or as an amount."""

from __future__ import annotations

import re

from solver.errors import BadInput
from solver.pantry.ingredient import Ingredient
from solver.pantry.library import Library
from solver.pantry.stocked import Stocked
from solver.pantry.stocked_as import counts_pieces, pieces
from solver.printable import short
from solver.quantities import Measures, parse_number, parse_pour, show_number

_BOTTLES = re.compile(r"(?P<count>.*?)\s*(?:bottles?|btls?\.?)", re.IGNORECASE)


def read_on_hand(
    text: str,
    ingredient: Ingredient,
    bottle: float | None,
    measures: Measures,
    library: Library,
) -> float:
    """An amount like "1.5 bottles" or "450 ml" in the ingredient's own unit.

    Raises:
        BadInput: it can't be read, or counts bottles of which nobody knows the size.
    """
    bottles = _BOTTLES.fullmatch(text)
    if text == "0":
        return 0.0
    if bottles is None:
        pour = parse_pour(text, measures, example="1.5 bottles or 450 ml")
        return library.units(ingredient, pour)
    if bottle is None:
        what = f"'{short(text)}' counts bottles of unknown size"
        example = "1 kg" if ingredient.per == "g" else "700 ml"
        raise BadInput(what, remedy=f"Fill in the column 'bottle', like {example}.")
    return bottle * parse_number(bottles["count"])


def written_on_hand(amount: float, like: str, row: Stocked) -> str:
    """An amount as a row says it: in bottles or pieces where `like` counts those, else in mL or g.

    To a ten-thousandth of a bottle, a hundredth of a piece or a tenth of a mL or g, never below
    nothing.
    """
    if row.bottle and (_BOTTLES.fullmatch(like) or not like):
        count = show_number(amount / row.bottle, 4)
        return f"{count} {'bottle' if count == '1' else 'bottles'}"
    piece = row.ingredient.piece
    if piece is not None and counts_pieces(like):
        return pieces(show_number(amount / piece.value, 2))
    return f"{show_number(amount)} {row.ingredient.per}"
