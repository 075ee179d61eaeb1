"""A pour as the bar says it: in its own measures, ounces or millilitres."""

from __future__ import annotations

from solver.pantry.bar import Bar
from solver.quantities import show_amount
from solver.tasks.answer import Poured


def said_amount(pour: Poured, bar: Bar) -> str:
    """The amount of a pour, like "3/4 oz" or "2 dashes"."""
    piece_ml = pour.ingredient.piece_ml
    return show_amount(pour.amount, pour.tool, bar.show, bar.measures, piece_ml=piece_ml)
