"""The integer program of a run of nights: rows that every plan keeps, and objectives.

An item whose lots go first in, first out needs one variable a day: what has spoiled so far. If a
later lot spoils sooner, the program has a variable for what is poured of each lot on each day, and
what keeps past the end of the plan is one pool.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import ClassVar

from solver.night.coming_lots import ComingLot, in_turn, last_before_more
from solver.night.demands import NightDemand, NightDemandKind
from solver.night.problem import WHOLE_SHARE, Nights, PlanValues, Source
from solver.night.rounding_inequalities import fewest, poured_of_units, wasted
from solver.search.milp.integer_program import IntTerms, Program, plus, times

ML = 100.0
"""Ticks in the natural unit, millilitres, for solvers that calculate in floats."""
FEW_UNITS = 50
"""Sources of more units than this have small ones, such as the juice of a lime."""


class NightRows:
    """The program of a question in which the demands `kept` must hold.

    With `OF_WHOLE_UNITS` it has `rounding_inequalities`, too. Objectives are linear expressions;
    `waste`, `loss`, `unevenness` and `fullest` add variables and rows when called.
    """

    OF_WHOLE_UNITS: ClassVar[bool] = True

    def __init__(self, question: Nights, kept: frozenset[NightDemand]) -> None:
        """Write all rows of plans."""
        self.question = question
        self.kept = kept
        self.program = Program()
        self.spoiled: list[tuple[int, dict[int, int], int]] = []
        """Ticks that spoil, by item: (item, terms, constant)."""
        self.serves = [
            [self.program.whole(0, night.drinks) for _ in question.drinks]
            for night in question.nights
        ]
        self.so_far = self._so_far()
        """Serves of each drink until the end of each night."""
        self.totals = self.so_far[-1]
        """Serves of each drink over all nights."""
        self.units = [self._units(source) for source in question.sources]
        self.bought = [self._bought(at, source) for at, source in enumerate(question.sources)]
        self.program.follows += self.serves
        self._shares()
        self.program.leads += [*self.totals, *self._large()]
        for item in range(len(question.values)):
            self._item(item)
        for at, use_up in enumerate(question.use_up):
            if NightDemand(NightDemandKind.USE_UP, at) in kept:
                terms, constant = self.left(use_up.item, use_up.day)
                self.program.between(terms, None, use_up.within - constant)
        if NightDemand(NightDemandKind.SPEND) in kept:
            self.program.between(self.cost(), None, question.spend)
        self._of_their_day()
        for at, capacity in enumerate(question.capacities):
            if NightDemand(NightDemandKind.CAPACITY, at) in kept:
                for poured in self.serves:
                    served = {poured[drink]: 1 for drink in sorted(capacity.drinks)}
                    self.program.between(served, None, capacity.most)

    def _of_their_day(self) -> None:
        """Add the rows of what is made at once, and of by-products."""
        for source, ready in zip(self.question.sources, self.units, strict=True):
            made = {} if source.beside is None else self.units[source.beside]
            for day, v in ready.items():
                if source.at_once:
                    needed = times(self._needed(source.item, day), -1)
                    self.program.between(plus({v: source.size}, needed), None, 0)
                if source.beside is not None:
                    with_it = {made[day]: -1} if day in made else {}
                    self.program.between(plus({v: 1}, with_it), None, 0)

    def plan(self, values: tuple[int, ...]) -> PlanValues:
        """The plan that values of the variables stand for."""
        return PlanValues(
            serves=tuple(tuple(values[v] for v in night) for night in self.serves),
            units=tuple(
                {day: values[v] for day, v in ready.items() if values[v]} for ready in self.units
            ),
        )

    def _large(self) -> list[int]:
        """Variables of large units, bottles and batches, of which one more or less decides much."""
        found = [v for v in self.bought if v is not None]
        for source, ready in zip(self.question.sources, self.units, strict=True):
            most = self._most(self._poured(source.item, self.totals), 0)
            few = source.takes or most <= FEW_UNITS * source.size
            found += ready.values() if few else []
        return found

    # Objectives.

    def waste(self) -> dict[int, int]:
        """The value of what spoils, in worth units, rounded up for each item."""
        unit = self.question.worth_unit
        terms: dict[int, int] = {}
        for item, spoils, constant in self.spoiled:
            value = self.question.values[item]
            most = -(-value * self._most(spoils, constant) // unit)
            v = self.program.whole(0, max(0, most))
            self.program.between(plus({v: unit}, times(spoils, -value)), value * constant, None)
            terms[v] = 1
        return terms

    def cost(self) -> dict[int, int]:
        """The cost of what is bought."""
        pairs = zip(self.bought, self.question.sources, strict=True)
        return {v: source.cost for v, source in pairs if v is not None}

    def loss(self) -> dict[int, int]:
        """Cost plus the value of what spoils; what is bought and spoils counts in both."""
        return plus(self.cost(), times(self.waste(), self.question.worth_costs))

    def unevenness(self) -> dict[int, int]:
        """The distance from the wished shares, summed, in parts (`WHOLE_SHARE`) of a drink."""
        terms: dict[int, int] = {}
        for night, poured in zip(self.question.nights, self.serves, strict=True):
            for drink, served in zip(self.question.drinks, poured, strict=True):
                off = self.program.whole(0, WHOLE_SHARE * night.drinks, WHOLE_SHARE)
                wish = drink.wish * night.drinks
                self.program.between({off: 1, served: -WHOLE_SHARE}, -wish, None)
                self.program.between({off: 1, served: WHOLE_SHARE}, wish, None)
                terms[off] = 1
        return terms

    def work(self) -> dict[int, int]:
        """The units got ready, weighted more the earlier they are; by-products hardly count."""
        days = self.question.days
        return {
            v: 2 * days - day if source.beside is None else 1
            for source, ready in zip(self.question.sources, self.units, strict=True)
            for day, v in ready.items()
        }

    def poured(self, drink: int) -> dict[int, int]:
        """The serves of a drink over all nights."""
        return {night[drink]: 1 for night in self.serves}

    def drinks(self, night: int) -> dict[int, int]:
        """The drinks of a night."""
        return dict.fromkeys(self.serves[night], 1)

    def fullest(self, group: frozenset[int]) -> dict[int, int]:
        """The largest number of drinks of a group on any night."""
        most = self.program.whole(0, max(night.drinks for night in self.question.nights))
        for poured in self.serves:
            served = {poured[drink]: -1 for drink in sorted(group)}
            self.program.between(plus(served, {most: 1}), 0, None)
        return {most: 1}

    def left(self, item: int, day: int) -> tuple[dict[int, int], int]:
        """Ticks of an item that came by the end of a day and were not poured: terms, constant."""
        came = [
            {v: source.size}
            for source, ready in zip(self.question.sources, self.units, strict=True)
            if source.item == item
            for on, v in ready.items()
            if on <= day
        ]
        needed = (times(self._needed(item, on), -1) for on in range(day + 1))
        there = sum(lot.amount for lot in self.question.lots if lot.item == item)
        return plus(*came, *needed), there

    # The rows.

    def _so_far(self) -> list[list[int]]:
        """Serves of each drink up to each night, by recursion: rows of long plans stay short."""
        found: list[list[int]] = []
        drinks = 0
        for night, served in zip(self.question.nights, self.serves, strict=True):
            drinks += night.drinks
            sums = [self.program.whole(0, drinks) for _ in served]
            for at, (v, own) in enumerate(zip(sums, served, strict=True)):
                before = {found[-1][at]: 1} if found else {}
                self.program.between(plus(before, {own: 1, v: -1}), 0, 0)
            found.append(sums)
        return found

    def _units(self, source: Source) -> dict[int, int]:
        days = [day for day in source.days if source.lead <= day < self.question.days]
        ready = {day: self.program.whole(0, source.most) for day in days}
        in_all = dict.fromkeys(ready.values(), 1)
        if source.takes and len(days) > 1:  # how often something is cooked decides more than when
            every = self.program.whole(0, source.most)
            self.program.between(plus(in_all, {every: -1}), 0, 0)
            self.program.leads.append(every)
        else:
            self.program.between(in_all, None, source.most)
        return ready

    def _bought(self, at: int, source: Source) -> int | None:
        """The variable of the cases that are paid for; None if none can be."""
        if not source.cost or source.most <= source.free:
            return None
        paid = self.program.whole(0, source.cases(source.most))
        ready = dict.fromkeys(self.units[at].values(), 1)
        self.program.between(plus(ready, {paid: -source.case}), None, source.free)
        return paid

    def _shares(self) -> None:
        """Add the limits of every drink, on every night and in all, rounded to whole drinks.

        Rounding them tightens the relaxation by up to a drink for each drink and night.
        """
        for at, night in enumerate(self.question.nights):
            low = night.drinks if NightDemand(NightDemandKind.DRINKS, at) in self.kept else 0
            self.program.between(self.drinks(at), low, night.drinks)
        every = range(len(self.question.nights))
        for at, drink in enumerate(self.question.drinks):
            low = drink.low if NightDemand(NightDemandKind.AT_LEAST, at) in self.kept else 0
            high = (
                drink.high if NightDemand(NightDemandKind.AT_MOST, at) in self.kept else WHOLE_SHARE
            )
            for number in every:
                self._share(self.serves[number][at], [number], low, high)
            self._share(self.totals[at], every, low, high)

    def _share(self, served: int, nights: Sequence[int], low: int, high: int) -> None:
        """Add the limits of a drink over some nights."""
        if all(NightDemand(NightDemandKind.DRINKS, night) in self.kept for night in nights):
            drinks = sum(self.question.nights[night].drinks for night in nights)
            self.program.lows[served] = low * drinks // WHOLE_SHARE
            self.program.highs[served] = -(-high * drinks // WHOLE_SHARE)
            return
        drinks_of = plus(*(self.drinks(night) for night in nights))
        own = {served: WHOLE_SHARE}
        self.program.between(plus(own, times(drinks_of, -low)), 1 - WHOLE_SHARE, None)
        self.program.between(plus(own, times(drinks_of, -high)), None, WHOLE_SHARE - 1)

    def _needed(self, item: int, day: int) -> dict[int, int]:
        """Ticks of an item that drinks and recipes take on a day."""
        poured = (
            self._poured(item, served)
            for night, served in zip(self.question.nights, self.serves, strict=True)
            if night.day == day
        )
        return plus(*poured, self._cooked(item, range(day, day + 1)))

    def _needed_by(self, item: int, day: int) -> dict[int, int]:
        """Ticks of an item that drinks and recipes take until the end of a day."""
        over = [at for at, night in enumerate(self.question.nights) if night.day <= day]
        poured = self._poured(item, self.so_far[over[-1]]) if over else {}
        return plus(poured, self._cooked(item, range(day + 1)))

    def _poured(self, item: int, served: Sequence[int]) -> dict[int, int]:
        pairs = zip(self.question.drinks, served, strict=True)
        return {v: drink.takes[item] for drink, v in pairs if item in drink.takes}

    def _cooked(self, item: int, days: range) -> dict[int, int]:
        """Ticks of an item that go into what is begun on some days."""
        return plus(
            *(
                {v: source.takes[item] for day, v in ready.items() if day - source.lead in days}
                for source, ready in zip(self.question.sources, self.units, strict=True)
                if item in source.takes
            )
        )

    def _item(self, item: int) -> None:
        """Add the rows of an item: no more is poured than there is, nor past its last day."""
        needs = [self._needed(item, day) for day in range(self.question.days)]
        lots = list(self._lots(item))
        if not any(needs) and all(lot.last is None for lot in lots):
            return
        lows = self.program.lows
        least = [sum(c * lows[v] for v, c in need.items()) for need in needs]
        for units, fewest_units in fewest(least, lots):
            self.program.between(units, fewest_units, None)
        most = [self._most(need, 0) for need in needs]
        if self.OF_WHOLE_UNITS:
            for day, units, there in poured_of_units(most, lots):
                self.program.between(plus(needs[day], times(units, -1)), None, there)
        if in_turn(lots):
            self._queue(item, most, lots)
        else:
            self._flows(item, needs, lots)

    def _queue(self, item: int, most: list[int], lots: list[ComingLot]) -> None:
        """Add the rows of an item whose lots go first in, first out.

        With S(t) ticks whose last day is t or before, and N(t) ticks poured by then, the spoiled
        ticks are W(t) >= S(t) - N(t) and W(t) >= W(t - 1); W(t) + N(t) is at most what came.
        """
        spoiled: dict[int, int] = {}
        so_far: list[dict[int, int]] = []
        for day in range(len(most)):
            poured = self._needed_by(item, day)
            if poured and last_before_more(lots, day, len(most)):
                gone = plus(spoiled, poured)
                came, there = _sum_of(lot for lot in lots if lot.first <= day)
                self.program.between(plus(gone, times(came, -1)), None, there)
            if any(lot.last == day for lot in lots):
                due = [lot for lot in lots if lot.last is not None and lot.last <= day]
                terms, constant = _sum_of(due)
                v = self.program.whole(0, self._most(terms, constant), ML)
                self.program.between(plus({v: 1}, times(spoiled, -1)), 0, None)
                self.program.between(plus({v: 1}, poured, times(terms, -1)), constant, None)
                spoiled = {v: 1}
            so_far.append(spoiled)
        if spoiled:
            self.spoiled.append((item, spoiled, 0))
            for day, units, least in wasted(most, lots) if self.OF_WHOLE_UNITS else ():
                before = times(so_far[day - 1], -1) if day else {}
                self.program.between(plus(so_far[day], before, times(units, -1)), least, None)

    def _most(self, terms: IntTerms, constant: int) -> int:
        return constant + sum(c * self.program.highs[v] for v, c in terms.items() if c > 0)

    def _flows(self, item: int, needs: list[dict[int, int]], lots: list[ComingLot]) -> None:
        """Add the rows of an item whose lots may spoil out of order: flows from lots to days, and a
        pool of what keeps."""
        flows: list[dict[int, int]] = [{} for _ in needs]
        for lot in lots:
            if lot.last is None:
                continue
            out: dict[int, int] = {}
            most = self._most(lot.terms, lot.constant)
            for day in range(lot.first, lot.last + 1):
                if needs[day]:
                    v = self.program.whole(0, most, ML)
                    flows[day][v] = out[v] = 1
            spoils = plus(lot.terms, times(out, -1))
            self.program.between(spoils, -lot.constant, None)
            self.spoiled.append((item, spoils, lot.constant))
        self._pool(item, flows, [lot for lot in lots if lot.last is None])

    def _pool(self, item: int, flows: list[dict[int, int]], pool: list[ComingLot]) -> None:
        """Add the rows of the pool: by no day has more been poured of it than had come."""
        for day, dated in enumerate(flows):
            if dated:
                self.program.between(plus(self._needed(item, day), times(dated, -1)), 0, None)
            poured = self._needed_by(item, day)
            if poured and last_before_more(pool, day, len(flows)):
                gone = plus(poured, *(times(flow, -1) for flow in flows[: day + 1]))
                came, there = _sum_of(lot for lot in pool if lot.first <= day)
                self.program.between(plus(gone, times(came, -1)), None, there)

    def _lots(self, item: int) -> Iterator[ComingLot]:
        days = self.question.days
        for lot in self.question.lots:
            if lot.item == item:
                last = lot.last if lot.last is not None and lot.last < days else None
                yield ComingLot(lot.first, last, {}, lot.amount)
        for source, ready in zip(self.question.sources, self.units, strict=True):
            if source.item == item:
                for day, v in ready.items():
                    yield ComingLot(day, source.last(day, days), {v: source.size}, 0)


def _sum_of(lots: Iterable[ComingLot]) -> tuple[dict[int, int], int]:
    lots = list(lots)
    return plus(*(lot.terms for lot in lots)), sum(lot.constant for lot in lots)
