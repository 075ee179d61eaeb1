"""What is left after the last night and is over some day: dated stock, batches, open bottles.

Lots are poured in the order in which they expire, so the last ones are left. Of bottles that are
opened one by one only the open one has a last day; nobody opened the rest.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from solver.night.plan_evaluator import PouredPlan
from solver.night.problem import PlanValues, Source
from solver.pantry.bottled import by_bottle
from solver.pantry.stocked import SAME_BOTTLES, Stocked
from solver.tasks.plan.items import Item
from solver.tasks.plan.question import Question
from solver.tasks.plan.supply import SupplyWay
from solver.tasks.plan.ticks import TICKS

_NEVER = date.max.toordinal()


@dataclass(frozen=True)
class LeftAfter:
    """Ticks of an item, by number, that are left and over after a day, by number; `opened` if that
    is what is left of a bottle."""

    item: int
    day: int
    ticks: int
    opened: bool = False


def left_after(question: Question, plan: PlanValues, poured: PouredPlan) -> Iterator[LeftAfter]:
    """What is left in the end and is dated after it."""
    for left in poured.left:
        rest = left.amount
        for last, amount in sorted(_ends_after(question, plan, left.item), reverse=True):
            part = min(rest, amount)
            rest -= part
            if part and last < _NEVER:
                yield LeftAfter(left.item, last, part)
            elif part:
                yield from _open_bottle(question, poured, left.item, part, amount - part)


def _ends_after(question: Question, plan: PlanValues, item: int) -> list[tuple[int, int]]:
    """Lots that outlast the plan: last day (the end of time if unknown), ticks; those without a
    last day are one."""
    found = [
        (_NEVER if lot.last is None else lot.last, lot.amount)
        for lot in question.nights.lots
        if lot.item == item and (lot.last is None or lot.last >= question.nights.days)
    ]
    for source, ready in zip(question.nights.sources, plan.units, strict=True):
        if source.item == item and not source.at_once:
            for day, units in ready.items():
                last = _last(question, source, day)
                if last >= question.nights.days:
                    found.append((last, units * source.size))
    undated = sum(amount for last, amount in found if last == _NEVER)
    dated = [each for each in found if each[0] < _NEVER]
    return [*dated, (_NEVER, undated)] if undated else dated


def _last(question: Question, source: Source, day: int) -> int:
    """The last day of what is ready on a day; bottles that are bought for the whole plan come
    closed, and have none."""
    if source.keeps is None:
        return _NEVER
    closed = source.keeps >= question.nights.days and _in_bottles(question.items[source.item])
    return _NEVER if closed else day + source.keeps


def _in_bottles(item: Item) -> bool:
    """Whether it comes in bottles that keep until they are opened, one by one."""
    supply = item.supply
    row = Stocked(item.ingredient, bottle=supply.bottle, supplier=supply.supplier)
    return supply.how is SupplyWay.BUY and supply.fruit is None and by_bottle(row, ()).by_bottle


def _open_bottle(
    question: Question, poured: PouredPlan, number: int, ticks: int, gone: int
) -> Iterator[LeftAfter]:
    """What is left of the bottle that is open in the end, if one is: of bottles without a last day
    so many ticks are left, and so many `gone`."""
    item = question.items[number]
    keeps, bottle = item.supply.keeps, round(item.supply.bottle * TICKS)
    rest = ticks % bottle
    if keeps is None or not rest or not _in_bottles(item):
        return
    out = bottle - rest
    if out <= SAME_BOTTLES * bottle:
        return
    opened = 0  # what was open before is taken for opened today: that is the latest
    for day in reversed(range(question.nights.days)) if out <= gone else ():
        out -= poured.taken[day].get(number, 0)
        if out <= 0:
            opened = day
            break
    yield LeftAfter(number, opened + keeps, rest, opened=True)
