"""What the text, the label and the document of a batch all say."""

from __future__ import annotations

import math

from solver.drinks.method import NO_GARNISH
from solver.mixture.freezing import ERROR_CELSIUS, Chilled
from solver.pantry.bar import Bar
from solver.quantities import (
    show_count,
    show_number,
    show_volume,
)
from solver.show.words import LIBRARY, Words, words_of
from solver.tasks.batch import Batch, Finish
from solver.tasks.batch.left_out import Wait

ENGLISH = words_of(LIBRARY)

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


def said_serve(batch: Batch, bar: Bar, words: Words = ENGLISH) -> str:
    """What is poured for one serve: "4 1/2 oz (135 mL)"."""
    ml = batch.serve_ml
    said = show_volume(ml, bar.show, bar.measures)
    plain = words.amount(f"{show_number(ml, 0)} mL")
    return plain if said.endswith("mL") else f"{words.amount(said)} ({plain})"


def garnish_text(batch: Batch) -> str:
    """What is laid on each serve, as written; empty where it is nothing."""
    garnish = batch.found.spec.garnish
    return garnish if garnish and not NO_GARNISH.match(garnish) else ""


def finish_words(batch: Batch, words: Words = ENGLISH) -> str:
    """How a serve is finished, in a sentence."""
    technique = words.say("made", batch.found.technique)
    return words.say("finish", _finish(batch), technique=technique)


def _finish(batch: Batch) -> str:
    """The key of the words for how a serve is finished."""
    if not float(batch.found.drink.melt_ml):
        return "as_itself"
    if batch.finish is Finish.AGAIN:
        return "each"
    if batch.finish is Finish.BRIEFLY:
        return "briefly"
    if _SHAKEN_DRY & {left.why for left in batch.left_out}:
        return "cold_shake"
    if batch.found.technique == "build":
        return "over_ice"
    return "water" if batch.water.ml else "no_water"


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
