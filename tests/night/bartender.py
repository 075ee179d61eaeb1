"""Pours a plan drink by drink, and refuses whatever a bartender would: written without the product.

Bottles stand in a row, the one that must go first in front. It knows nothing of rows or flows.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from solver.night.problem import Nights, PlanValues


@dataclass
class Bottle:
    item: int
    ticks: int
    last: int | None
    first: int = 0


class RefusedError(Exception):
    pass


@dataclass
class Served:
    """What is left on the shelf, and what was thrown away: item, day, ticks."""

    shelf: list[Bottle]
    thrown: list[tuple[int, int, int]]

    def worth_thrown(self, question: Nights) -> int:
        return sum(question.values[item] * ticks for item, _, ticks in self.thrown)

    def left(self, item: int) -> int:
        return sum(bottle.ticks for bottle in self.shelf if bottle.item == item)


def serve(question: Nights, plan: PlanValues) -> Served:
    check_units(question, plan)
    shelf = [Bottle(lot.item, lot.amount, lot.last, lot.first) for lot in question.lots]
    served = Served(shelf, [])
    for day in range(question.days):
        get_ready(question, plan, day, shelf)
        for night, serves in zip(question.nights, plan.serves, strict=True):
            if night.day == day:
                for drink, count in zip(question.drinks, serves, strict=True):
                    for _ in range(count):
                        reach_all(shelf, drink.takes, day)
        for bottle in shelf:
            if bottle.last is not None and bottle.last <= day and bottle.ticks:
                served.thrown.append((bottle.item, day, bottle.ticks))
                bottle.ticks = 0
    return served


def to_pay(question: Nights, plan: PlanValues) -> int:
    """What is paid: for a whole case whenever a bottle is opened and no closed one is left."""
    paid = 0
    for source, ready in zip(question.sources, plan.units, strict=True):
        closed = source.free
        for _ in range(sum(ready.values())):
            if not closed:
                closed += source.case
                paid += source.cost
            closed -= 1
    return paid


def check_units(question: Nights, plan: PlanValues) -> None:
    """Whole units, on days on which they can be ready, and not too many."""
    for source, ready in zip(question.sources, plan.units, strict=True):
        for day, count in ready.items():
            if day not in source.days or day < source.lead or count != int(count) or count < 0:
                raise RefusedError
        if sum(ready.values()) > source.most:
            raise RefusedError
        for day, count in ready.items():
            if source.beside is not None and count > plan.units[source.beside].get(day, 0):
                raise RefusedError


def get_ready(question: Nights, plan: PlanValues, day: int, shelf: list[Bottle]) -> None:
    """What is ready stands on the shelf; what is begun takes what goes into it."""
    for source, ready in zip(question.sources, plan.units, strict=True):
        keeps = None if source.keeps is None else day + source.keeps
        shelf += [Bottle(source.item, source.size, keeps) for _ in range(ready.get(day, 0))]
    for source, ready in zip(question.sources, plan.units, strict=True):
        for _ in range(ready.get(day + source.lead, 0)):
            reach_all(shelf, source.takes, day)


def reach_all(shelf: list[Bottle], takes: Mapping[int, int], day: int) -> None:
    for item, ticks in takes.items():
        reach(shelf, item, ticks, day)


def reach(shelf: list[Bottle], item: int, ticks: int, day: int) -> None:
    fit = [b for b in shelf if b.item == item and (b.last is None or b.last >= day)]
    fit = [b for b in fit if b.first <= day]
    fit.sort(key=lambda b: (b.last is None, b.last or 0))
    for bottle in fit:
        out = min(bottle.ticks, ticks)
        bottle.ticks -= out
        ticks -= out
        if not ticks:
            return
    raise RefusedError
