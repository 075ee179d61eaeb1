"""The exact evaluator of plans: simulates stock by day, first expired first out, and spoilage.

It shares no rows with the program; only a plan that can be poured to its end here is reported.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from solver.night.problem import Nights, PlanValues


@dataclass
class _Lot:
    item: int
    amount: int
    last: int | None
    first: int = 0

    def pours_on(self, day: int) -> bool:
        """Whether it may be poured on a day."""
        return self.first <= day and (self.last is None or self.last >= day)


@dataclass(frozen=True)
class Spoiled:
    """Ticks of an item that are left at the end of their last day."""

    item: int
    day: int
    amount: int


@dataclass(frozen=True)
class Left:
    """Ticks of an item that are left at the end of the plan and may be poured after it."""

    item: int
    amount: int


@dataclass(frozen=True)
class PouredPlan:
    """What comes of pouring a plan.

    `stock` has, for every day, the ticks of each item at its end, without what spoiled; `taken`
    what drinks and recipes took on it. `unopened` has, for every day, how many units of each source
    are not got ready by its end; free ones and those of a case are there all the time.
    """

    stock: tuple[tuple[int, ...], ...]
    taken: tuple[Mapping[int, int], ...]
    spoiled: tuple[Spoiled, ...]
    left: tuple[Left, ...]
    unopened: tuple[tuple[int, ...], ...]


class CannotBePouredError(Exception):
    """The plan takes more than is there: a fault of its author."""


def pour(question: Nights, plan: PlanValues) -> PouredPlan:
    """Simulate a plan.

    Raises:
        CannotBePouredError: on some day there is not enough of an item that is within its days, or
            something is made for later that is made at once, or there is more of a by-product than
            it can be.
    """
    _refuse_alone(question, plan)
    lots = [_Lot(lot.item, lot.amount, lot.last, lot.first) for lot in question.lots]
    stock: list[tuple[int, ...]] = []
    taken: list[Mapping[int, int]] = []
    spoiled: list[Spoiled] = []
    for day in range(question.days):
        lots += _ready(question, plan, day)
        needs = needed(question, plan, day)
        for item, amount in needs.items():
            _take(lots, item, amount, day)
        _refuse_early(question, plan, needs, day)
        taken.append(needs)
        over = [lot for lot in lots if lot.last == day and lot.amount]
        spoiled += [Spoiled(lot.item, day, lot.amount) for lot in over]
        lots = [lot for lot in lots if lot.amount and lot.last != day]
        stock.append(_sums(question, lots))
    left = tuple(Left(item, amount) for item, amount in enumerate(stock[-1]) if amount)
    unopened = tuple(_unopened(question, plan, day) for day in range(question.days))
    return PouredPlan(tuple(stock), tuple(taken), _merged(spoiled), left, unopened)


def needed(question: Nights, plan: PlanValues, day: int) -> dict[int, int]:
    """Ticks of each item that drinks and recipes take on a day."""
    found: dict[int, int] = {}
    for night, serves in zip(question.nights, plan.serves, strict=True):
        if night.day == day:
            for drink, count in zip(question.drinks, serves, strict=True):
                for item, ticks in drink.takes.items():
                    found[item] = found.get(item, 0) + count * ticks
    for source, ready in zip(question.sources, plan.units, strict=True):
        count = ready.get(day + source.lead, 0)
        for item, ticks in source.takes.items():
            found[item] = found.get(item, 0) + count * ticks
    return {item: ticks for item, ticks in found.items() if ticks}


def _refuse_early(question: Nights, plan: PlanValues, needs: Mapping[int, int], day: int) -> None:
    for source, ready in zip(question.sources, plan.units, strict=True):
        early = ready.get(day, 0) * source.size - needs.get(source.item, 0)
        if source.at_once and early > 0:
            message = f"{early} ticks of item {source.item} are made on day {day} for a later one"
            raise CannotBePouredError(message)


def _refuse_alone(question: Nights, plan: PlanValues) -> None:
    for source, ready in zip(question.sources, plan.units, strict=True):
        made = {} if source.beside is None else plan.units[source.beside]
        for day, units in ready.items():
            if source.beside is not None and units > made.get(day, 0):
                message = f"{units} units of a by-product are of {made.get(day, 0)} on day {day}"
                raise CannotBePouredError(message)


def _unopened(question: Nights, plan: PlanValues, day: int) -> tuple[int, ...]:
    return tuple(
        source.unopened(sum(ready.values())) + sum(n for on, n in ready.items() if on > day)
        for source, ready in zip(question.sources, plan.units, strict=True)
    )


def _ready(question: Nights, plan: PlanValues, day: int) -> list[_Lot]:
    return [
        _Lot(source.item, source.size * ready[day], source.last(day, question.days))
        for source, ready in zip(question.sources, plan.units, strict=True)
        if ready.get(day)
    ]


def _take(lots: list[_Lot], item: int, amount: int, day: int) -> None:
    mine = [lot for lot in lots if lot.item == item and lot.pours_on(day)]
    for lot in sorted(mine, key=lambda lot: (lot.last is None, lot.last)):
        out = min(lot.amount, amount)
        lot.amount -= out
        amount -= out
    if amount:
        message = f"{amount} ticks of item {item} are missing on day {day}"
        raise CannotBePouredError(message)


def _sums(question: Nights, lots: list[_Lot]) -> tuple[int, ...]:
    sums = [0] * len(question.values)
    for lot in lots:
        sums[lot.item] += lot.amount
    return tuple(sums)


def _merged(spoiled: list[Spoiled]) -> tuple[Spoiled, ...]:
    whole: dict[tuple[int, int], int] = {}
    for each in spoiled:
        whole[each.item, each.day] = whole.get((each.item, each.day), 0) + each.amount
    return tuple(Spoiled(item, day, amount) for (item, day), amount in whole.items())
