"""Contradictory measurements: a message at the line of the most likely error."""

from __future__ import annotations

from typing import Final

from solver.errors import BadInput
from solver.kitchen.reconcile import BatchReading, Clash, ReadingKind, clashes
from solver.pantry.recipe import Recipe
from solver.tasks.prep.batch_figures import TWICE
from solver.tasks.prep.recipe_model import Numbers


def refuse_clashes(recipe: Recipe, numbers: Numbers) -> None:
    """Raise a message if the measurements contradict each other.

    Raises:
        BadInput: they can't be true together; with the line of the one that most likely is not.
    """
    found = clashes(numbers.cooking, numbers.readings)
    if not found:
        return
    first, *rest = found
    where = recipe.where(numbers.places[numbers.readings.index(first.reading)])
    what = f"{said_reading(first.reading)} contradicts the rest"
    remedy = "Measure again."
    if rest:
        named = " or ".join(said_reading(clash.reading) for clash in rest)
        remedy = f"Measure again; it may also be {named} that is wrong."
    raise BadInput(what, where=where, why=_why(first), remedy=remedy)


def _why(clash: Clash) -> str:
    if clash.implied_sd < TELLS * clash.implied:
        amount = said_amount(clash.reading.kind, clash.implied)
        within = said_amount(clash.reading.kind, TWICE * clash.implied_sd)
        return f"from everything else it would be {amount}, give or take {within}"
    return "nothing that can happen in the pan leads there from what went in"


TELLS: Final = 0.25
"""Share of a value that its deviation may be for the value to mean something."""
_UNITS: Final = {
    ReadingKind.WEIGHT: ("a weight of", "g", 0),
    ReadingKind.VOLUME: ("a volume of", "mL", 0),
    ReadingKind.BRIX: ("a reading of", "Brix", 1),
    ReadingKind.LOST: ("steam of", "g", 0),
    ReadingKind.LEFT: ("strained solids of", "g", 0),
}


def said_reading(reading: BatchReading) -> str:
    """A reading in words: "a weight of 512 g"."""
    return f"{_UNITS[reading.kind][0]} {said_amount(reading.kind, reading.value)}"


def said_amount(kind: ReadingKind, value: float) -> str:
    """A value of that kind with its unit: "512 g"."""
    _, unit, digits = _UNITS[kind]
    return f"{value:.{digits}f} {unit}"
