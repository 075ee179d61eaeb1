"""Iterated local search over serves: exchange one drink for another on a night.

`lot_sizing` gives the exact loss of known serves, and an exchange touches only the items of two
drinks, so that many can be evaluated. Descent is followed by a random chain of exchanges and
descent again, kept if better (Lourenço, Martin and Stützle, Iterated local search, 2003). It proves
nothing.
"""

from __future__ import annotations

import random
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from typing import Final

from solver.clock import Clock
from solver.night.lot_sizing import Got, ItemSupply, Settled, ticks_poured, users_first
from solver.night.problem import Nights

MISSING: Final = 10**9
"""Penalty for a tick that is missing, or left although it was to be used up."""
NEAR_BEST: Final = 8
"""Most promising drinks to leave out, and to pour instead, of which every pair is evaluated."""
CHAIN: Final = 16
"""Exchanges in a chain: some more than there are serves in a bottle."""
CHAIN_NIGHTS, CHAIN_PARTNERS = 2, 3
"""Nights of a chain, and drinks evaluated on each."""
TicksByDay = Mapping[int, int]
"""Additional ticks of an item, by day."""


class ValuedServes:
    """Serves by night and drink, and their exact loss."""

    def __init__(
        self,
        question: Nights,
        serves: Sequence[Sequence[int]],
        paid: int,
        spoiled: int,
        given: Iterable[Got] = (),
    ) -> None:
        """`paid` and `spoiled` are the weights of a unit of cost and of worth.

        For each item what is `given` is got if that is better than getting only what is missing.
        """
        self.question = question
        self._given: dict[int, list[Got]] = {}
        for each in given:
            self._given.setdefault(question.sources[each[0]].item, []).append(each)
        self._counts = paid, spoiled
        self.serves = [list(night) for night in serves]
        self.totals = [sum(night[at] for night in serves) for at in range(len(question.drinks))]
        items = range(len(question.values))
        self._supplies = [ItemSupply(question, item) for item in items]
        self._use_up = [[each for each in question.use_up if each.item == item] for item in items]
        self._order = {item: at for at, item in enumerate(users_first(question))}
        self._needs = [[0] * question.days for _ in items]
        self._settled = [Settled((), 0, 0) for _ in items]
        self._worths = [0 for _ in items]
        self._known: list[dict[tuple[int, int], int]] = [{} for _ in items]
        needs = ticks_poured(question, serves)
        self._settle({item: dict(enumerate(needs[item])) for item in items})

    def anew(self, serves: Sequence[Sequence[int]], given: Iterable[Got]) -> ValuedServes:
        """Other serves, with other units given; items without any keep those given here."""
        given = list(given)
        items = {self.question.sources[at].item for at, _, _ in given}
        kept = [got for item, each in self._given.items() if item not in items for got in each]
        return ValuedServes(self.question, serves, *self._counts, [*given, *kept])

    @property
    def got(self) -> tuple[Got, ...]:
        """All units got, of all items."""
        return tuple(got for settled in self._settled for got in settled.got)

    @property
    def loss(self) -> int:
        """The weighted sum of what is paid and what spoils, with penalties for missing ticks."""
        return sum(self._worths)

    def exchange(self, night: int, out: int, instead: int) -> None:
        """Pour one serve of a drink less on a night, and one of another instead."""
        for drink, more in ((out, -1), (instead, 1)):
            self.serves[night][drink] += more
            self.totals[drink] += more
        day = self.question.nights[night].day
        self._settle({item: {day: t} for item, t in self._instead(out, instead).items() if t})

    def estimate(self, night: int, out: int, instead: int) -> int:
        """The change of the loss by an exchange; inexact if changed items share an input."""
        day = self.question.nights[night].day
        return sum(self._change(i, day, t) for i, t in self._instead(out, instead).items() if t)

    def alone(self, night: int, drink: int, more: int) -> int:
        """The change of the loss by one serve more or less, as `estimate`."""
        day, takes = self.question.nights[night].day, self.question.drinks[drink].takes
        return sum(self._change(item, day, more * ticks) for item, ticks in takes.items())

    def _instead(self, out: int, instead: int) -> dict[int, int]:
        change = {item: -ticks for item, ticks in self.question.drinks[out].takes.items()}
        for item, ticks in self.question.drinks[instead].takes.items():
            change[item] = change.get(item, 0) + ticks
        return change

    def _change(self, item: int, day: int, ticks: int) -> int:
        known = self._known[item]
        if (day, ticks) not in known:
            known[day, ticks] = self._more(item, {day: ticks})
        return known[day, ticks]

    def _more(self, item: int, changes: TicksByDay) -> int:
        """The change of the loss by changed needs of an item, including what it is made of."""
        worth, settled, _ = self._best(item, changes)
        more = worth - self._worths[item]
        used = self._used(self._settled[item].got, settled.got)
        return more + sum(self._more(made_of, by_day) for made_of, by_day in used.items())

    def _best(self, item: int, changes: TicksByDay) -> tuple[int, Settled, list[int]]:
        """The best way to get an item for changed needs: loss, units, and these needs."""
        needs = list(self._needs[item])
        for day, ticks in changes.items():
            needs[day] += ticks
        settled = self._supplies[item].settle(needs)
        worth = self._worth(item, settled, needs)
        if item in self._given:
            other = self._supplies[item].settle(needs, self._given[item])
            other_worth = self._worth(item, other, needs)
            if other_worth < worth:
                return other_worth, other, needs
        return worth, settled, needs

    def _settle(self, changes: Mapping[int, TicksByDay]) -> None:
        """Apply changed needs, and those that follow for ingredients."""
        waiting = {item: defaultdict(int, by_day) for item, by_day in changes.items()}
        while waiting:
            item = min(waiting, key=self._order.__getitem__)
            worth, settled, needs = self._best(item, waiting.pop(item))
            for made_of, by_day in self._used(self._settled[item].got, settled.got).items():
                for day, ticks in by_day.items():
                    waiting.setdefault(made_of, defaultdict(int))[day] += ticks
            self._needs[item], self._settled[item] = needs, settled
            self._worths[item] = worth
            self._known[item].clear()

    def _used(self, before: Iterable[Got], after: Iterable[Got]) -> dict[int, dict[int, int]]:
        """Additional ticks, by item and day, that go into what is got."""
        used: dict[int, dict[int, int]] = {}
        if before == after:
            return used
        for sign, got in ((-1, before), (1, after)):
            for at, ready, count in got:
                source = self.question.sources[at]
                for item, ticks in source.takes.items():
                    by_day = used.setdefault(item, defaultdict(int))
                    by_day[ready - source.lead] += sign * count * ticks
        return used

    def _worth(self, item: int, settled: Settled, needs: Sequence[int]) -> int:
        question, supply = self.question, self._supplies[item]
        paid = 0
        for at, source in supply.sources:
            count = sum(units for way, _, units in settled.got if way == at)
            paid += source.cost * source.cases(count)
        spoiled = -(-settled.spoiled * question.values[item] // question.worth_unit)
        over = settled.missing
        for each in self._use_up[item]:
            came = supply.there
            for at, ready, count in settled.got:
                came += count * question.sources[at].size if ready <= each.day else 0
            over += max(0, came - sum(needs[: each.day + 1]) - each.within)
        counts_paid, counts_spoiled = self._counts
        return counts_paid * paid + counts_spoiled * spoiled + MISSING * over


class ExchangeSearch:
    """Local search over serves within limits, pairs (least, most): `limits` by night and drink,
    `in_all` by drink."""

    def __init__(
        self,
        serves: ValuedServes,
        limits: Sequence[Sequence[tuple[int, int]]],
        in_all: Sequence[tuple[int, int]],
        among: Sequence[int] = (),
    ) -> None:
        """Only drinks of `among` are exchanged, if it names any."""
        self.serves = serves
        self._drinks = among or range(len(in_all))
        self._limits, self._in_all = limits, in_all
        self._done: list[tuple[int, int, int]] = []
        self._pick = random.Random(1)  # noqa: S311 - chance is only for variety

    def run(self, clock: Clock, most_in_vain: int) -> None:
        """Descend, then chain and descend, until `most_in_vain` chains in a row brought nothing."""
        while self._descend(range(len(self.serves.serves)), clock):
            pass
        in_vain = 0
        while clock.left and in_vain < most_in_vain:
            clock.still()
            self._done.clear()
            before = self.serves.loss
            self._chain()
            in_vain += 1
            if self.serves.loss < before:
                in_vain = 0
                self._descend({night for night, _, _ in self._done}, clock)

    def _descend(self, nights: Iterable[int], clock: Clock) -> bool:
        """Make the best exchange of each night as long as one helps; whether any did."""
        any_helped = False
        for night in nights:
            while clock.left:
                found = self._best(night)
                if found is None or not self._helps(night, *found):
                    break
                any_helped = True
        return any_helped

    def _best(self, night: int) -> tuple[int, int] | None:
        pairs = (
            (self.serves.estimate(night, out, instead), out, instead)
            for out in self._promising(night, -1)
            for instead in self._promising(night, 1)
            if out != instead
        )
        best = min(pairs, default=(0, 0, 0))
        return best[1:] if best[0] < 0 else None

    def _promising(self, night: int, more: int) -> list[int]:
        drinks = [at for at in self._drinks if self._may(night, at, more)]
        return sorted(drinks, key=lambda at: self.serves.alone(night, at, more))[:NEAR_BEST]

    def _may(self, night: int, drink: int, more: int) -> bool:
        least, most = self._limits[night][drink]
        at_least, at_most = self._in_all[drink]
        count, in_all = self.serves.serves[night][drink] + more, self.serves.totals[drink] + more
        return least <= count <= most and at_least <= in_all <= at_most

    def _helps(self, night: int, out: int, instead: int) -> bool:
        before = self.serves.loss
        self._exchange(night, out, instead)
        if self.serves.loss < before:
            return True
        self._exchange(night, instead, out)
        return False

    def _exchange(self, night: int, out: int, instead: int) -> None:
        self.serves.exchange(night, out, instead)
        self._done.append((night, out, instead))

    def _chain(self) -> None:
        """Exchange one drink, again and again, for the best of others (or the reverse) on a few
        nights; then go back to the best step.

        Bottles are bought whole, so the first exchanges of a chain rarely help (ejection chains;
        Glover, Discrete Applied Mathematics 65, 1996).
        """
        drink, more = self._pick.randrange(len(self.serves.totals)), self._pick.choice((-1, 1))
        nights = self._pick.sample(
            range(len(self.serves.serves)), min(CHAIN_NIGHTS, len(self.serves.serves))
        )
        best, kept = self.serves.loss, 0
        for step in range(1, CHAIN + 1):
            links = [
                (self.serves.estimate(night, *pair), night, *pair)
                for night in nights
                if self._may(night, drink, more)
                for other in self._promising(night, -more)[:CHAIN_PARTNERS]
                if other != drink
                for pair in [(drink, other) if more < 0 else (other, drink)]
            ]
            if not links:
                break
            _, night, out, instead = min(links)
            self._exchange(night, out, instead)
            if self.serves.loss < best:
                best, kept = self.serves.loss, step
        for night, out, instead in reversed(self._done[kept:]):
            self.serves.exchange(night, instead, out)
        del self._done[kept:]
