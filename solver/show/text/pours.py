"""A pour as the bar says it: in its own measures, ounces or millilitres."""

from __future__ import annotations

from collections.abc import Mapping

from solver.drinks.method import is_floated
from solver.measures import MEASURES
from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.pantry.pour import Pour
from solver.pantry.word_forms import words
from solver.quantities import PourSpan, show_amount, show_pour, show_pours, show_volume


def said_amount(pour: Pour, bar: Bar) -> str:
    """The amount of a pour, like "3/4 oz" or "2 dashes"; what was counted stays as written.

    Of "8 leaves" of mint leaves it is 8.
    """
    if pour.written is not None:
        said = show_pour(pour.written, bar.show, bar.measures)
        again = words(said)[-1:] == words(pour.ingredient.name)[-1:]
        return said.rpartition(" ")[0] if again else said
    piece_ml = pour.ingredient.piece_ml
    return show_amount(pour.amount, pour.tool, bar.show, bar.measures, piece_ml=piece_ml)


def said_name(item: Ingredient, technique: str) -> str:
    """What is poured, as who makes it has to have it: the water of a hot drink is hot."""
    return f"hot {item.name}" if technique == "hot" and item.is_kind("water") else item.name


def pour_line(pour: Pour, technique: str, bar: Bar) -> str:
    """A pour on a line of its own, its amount to the right: "  3/4 oz  lemon juice, fresh"."""
    name = said_name(pour.ingredient, technique)
    return f"  {said_amount(pour, bar):>14}  {name}{said_place(pour)}"


def said_place(pour: Pour) -> str:
    """Where a pour goes that is not mixed with the rest: "  (on top)", "  (floated)", or ""."""
    if not pour.top:
        return ""
    return "  (floated)" if is_floated(pour.ingredient) else "  (on top)"


def said_pours(span: PourSpan, bar: Bar) -> str:
    """A range of pours, like "1/4..3/4 oz", "7.5..22.5 mL" or "1..3 dashes"."""
    return show_pours(span, bar.show, bar.measures)


def said_volume(ml: float, bar: Bar) -> str:
    """A volume, like "2 1/4 oz" or "65 mL"."""
    return show_volume(ml, bar.show, bar.measures)


SHOWN = ("abv", "sugar", "acid", "volume", "cost")
"""Measures that are told of a drink in one line."""


def numbers_line(values: Mapping[str, float | None], bar: Bar) -> str:
    """What a drink is in the glass, in one line: "16.6 % vol, sugar 8.7 g/100 mL, 162 mL"."""
    return ", ".join(
        f"{'' if name in {'abv', 'volume', 'cost'} else f'{measure.label} '}"
        f"{value:.{measure.decimals}f} {measure.unit_in(bar.currency)}".rstrip()
        for name in SHOWN
        for measure, value in ((MEASURES[name], values[name]),)
        if value is not None
    )
