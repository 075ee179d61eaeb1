"""What a plan may need and cannot have in time, if there is no plan."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import datetime, time, timedelta
from typing import Final

from solver.night.problem import WHOLE_SHARE, Source
from solver.night.source_bounds import most_needed
from solver.pantry.plan_file import WEEKDAYS
from solver.tasks.plan.items import Item
from solver.tasks.plan.question import Question
from solver.tasks.plan.ready_days import begun_today, ready_days
from solver.tasks.plan.supply import Supply, SupplyWay
from solver.tasks.plan.ticks import TICKS

_WEEKS_AHEAD: Final = 14
"""Days after a plan on which somebody may cook: a kitchen cooks once a week at least."""
_HOURS_A_DAY: Final = 24

Needed = Callable[[Question, int, int], float]
"""The ticks of an item (by position) that are needed until a day."""


def missing_supplies(question: Question, needed: Needed | None = None) -> tuple[str, ...]:
    """A line for each ingredient that may be short on a night. Empty if none is.

    It says what cannot be ready by then or no longer keeps, and what is past its last day if
    nothing may be bought. Without `needed`, drinks take as much as they may.
    """
    return tuple(_said(question, needed or _needed_by))


def _said(question: Question, needed: Needed) -> Iterator[str]:
    nights = question.nights
    for at, source in enumerate(nights.sources[: len(question.items)]):
        item, supply = question.supply(at)
        for night in sorted(night.day for night in nights.nights if night.drinks):
            there = good(question, source.item, night)
            if there >= needed(question, source.item, night):
                continue
            left = _there(there, item, question, night)
            if supply.how is SupplyWay.COOK and not _covers(question, source.item, night):
                yield f"{left}; {_why(source, supply, night, question)}"
                break
            if supply.how is SupplyWay.BUY and nights.spend == 0 and item.past is not None:
                yield f"{left}, and nothing may be bought"
                break


def _needed_by(question: Question, item: int, day: int) -> float:
    """The most ticks of an item that drinks may take until a day; of inputs, over all days."""
    nights = question.nights
    if any(item in source.takes for source in nights.sources):
        return most_needed(nights)[0][item]
    takes = [drink.takes.get(item, 0) for drink in nights.drinks]
    high = sum(t * drink.high for t, drink in zip(takes, nights.drinks, strict=True)) / WHOLE_SHARE
    drinks = sum(night.drinks for night in nights.nights if night.day <= day)
    return drinks * min(high, max(takes))


def good(question: Question, item: int, day: int) -> int:
    """Ticks of an item in stock, ready on a day and still good."""
    lots = (lot for lot in question.nights.lots if lot.item == item and lot.first <= day)
    return sum(lot.amount for lot in lots if lot.last is None or lot.last >= day)


def _covers(question: Question, item: int, night: int) -> bool:
    """Whether some of an item can be ready by a night and still be good."""
    return any(
        day <= night and (source.keeps is None or day + source.keeps >= night)
        for source in _sources(question, item)
        for day in source.days
    )


def _sources(question: Question, item: int) -> list[Source]:
    """The ways to have more of an item."""
    return [source for source in question.nights.sources if source.item == item]


def _why(source: Source, supply: Supply, night: int, question: Question) -> str:
    """Why there can be no more on a night, of something that is cooked."""
    coming, now = question.coming, question.now
    on = [day.capitalize() for at, day in enumerate(WEEKDAYS) if at in coming.cook_on]
    cooked = f" and is cooked on {' and '.join(on)}" if len(on) < len(WEEKDAYS) else ""
    day = question.day(night)
    if any(ready <= night for each in _sources(question, source.item) for ready in each.days):
        return f"more keeps {supply.keeps} days{cooked}, so there is none on {day}"
    if supply.hours is None:
        return f"there is none on {day}"
    if not source.days and ready_days(supply, coming, now, question.nights.days):
        return "no more of it is made, as it is to be used up"
    takes = f"more takes {_hours_said(supply.hours.hours)}"
    if now.time() != time.min and not cooked and day == now.date():
        return f"{takes}: begun now, it is ready {_moment(now, supply.hours.hours)}"
    ahead = question.nights.days + _WEEKS_AHEAD
    ready = [*ready_days(supply, coming, now, ahead), *begun_today(supply, coming, now, ahead)]
    before = f", so none is ready before {question.day(min(ready))}" if ready else ""
    return f"{takes}{cooked}{before}"


def _hours_said(hours: float) -> str:
    days, rest = divmod(round(hours, 1), _HOURS_A_DAY)
    more = f" and {rest:g} h" if rest else ""
    return f"{days:g} days{more}" if days > 1 else f"{hours:.3g} h"


def _moment(now: datetime, hours: float) -> str:
    return f"{now + timedelta(hours=hours):%Y-%m-%d %H:%M}"


def _there(ticks: int, item: Item, question: Question, night: int) -> str:
    """The amount that may be poured on a night, in words."""
    said = f"{item.ingredient.name}: {ticks / TICKS:.0f} {item.ingredient.unit} there"
    for lot in item.lots:
        if lot.first is not None and lot.first > question.day(night):
            stands = f"{lot.amount:.0f} {item.ingredient.unit}"
            said = f"{said}, {stands} more not ready before {lot.first}"
    if item.past is None:
        return said
    return f"{said}, the rest past its last day, {item.past.use_by}"
