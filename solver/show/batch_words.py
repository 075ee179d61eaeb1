"""What the text, the label and the document of a batch all say."""

from __future__ import annotations

import math

from solver.drinks.method import NO_GARNISH
from solver.mixture.freezing import ERROR_CELSIUS, Chilled
from solver.mixture.melt import TECHNIQUES
from solver.pantry.bar import Bar
from solver.quantities import (
    show_count,
    show_number,
    show_volume,
)
from solver.tasks.batch import Batch, Finish
from solver.tasks.batch.left_out import Wait

WHY = {
    Wait.BUBBLES: "bubbles do not wait: pour it on top",
    Wait.CITRUS: "fresh citrus fades within hours, and is never mixed in a day ahead",
    Wait.JUICE: "fresh juice fades within hours",
    Wait.DAIRY: "it spoils first, and acid curdles it",
    Wait.EGG: "it spoils first",
    Wait.FOAM: "it foams only when it is shaken, and spoils first",
    Wait.COCONUT: "it separates, and spoils first",
    Wait.FRESH: "fresh for each drink: it browns and fades",
    Wait.HOT: "poured in hot",
    Wait.FLOAT: "floated on the finished drink",
    Wait.TOP: "added after the ice",
}
"""Why something waits for service."""


_SHAKEN_DRY = frozenset({Wait.EGG, Wait.FOAM, Wait.DAIRY})


def said_serves(batch: Batch) -> str:
    """How many serves: "20 serves", "5.5 serves"."""
    return show_count(round(batch.serves, 1), "serve")


def said_serve(batch: Batch, bar: Bar) -> str:
    """What is poured for one serve: "4 1/2 oz (135 mL)"."""
    ml = batch.serve_ml
    said = show_volume(ml, bar.show, bar.measures)
    plain = f"{show_number(ml, 0)} mL"
    return plain if said.endswith("mL") else f"{said} ({plain})"


def garnish_line(batch: Batch) -> list[str]:
    """What is laid on each serve, where anything is."""
    garnish = batch.found.spec.garnish
    return [f"Garnish: {garnish}."] if garnish and not NO_GARNISH.match(garnish) else []


def finish_words(batch: Batch) -> str:
    """How a serve is finished, in a sentence."""
    technique = TECHNIQUES[batch.found.technique]
    if not float(batch.found.drink.melt_ml):
        return f"Finish it as the drink itself: {technique.says}."
    if batch.finish is Finish.AGAIN:
        return f"Each is {technique.says}, as the drink itself."
    if batch.finish is Finish.BRIEFLY:
        return "Stir it with ice until it is just cold: half of its water is in the bottle."
    if _SHAKEN_DRY & {left.why for left in batch.left_out}:
        return "Shake it cold, without ice: its water is in the bottle."
    if batch.found.technique == "build":
        return "Pour it cold over its ice: its water is in the bottle, and cold it melts little."
    if not batch.water.ml:
        return "Pour it cold, without stirring it on ice: no water is in it."
    return "Pour it cold, without stirring it on ice: its water is in the bottle."


def liquid_celsius(cold: Chilled) -> float | None:
    """The temperature at which to keep it: as asked for, but warmer if ice would form in it.

    None: no freezer is so warm.
    """
    if cold.celsius >= 0 or cold.celsius > cold.onset_celsius + ERROR_CELSIUS:
        return cold.celsius
    warmer = math.ceil(cold.onset_celsius + ERROR_CELSIUS)
    return warmer if warmer < 0 else None


def bottle_ml(batch: Batch) -> float:
    """How much is in a full one."""
    vessels = batch.vessels
    full = vessels.room_ml if vessels.count > 1 else None
    return full or batch.volume_ml


def bottle_drinks(batch: Batch) -> float:
    """The standard drinks in a full one."""
    grams = float(batch.bottle.ethanol_g) * bottle_ml(batch) / batch.volume_ml
    return grams / batch.found.guest.standard_drink.g
