"""Lot sizing for known serves: what to get ready of each item, as late and as little as possible.

By-products are left out, of which another item decides: with them there may be less to get.

For an item with one unit size, of which nothing lasts longer than what comes after it, that is
optimal (the zero-inventory property; Wagner and Whitin, Management Science 5, 1958). Items are
independent once the serves are known, and each takes time linear in the days.
"""

from __future__ import annotations

from bisect import insort
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from solver.night.problem import NightLot, Nights

Units = list[dict[int, int]]
Got = tuple[int, int, int]
"""A source, the day on which units of it are ready, and how many."""


@dataclass(frozen=True)
class Settled:
    """Units got of an item, ticks of it that spoil, and ticks that are missing nevertheless."""

    got: tuple[Got, ...]
    spoiled: int
    missing: int


class ItemSupply:
    """One item: its lots, and its sources by day."""

    def __init__(self, question: Nights, item: int) -> None:
        """Look up what of the question is of this item."""
        self.days = days = question.days
        lots = [lot for lot in question.lots if lot.item == item]
        self.there = sum(lot.amount for lot in lots)
        self.lots = sorted(_dated(lot, days) for lot in lots if not lot.first)
        self.standing = [(lot.first, _dated(lot, days)) for lot in lots if lot.first]
        self.sources = [
            (at, source)
            for at, source in enumerate(question.sources)
            if source.item == item and source.beside is None
        ]
        self._by_number = dict(self.sources)
        lasts = [self._lot(at, day, 0)[0] for at, source in self.sources for day in source.days]
        dated = [*self.lots, *(lot for _, lot in self.standing)]
        self.later_spoils_sooner = any(last > min(lasts, default=days) for last, _ in dated)
        self.latest = [list(_latest(question, at)) for at, _ in self.sources]

    def settle(self, needs: Sequence[int], given: Sequence[Got] = ()) -> Settled:
        """What to get for `needs`, ticks by day, in addition to what is `given`.

        First expired, first out.
        """
        lots = list(self.lots)
        got: list[Got] = list(given)
        room = [
            source.most - sum(count for way, _, count in given if way == at)
            for at, source in self.sources
        ]
        missing = spoiled = 0
        for day, need in enumerate(needs):
            for first, lot in self.standing:
                if first == day:
                    insort(lots, lot)
            for at, on, count in given:
                if on == day:
                    insort(lots, self._lot(at, on, count))
            need, gone = _pour(lots, need, day)
            spoiled += gone
            for way, (at, source) in enumerate(self.sources):
                ready = self.latest[way][day] if need else None
                if ready is None:
                    continue
                count = min(room[way], -(-need // source.size))
                if count:
                    room[way] -= count
                    got.append((at, ready, count))
                    lasts, amount = self._lot(at, ready, count)
                    out = min(need, amount)
                    need -= out
                    insort(lots, (lasts, amount - out))
            missing += need
        if self.later_spoils_sooner and len(got) > len(given):
            return self.settle(needs, got)  # poured before what was there
        spoiled += sum(amount for last, amount in lots if last < self.days)
        return Settled(tuple(got), spoiled, missing)

    def _lot(self, at: int, ready: int, count: int) -> tuple[int, int]:
        source = self._by_number[at]
        last = source.last(ready, self.days)
        return (self.days if last is None else last), count * source.size


def _dated(lot: NightLot, days: int) -> tuple[int, int]:
    """Its last day, or the end of a plan of `days` days, and what it is."""
    return (days if lot.last is None else lot.last), lot.amount


def _pour(lots: list[tuple[int, int]], need: int, day: int) -> tuple[int, int]:
    """Pour `need` ticks from sorted lots; returns ticks missing, and ticks found spoiled."""
    spoiled = 0
    while need and lots:
        last, amount = lots.pop(0)
        if last < day:
            spoiled += amount
            continue
        out = min(need, amount)
        need -= out
        if amount > out:
            lots.insert(0, (last, amount - out))
    return need, spoiled


def units_for(question: Nights, serves: Sequence[Sequence[int]]) -> Units | None:
    """Units by source and day so that `serves`, by night and drink, can be poured.

    None if these cannot; other serves may still.
    """
    units: Units = [{} for _ in question.sources]
    needs = ticks_poured(question, serves)
    for item in users_first(question):
        settled = ItemSupply(question, item).settle(needs[item])
        if settled.missing:
            return None
        for at, ready, count in settled.got:
            units[at][ready] = units[at].get(ready, 0) + count
            for used, ticks in question.sources[at].takes.items():
                needs[used][ready - question.sources[at].lead] += count * ticks
    return units


def ticks_poured(question: Nights, serves: Sequence[Sequence[int]]) -> list[list[int]]:
    """Ticks of each item that drinks take on each day."""
    needs = [[0] * question.days for _ in question.values]
    for night, served in zip(question.nights, serves, strict=True):
        for drink, count in zip(question.drinks, served, strict=True):
            for item, ticks in drink.takes.items():
                needs[item][night.day] += count * ticks
    return needs


def users_first(question: Nights) -> list[int]:
    """Items in topological order: each after everything that is made of it."""
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


def _latest(question: Nights, at: int) -> Iterator[int | None]:
    """Yield for each day the last day on which a unit poured then can be ready; None for none."""
    source = question.sources[at]
    for day in range(question.days):
        fit = [
            on
            for on in source.days
            if source.lead <= on <= day and (source.keeps is None or on + source.keeps >= day)
        ]
        yield max(fit, default=None)
