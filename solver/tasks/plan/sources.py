"""What there is of the items of a plan, and how more is had, in the whole numbers of a solver."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date

from solver.night.problem import NightLot, Source
from solver.pantry.bar import Bar
from solver.pantry.fruit import EGG_PARTS, WHOLE_EGG
from solver.pantry.plan_file import Coming
from solver.tasks.plan.items import Item
from solver.tasks.plan.ready_days import begun_today, lead_days, ready_days
from solver.tasks.plan.supply import Supply, SupplyWay
from solver.tasks.plan.ticks import MONEY, ticks_down, ticks_up


def lots_of(number: int, item: Item, today: date) -> list[NightLot]:
    """What is there of an item; what must be poured before it is ready is poured on no day."""
    return [
        NightLot(
            number,
            ticks_down(lot.amount),
            None if lot.last is None else (lot.last - today).days,
            0 if lot.first is None else max(0, (lot.first - today).days),
        )
        for lot in item.lots
        if lot.first is None or lot.last is None or lot.first <= lot.last
    ]


def source_of(
    number: int, item: Item, at: Mapping[str, int], days: int, coming: Coming, bar: Bar
) -> Source:
    """How more of item `number` is had; `at` has the numbers of items by their keys."""
    supply = item.supply
    lead = lead_days(supply, coming, bar.today)
    on = ready_days(supply, coming, bar.now, days)
    mixed = supply.how is SupplyWay.MIX
    if mixed:
        on = sorted((day - bar.today).days for day, _ in coming.nights)
    once = supply.how is SupplyWay.BUY and (supply.keeps is None or supply.keeps >= days)
    price = supply.price if supply.price is not None else item.worth * supply.unit
    bought = supply.how is SupplyWay.BUY
    return Source(
        item=number,
        size=max(1, _size(supply, once=once)),
        # What keeps is bought today; everything else is opened or made on the day that is best.
        days=(0,) if once else tuple(on),
        most=2**31,
        keeps=supply.keeps,
        free=supply.full,
        # Only what is ordered is paid for; what goes into something is ordered by itself.
        cost=round(price * MONEY) if bought else 0,
        takes={at[key]: ticks_up(amount) for key, amount in supply.takes.items()},
        lead=lead,
        case=1 if once else supply.case,
        at_once=mixed,
    )


def sources_begun_today(
    items: Sequence[Item], sources: Sequence[Source], days: int, coming: Coming, bar: Bar
) -> Iterator[Source]:
    """What is begun earlier than it would have to be."""
    for item, source in zip(items, sources, strict=True):
        for day in begun_today(item.supply, coming, bar.now, days):
            yield replace(source, days=(day,), lead=day)


def of_the_same_eggs(items: Sequence[Item], sources: Sequence[Source]) -> Iterator[Source]:
    """The yolks of eggs that are separated for their whites, on the same day."""
    parts = {
        item.key: at
        for at, item in enumerate(items)
        if item.supply.fruit is not None and item.supply.fruit.key == WHOLE_EGG
        if item.supply.how is SupplyWay.SEPARATE
    }
    white, yolk = (parts.get(part) for part in EGG_PARTS)
    if white is not None and yolk is not None:
        yield replace(sources[yolk], takes={}, beside=white)


def _size(supply: Supply, *, once: bool) -> int:
    """Ticks of a unit; what is mixed is a serve, to the tick."""
    if supply.how is SupplyWay.MIX:
        return ticks_up(supply.unit)
    return ticks_down(supply.unit if once else supply.bottle)


def of_a_serve(item: Item, amount: float) -> int:
    """Ticks that a serve takes: rounded up, but for fruit to cut, of which the eighth wheel is
    still of the same lemon."""
    cut = item.supply.how is SupplyWay.BUY and item.supply.fruit is not None
    return max(1, ticks_down(amount)) if cut else ticks_up(amount)
