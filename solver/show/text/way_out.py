"""What would have to change, as the end of "It would be possible"."""

from __future__ import annotations

import math

from solver.drinks.answer import Answer
from solver.measures import Measure
from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.requests.demands import Demand, DemandKind
from solver.requests.origin import From
from solver.show.text.limits import measured_words
from solver.show.words.names_in_a_row import listed
from solver.tasks.ways_out import DemandChange, WayOut

_BOTH = (DemandKind.LEAST, DemandKind.MOST)
ROUNDING = 1e-9
"""Of standard drinks, in hundredths: what is no more than rounding is not rounded up."""


def way_said(way: WayOut, bar: Bar) -> str:
    """What would have to change, as the end of "It would be possible"."""
    if way.smaller:
        return f"in a smaller size, {way.answer.values['volume'] or 0.0:.0f} mL"
    ready = [bar.waiting_row(item.key) for item in way.bought]
    if ready and all(ready):
        return listed(f"once {r.ingredient.name} is ready, on {r.ready}" for r in ready if r)
    if way.bought:
        return f"if you bought {listed(_bought(item, bar) for item in way.bought)}"
    met = _met_between(way, bar)
    changes = (
        _stocked(way)
        if change.demand.kind is DemandKind.STOCK
        else met.get(change.demand.measure) or _changed(change, way.answer, bar)
        for change in way.changes
    )
    said = listed(dict.fromkeys(changes))  # two limits on one measure may be moved to one bound
    return f"as it is, {said}" if way.unchanged else said


def _met_between(way: WayOut, bar: Bar) -> dict[Measure | None, str]:
    """The measures of which a lower and an upper bound both give way, each with where they meet."""
    ends: dict[Measure, dict[DemandKind, float]] = {}
    for change in way.changes:
        measure = change.demand.measure
        if measure is not None and change.bound is not None:
            ends.setdefault(measure, {})[change.demand.kind] = change.bound
    return {
        measure: f"with {measure.label} of "
        + " to ".join(
            dict.fromkeys(measured_words(measure, of[end], bar.currency) for end in _BOTH)
        )
        for measure, of in ends.items()
        if of.keys() >= set(_BOTH)
    }


def _bought(item: Ingredient, bar: Bar) -> str:
    """What would have to be bought; or made, where all that it is made of is on the shelf."""
    there = [bar.stocked(key) for key in item.made_of or ()]
    if not there or not all(there):
        return item.name
    return f"{item.name} (or made it: you have {listed(s.ingredient.name for s in there if s)})"


def _stocked(way: WayOut) -> str:
    """What the shelf would have to hold."""
    stock = listed(
        f"{need.amount:.0f} {need.ingredient.unit} of {need.ingredient.name}" for need in way.needed
    )
    return f"with {stock} on the shelf" if stock else "with more on the shelf"


def _changed(change: DemandChange, answer: Answer, bar: Bar) -> str:
    demand = change.demand
    if demand.measure is not None and change.bound is not None:
        return _moved(demand, demand.measure, change.bound, bar)
    return {
        DemandKind.WITH: f"without asking for {demand.says.removeprefix('with ')}",
        DemandKind.POUR: f"with another amount than {demand.says}",
        DemandKind.SHOWN: f"without {demand.says}",
        DemandKind.CHARACTER: f"without asking for {demand.subject}",
        DemandKind.WITHOUT: _allowed(demand),
        DemandKind.NO_CHARACTER: f"if {demand.subject} may be in it",
        DemandKind.JIGGER: f"with finer measures than {demand.says}",
        DemandKind.COUNT: f"with {_count(demand.subject, answer)}",
        DemandKind.POURS: f"with other pours than {demand.says}",
    }.get(demand.kind, f"without {demand.name}")


def _moved(demand: Demand, measure: Measure, bound: float, bar: Bar) -> str:
    """A bound that is moved, in the words of who set it."""
    if measure.tags and bound == 0:
        return f"without {measure.label}"
    amount = measured_words(measure, bound, bar.currency)
    if demand.origin.kind is From.GLASS:
        return f"with a glass that takes {amount}"
    if demand.origin.kind is From.DRINKS:
        drinks = math.ceil(bound / bar.measures.standard_drink_g * 100 - ROUNDING) / 100
        return f"with up to {drinks:g} standard drinks ({amount} of alcohol)"
    return f"with {measure.label} {'up' if demand.kind is DemandKind.MOST else 'down'} to {amount}"


def _allowed(demand: Demand) -> str:
    """The end of "It would be possible" for something that a guest does without."""
    word = demand.avoids
    if word is not None and word.way:
        return f"for a guest who is not {word.way}"
    thing = word.thing or word.word if word is not None else demand.subject
    held = "something of animal origin" if thing.lower() == "animal" else thing
    return f"if {held} may be in it (only if the guest agrees, and never with an allergy)"


def _count(part: str, answer: Answer) -> str:
    """How many ingredients fill a part of a drink."""
    count = sum(pour.part == part for pour in answer.pours)
    if count == 0:
        return f"nothing for the {part}"
    return f"{count} ingredient{'' if count == 1 else 's'} for the {part}"
