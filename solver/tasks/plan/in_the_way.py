"""What a plan may need and cannot have in time, if there is no plan."""

from __future__ import annotations

from collections.abc import Iterator

from solver.tasks.plan.question import TICKS, Question, most_needed
from solver.tasks.plan.supplies import Item, SupplyWay


def in_the_way(question: Question) -> tuple[str, ...]:
    """A line for each ingredient of which the drinks may take more than is there on the first
    night: what cannot be ready by then, and what is past its last day if nothing may be bought.
    Empty if none."""
    return tuple(_said(question))


def _said(question: Question) -> Iterator[str]:
    nights = question.nights
    first = min(night.day for night in nights.nights)
    most, _ = most_needed(nights)
    for at, source in enumerate(nights.sources):
        item, supply = question.supply(at)
        there = sum(
            lot.amount
            for lot in nights.lots
            if lot.item == source.item and (lot.last is None or lot.last >= first)
        )
        if there >= most[source.item]:
            continue
        left = _there(there, item)
        if supply.how is SupplyWay.COOK and supply.hours is not None and first < source.lead:
            takes = f"more takes {supply.hours.hours:.3g} h"
            yield f"{left}; {takes}, so none is ready before {question.day(source.lead)}"
        elif supply.how is SupplyWay.BUY and nights.spend == 0 and item.past is not None:
            yield f"{left}, and nothing may be bought"


def _there(ticks: int, item: Item) -> str:
    """The amount that may be poured, in words."""
    said = f"{item.ingredient.name}: {ticks / TICKS:.0f} {item.ingredient.unit} there"
    if item.past is None:
        return said
    return f"{said}, the rest past its last day, {item.past.use_by}"
