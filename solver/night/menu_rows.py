"""The rows of a menu: nights of which it is to be chosen, too, what is offered.

A drink has one more variable, whether it is offered; its limits hold where it is, and it has no
serve where it is not. Everything else is as for any run of nights.
"""

from __future__ import annotations

from solver.night.problem import WHOLE_SHARE, Drink, Menu, Nights
from solver.night.rows import Demand, Kind, NightRows, demands, plus, times


def rows_of(question: Nights, kept: frozenset[Demand]) -> NightRows:
    """The rows of a question in which the demands `kept` must hold."""
    return NightRows(question, kept) if question.menu is None else MenuRows(question, kept)


def demands_of(question: Nights) -> tuple[Demand, ...]:
    """All that is asked, what matters most to a bar first."""
    menu = question.menu
    if menu is None:
        return demands(question)
    found = [Demand(Kind.FORECAST)]
    found += [Demand(Kind.GUEST, at) for at in range(len(menu.guests))]
    found += [Demand(Kind.SPEND)] if question.spend is not None else []
    found += [Demand(Kind.MARGIN)] if menu.margin is not None else []
    found += [Demand(Kind.USE_UP, at) for at in range(len(question.use_up))]
    found += [Demand(Kind.CAPACITY, at) for at in range(len(menu.capacities))]
    found += [Demand(Kind.OFFERED, at) for at in sorted(menu.fixed)]
    found += [Demand(Kind.FOR_TWO)] if menu.for_two else []
    found += [Demand(Kind.MOST)] if menu.most < len(question.drinks) else []
    return (*found, Demand(Kind.SHARES))


