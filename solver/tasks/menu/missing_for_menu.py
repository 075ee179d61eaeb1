"""Ingredients that cannot be had in time, of drinks that must be on a menu."""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence

from solver.night.demands import NightDemand, NightDemandKind
from solver.night.problem import WHOLE_SHARE
from solver.tasks.plan.missing_supplies import good, missing_supplies
from solver.tasks.plan.question import Question

_ANY = {
    NightDemandKind.FORECAST,
    NightDemandKind.SHARES,
    NightDemandKind.MARGIN,
    NightDemandKind.MOST,
}
"""Demands that any drink would help to meet."""


def missing_for_menu(question: Question, demands: Sequence[NightDemand]) -> tuple[str, ...]:
    """A line for each ingredient that cannot be had in time, of the drinks that some demands want.

    Those are drinks asked for by name or by a guest, else all drinks. Empty if none is missing.
    """
    menu = question.nights.menu
    if menu is None:
        message = "these nights have no menu"
        raise ValueError(message)
    named = frozenset(each.at for each in demands if each.kind is NightDemandKind.OFFERED)
    guests = [menu.guests[each.at] for each in demands if each.kind is NightDemandKind.GUEST]
    asked = named.union(*guests)
    if not asked and any(each.kind in _ANY for each in demands):
        asked = frozenset(range(len(question.drinks)))
    return missing_supplies(question, lambda its, item, day: _needed(its, asked, item, day))


def _needed(question: Question, drinks: Collection[int], item: int, day: int) -> float:
    """The ticks of an item that one of some drinks takes at least if it is on until the last night.

    What is on before and gone by then is no cause, so all nights but the last need nothing.
    """
    nights = question.nights
    last = max(night.day for night in nights.nights if night.drinks)
    if day != last:
        return 0
    count = next(night.drinks for night in nights.nights if night.day == last)
    served = [drink for at, drink in enumerate(nights.drinks) if at in drinks]
    direct = (
        drink.takes.get(item, 0) * max(1, drink.low * count // WHOLE_SHARE) for drink in served
    )
    made = (
        _units_short(question, drinks, source.item, source.size, day) * source.takes[item]
        for source in nights.sources
        if item in source.takes
    )
    return max([0, *direct, *made])


def _units_short(
    question: Question, drinks: Collection[int], item: int, size: int, day: int
) -> int:
    """The units of an item that have to be made, as there is too little of it."""
    short = _needed(question, drinks, item, day) - good(question, item, day)
    return max(0, math.ceil(short / size))
