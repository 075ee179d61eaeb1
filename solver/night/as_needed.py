"""What to get ready for known serves, by hand: as late as can be, and no more than is missing.

It proves nothing and may fail where a plan exists; but it takes no time however long the plan is.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from solver.night.problem import Nights, Source

Units = list[dict[int, int]]


@dataclass
class _Lot:
    amount: int
    last: int


def units_for(question: Nights, serves: Sequence[Sequence[int]]) -> Units | None:
    """Units by source and day so that `serves` (by night and drink) can be poured; None if not."""
    units: Units = [{} for _ in question.sources]
    needs = [[0] * question.days for _ in question.values]
    for night, served in zip(question.nights, serves, strict=True):
        for drink, count in zip(question.drinks, served, strict=True):
            for item, ticks in drink.takes.items():
                needs[item][night.day] += count * ticks
    for item in _users_first(question):
        own = [at for at, source in enumerate(question.sources) if source.item == item]
        if not _get_ready(question, item, own, needs[item], units):
            return None
        for at in own:
            for day, count in units[at].items():
                for used, ticks in question.sources[at].takes.items():
                    needs[used][day - question.sources[at].lead] += count * ticks
    return units


def _users_first(question: Nights) -> list[int]:
    """Items, each after everything that is made of it."""
    made_of: dict[int, set[int]] = {}
    for source in question.sources:
        made_of.setdefault(source.item, set()).update(source.takes)
    order: list[int] = []

    def place(item: int) -> None:
        if item not in order:
            for used in made_of.get(item, ()):
                place(used)
            order.append(item)

    for item in range(len(question.values)):
        place(item)
    return order[::-1]


def _get_ready(
    question: Nights, item: int, own: Sequence[int], needs: Sequence[int], units: Units
) -> bool:
    """Whether all that is needed of an item can be had; what it takes is noted in `units`."""
    lots = [
        _Lot(lot.amount, question.days if lot.last is None else lot.last)
        for lot in question.lots
        if lot.item == item
    ]
    for day, need in enumerate(needs):
        missing = _pour(lots, need, day)
        for at in own:
            source = question.sources[at]
            ready = _latest(source, day, question.days)
            count = -(-missing // source.size)
            if count and ready is not None and sum(units[at].values()) + count <= source.most:
                units[at][ready] = units[at].get(ready, 0) + count
                last = source.last(ready, question.days)
                lots.append(_Lot(count * source.size, question.days if last is None else last))
                missing = _pour(lots, missing, day)
        if missing:
            return False
    return True


def _pour(lots: list[_Lot], need: int, day: int) -> int:
    """What is missing of a need when lots that are in time are poured, first expired first out."""
    for lot in sorted((lot for lot in lots if lot.last >= day), key=lambda lot: lot.last):
        out = min(lot.amount, need)
        lot.amount -= out
        need -= out
    return need


def _latest(source: Source, day: int, days: int) -> int | None:
    """The last day on which a unit can be ready that may still be poured on `day`."""
    fit = [
        on
        for on in source.days
        if source.lead <= on <= day and (source.keeps is None or on + source.keeps >= day)
    ]
    return max((on for on in fit if on < days), default=None)