class MenuRows(NightRows):
    """The program of a question with a menu in which the demands `kept` must hold."""

    @property
    def menu(self) -> Menu:
        """What may be offered together."""
        menu = self.question.menu
        if menu is None:
            message = "these nights have no menu to choose"
            raise ValueError(message)
        return menu

    def offers(self, group: frozenset[int]) -> dict[int, int]:
        """How many drinks of a group are offered."""
        return {self.offered[at]: 1 for at in sorted(group)}

    # What makes a menu better.

    def pouring(self) -> dict[int, int]:
        """What all that is poured costs."""
        costs = enumerate(self.menu.costs)
        return plus(*(dict.fromkeys(self.poured(at), cost) for at, cost in costs))

    def sameness(self) -> dict[int, int]:
        """Kinds that are not on the menu, and drinks beyond the first of those that are."""
        terms: dict[int, int] = {}
        for group in self.menu.kinds:
            missing = self.program.whole(0, 1)
            again = self.program.whole(0, max(0, len(group) - 1))
            offers = self.offers(group)
            self.program.between(plus(offers, {missing: 1}), 1, None)
            self.program.between(plus(offers, {again: -1}), None, 1)
            terms[missing] = terms[again] = 1
        return terms

    def reach(self, demand: Demand) -> tuple[dict[int, int], int]:
        """What is minimised to come near a demand on a menu: a sum, and a constant.

        What nothing is near to counts nothing.
        """
        match demand.kind:
            case Kind.FORECAST:
                nights = range(len(self.question.nights))
                return times(plus(*map(self.drinks, nights)), -1), 0
            case Kind.MOST:
                return dict.fromkeys(self.offered, 1), 0
            case Kind.MARGIN:
                return self._dearest(), 0
            case Kind.CAPACITY:
                return self._fullest(self.menu.capacities[demand.at].drinks), 0
            case _:
                return {}, 0

    def _fullest(self, group: frozenset[int]) -> dict[int, int]:
        """The drinks of a group on the night that has most of them."""
        most = self.program.whole(0, max(night.drinks for night in self.question.nights))
        for poured in self.serves:
            served = {poured[drink]: -1 for drink in sorted(group)}
            self.program.between(plus(served, {most: 1}), 0, None)
        return {most: 1}

    def _dearest(self) -> dict[int, int]:
        """What the dearest drink that is offered costs of its price."""
        spent = [WHOLE_SHARE - kept for kept in self.menu.keeps]
        worst = self.program.whole(min(0, *spent), max(0, *spent))
        for v, share in zip(self.offered, spent, strict=True):
            self.program.between({worst: 1, v: -share}, 0, None)
        return {worst: 1}

    # The rows.

    def _shares(self) -> None:
        self.offered = [self.program.whole(0, 1) for _ in self.question.drinks]
        for at, night in enumerate(self.question.nights):
            low = night.drinks if Demand(Kind.FORECAST) in self.kept else 0
            self.program.between(self.drinks(at), low, night.drinks)
        for at, drink in enumerate(self.question.drinks):
            self._within_limits(at, drink)
        self._who_is_on()
        for at, capacity in enumerate(self.menu.capacities):
            if Demand(Kind.CAPACITY, at) in self.kept:
                for poured in self.serves:
                    served = {poured[drink]: 1 for drink in sorted(capacity.drinks)}
                    self.program.between(served, None, capacity.most)

    def _within_limits(self, at: int, drink: Drink) -> None:
        """On every night and in all, to the whole drink: so many where it is offered, else none."""
        counts = [night.drinks for night in self.question.nights]
        every = range(len(counts))
        offered = self.offered[at]
        for nights in (*([night] for night in every), list(every)):
            served = {self.serves[night][at]: 1 for night in nights}
            most = count = sum(counts[night] for night in nights)
            if Demand(Kind.SHARES) in self.kept:
                most = min(count, (drink.high * count + WHOLE_SHARE - 1) // WHOLE_SHARE)
                # Where a night may have fewer drinks than were forecast, shares are of those.
                share = times(plus(*(self.drinks(night) for night in nights)), -drink.low)
                low = plus(times(served, WHOLE_SHARE), share, {offered: -drink.low * count})
                self.program.between(low, 1 - WHOLE_SHARE - drink.low * count, None)
                share = times(plus(*(self.drinks(night) for night in nights)), -drink.high)
                self.program.between(plus(times(served, WHOLE_SHARE), share), None, WHOLE_SHARE - 1)
                if Demand(Kind.FORECAST) in self.kept:
                    least = drink.low * count // WHOLE_SHARE
                    self.program.between(plus(served, {offered: -least}), 0, None)
            self.program.between(plus(served, {offered: -most}), None, 0)
        self.program.between(plus(self.poured(at), {offered: -1}), 0, None)

    def _who_is_on(self) -> None:
        """Which drinks may be offered together."""
        menu, program = self.menu, self.program
        if Demand(Kind.MOST) in self.kept:
            program.between(dict.fromkeys(self.offered, 1), None, menu.most)
        for group in menu.either:
            program.between(self.offers(group), None, 1)
        for at, group in enumerate(menu.guests):
            if Demand(Kind.GUEST, at) in self.kept:
                program.between(self.offers(group), 1, None)
        for at in sorted(menu.fixed):
            if Demand(Kind.OFFERED, at) in self.kept:
                program.between({self.offered[at]: 1}, 1, None)
        if Demand(Kind.MARGIN) in self.kept:
            program.between(self.offers(menu.dear), None, 0)
        if Demand(Kind.FOR_TWO) in self.kept:
            self._nothing_for_one_alone()

    def _nothing_for_one_alone(self) -> None:
        """What is not there yet is bought for two drinks at least."""
        there = {lot.item for lot in self.question.lots}
        users = users_of(self.question)
        for source, paid in zip(self.question.sources, self.bought, strict=True):
            if paid is not None and source.item not in there and not source.free:
                any_ = self.program.whole(0, 1)
                self.program.between({paid: 1, any_: -self.program.highs[paid]}, None, 0)
                offers = self.offers(users[source.item])
                self.program.between(plus(offers, {any_: -2}), 0, None)


def users_of(question: Nights) -> tuple[frozenset[int], ...]:
    """Which drinks take each item, or what is made of it."""
    made: dict[int, set[int]] = {}
    for source in question.sources:
        for item in source.takes:
            made.setdefault(item, set()).add(source.item)

    def users(item: int, above: frozenset[int]) -> frozenset[int]:
        own = {at for at, drink in enumerate(question.drinks) if item in drink.takes}
        further = (users(each, above | {item}) for each in made.get(item, set()) - above)
        return frozenset(own).union(*further)

    return tuple(users(item, frozenset({item})) for item in range(len(question.values)))
