"""The rows of a menu: nights of which it is to be chosen, too, what is offered.

A drink is on the menu of a night where it is poured then: one more variable for each of both. It is
on for a stretch of nights, for what it is poured of may come late or be gone; its limits hold as
long as it is on. Everything else is as for any run of nights.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from solver.night.demands import DemandKind, NightDemand, demands
from solver.night.problem import WHOLE_SHARE, Capacity, MenuRules, NightDrink, Nights
from solver.night.rows import NightRows
from solver.search.milp.integer_program import plus, times


def rows_of(question: Nights, kept: frozenset[NightDemand]) -> NightRows:
    """The rows of a question in which the demands `kept` must hold."""
    return NightRows(question, kept) if question.menu is None else MenuRows(question, kept)


def demands_of(question: Nights) -> tuple[NightDemand, ...]:
    """All that is asked, what matters most to a bar first."""
    menu = question.menu
    if menu is None:
        return demands(question)
    found = [NightDemand(DemandKind.FORECAST)]
    found += [NightDemand(DemandKind.GUEST, at) for at in range(len(menu.guests))]
    found += [NightDemand(DemandKind.SPEND)] if question.spend is not None else []
    found += [NightDemand(DemandKind.MARGIN)] if menu.margin is not None else []
    found += [NightDemand(DemandKind.USE_UP, at) for at in range(len(question.use_up))]
    found += [NightDemand(DemandKind.CAPACITY, at) for at in range(len(menu.capacities))]
    found += [NightDemand(DemandKind.OFFERED, at) for at in sorted(menu.fixed)]
    found += [NightDemand(DemandKind.FOR_TWO)] if menu.for_two else []
    found += [NightDemand(DemandKind.MOST)] if menu.most < len(question.drinks) else []
    return (*found, NightDemand(DemandKind.SHARES))


class MenuRows(NightRows):
    """The program of a question with a menu in which the demands `kept` must hold."""

    # Before it is known what is offered these rows say little: 140 drinks of 19 that may be offered
    # were proven to 1 % in 4 s of a processor without them, and 29 % off after 16 s with them.
    OF_WHOLE_UNITS = False

    @property
    def menu(self) -> MenuRules:
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
        return dict(zip(self.totals, self.menu.costs, strict=True))

    def sameness(self) -> dict[int, int]:
        """Kinds that are not on the menu, drinks beyond the first of those that are, and drinks
        that are not on it on every night: a menu that changes has to be printed anew."""
        terms = dict(self._changes())
        for group in self.menu.kinds:
            missing = self.program.whole(0, 1)
            again = self.program.whole(0, max(0, len(group) - 1))
            offers = self.offers(group)
            self.program.between(plus(offers, {missing: 1}), 1, None)
            self.program.between(plus(offers, {again: -1}), None, 1)
            terms[missing] = terms[again] = 1
        return terms

    def _changes(self) -> Iterator[tuple[int, int]]:
        """Yield, for each drink, one if it is on some nights and not on all."""
        drawn = [on for on, n in zip(self.on, self.question.nights, strict=True) if n.drinks]
        for at, offered in enumerate(self.offered if len(drawn) > 1 else ()):
            changes = self.program.whole(0, 1)
            for on in drawn:
                self.program.between({changes: 1, offered: -1, on[at]: 1}, 0, None)
            yield changes, 1

    def reach(self, demand: NightDemand) -> tuple[dict[int, int], int]:
        """What is minimised to come near a demand on a menu: a sum, and a constant.

        What nothing is near to counts nothing.
        """
        match demand.kind:
            case DemandKind.FORECAST:
                nights = range(len(self.question.nights))
                return times(plus(*map(self.drinks, nights)), -1), 0
            case DemandKind.MOST:
                return dict.fromkeys(self.offered, 1), 0
            case DemandKind.MARGIN:
                return self._dearest(), 0
            case DemandKind.CAPACITY:
                return self.fullest(self.menu.capacities[demand.at].drinks), 0
            case _:
                return {}, 0

    def _dearest(self) -> dict[int, int]:
        """What the dearest drink that is offered costs of its price."""
        spent = [WHOLE_SHARE - kept for kept in self.menu.keeps]
        worst = self.program.whole(min(0, *spent), max(0, *spent))
        for v, share in zip(self.offered, spent, strict=True):
            self.program.between({worst: 1, v: -share}, 0, None)
        return {worst: 1}

    # The rows.

    def _shares(self) -> None:
        program, nights = self.program, self.question.nights
        every = range(len(self.question.drinks))
        self.offered = [program.whole(0, 1) for _ in every]
        self.on = [[program.whole(0, 1) for _ in every] for _ in nights]
        program.choices += self.offered
        program.leads += self.offered
        program.switches += [v for night in self.on for v in night]
        for at, night in enumerate(nights):
            low = night.drinks if NightDemand(DemandKind.FORECAST) in self.kept else 0
            program.between(self.drinks(at), low, night.drinks)
        for at, drink in enumerate(self.question.drinks):
            self._stretch(at)
            for number in range(len(nights)):
                self._within_limits(at, drink, number)
            if NightDemand(DemandKind.SHARES) in self.kept:
                self._in_all(at, drink)
        self._who_is_on()
        for at, capacity in enumerate(self.menu.capacities):
            if NightDemand(DemandKind.CAPACITY, at) in self.kept:
                for number in range(len(nights)):
                    self._no_more_than(capacity, number)

    def _no_more_than(self, capacity: Capacity, night: int) -> None:
        """Of some drinks no more on a night than there may be, to the whole drink.

        Of a known number of drinks that is a whole number, as of shares.
        """
        served = {self.serves[night][each]: 1 for each in sorted(capacity.drinks)}
        most = capacity.most
        if NightDemand(DemandKind.FORECAST) in self.kept:
            drinks = self.question.nights[night].drinks
            most = min(most, _most_of(capacity.share, drinks))
        else:
            own = times(self.drinks(night), -capacity.share)
            part = plus(times(served, WHOLE_SHARE), own)
            self.program.between(part, None, WHOLE_SHARE - 1)
        self.program.between(served, None, most)

    def _stretch(self, drink: int) -> None:
        """It is offered where it is on some night, and comes onto the menu once."""
        on = [night[drink] for night in self.on]
        offered = self.offered[drink]
        for v in on:
            self.program.between({offered: 1, v: -1}, 0, None)
        self.program.between(plus(dict.fromkeys(on, 1), {offered: -1}), 0, None)
        drawn = [v for v, night in zip(on, self.question.nights, strict=True) if night.drinks]
        comes: dict[int, int] = {}
        for before, v in zip((None, *drawn), drawn, strict=False):
            came = self.program.whole(0, 1)
            there = {} if before is None else {before: 1}
            self.program.between(plus(there, {came: 1, v: -1}), 0, None)
            comes[came] = 1
        self.program.between(plus(comes, {offered: -1}), None, 0)

    def _within_limits(self, at: int, drink: NightDrink, night: int) -> None:
        """On a night on which it is on, within its limits to the whole drink; else no serve."""
        count = most = self.question.nights[night].drinks
        least = 1
        served, on = {self.serves[night][at]: 1}, self.on[night][at]
        if NightDemand(DemandKind.SHARES) in self.kept:
            most = _most_of(drink.high, count)
            if NightDemand(DemandKind.FORECAST) in self.kept:
                least = max(1, _at_least(drink, count))
            else:  # the night may have fewer drinks than were forecast: shares are of those
                low = plus(times(served, WHOLE_SHARE), times(self.drinks(night), -drink.low))
                room = drink.low * count
                self.program.between(plus(low, {on: -room}), 1 - WHOLE_SHARE - room, None)
                high = plus(times(served, WHOLE_SHARE), times(self.drinks(night), -drink.high))
                self.program.between(high, None, WHOLE_SHARE - 1)
        self.program.between(plus(served, {on: -least}), 0, None)
        self.program.between(plus(served, {on: -most}), None, 0)

    def _in_all(self, at: int, drink: NightDrink) -> None:
        """Over the nights on which it is on within its limits, to the whole drink; and never so few
        that nobody would print it."""
        nights = self.question.nights
        if NightDemand(DemandKind.FORECAST) not in self.kept:
            return
        total, offered = self.totals[at], self.offered[at]
        served = {total: WHOLE_SHARE, offered: WHOLE_SHARE - 1}
        own = {self.on[n][at]: -drink.low * night.drinks for n, night in enumerate(nights)}
        self.program.between(plus(served, own), 0, None)
        counts = [night.drinks for night in nights]
        self.program.between({total: 1, offered: -worth_a_line(drink, counts)}, 0, None)
        self.program.highs[total] = _most_of(drink.high, sum(counts))

    def _who_is_on(self) -> None:
        """Which drinks may be offered together."""
        menu, program = self.menu, self.program
        if NightDemand(DemandKind.MOST) in self.kept:
            program.between(dict.fromkeys(self.offered, 1), None, menu.most)
        for group in menu.either:
            program.between(self.offers(group), None, 1)
        for at, group in enumerate(menu.guests):
            if NightDemand(DemandKind.GUEST, at) in self.kept:
                for on, night in zip(self.on, self.question.nights, strict=True):
                    program.between(
                        {on[each]: 1 for each in sorted(group)}, bool(night.drinks), None
                    )
        for at in sorted(menu.fixed):
            if NightDemand(DemandKind.OFFERED, at) in self.kept:
                program.between({self.offered[at]: 1}, 1, None)
        if NightDemand(DemandKind.MARGIN) in self.kept:
            program.between(self.offers(menu.dear), None, 0)
        if NightDemand(DemandKind.FOR_TWO) in self.kept:
            self._nothing_for_one_alone()

    def _nothing_for_one_alone(self) -> None:
        """What is new is bought for two drinks at least: for each, only with one of the others."""
        users, known = users_of(self.question), known_to(self.question)
        for source, paid in zip(self.question.sources, self.bought, strict=True):
            if paid is not None and source.item not in known and not source.free:
                most = self.program.highs[paid]
                for each in users[source.item]:
                    others = times(self.offers(users[source.item] - {each}), -most)
                    self.program.between(plus(others, {paid: 1}), None, 0)


def _most_of(share: int, count: int) -> int:
    """The most serves that are a share of so many, to the whole drink."""
    return min(count, (share * count + WHOLE_SHARE - 1) // WHOLE_SHARE)


def _at_least(drink: NightDrink, count: int) -> int:
    """The fewest."""
    return drink.low * count // WHOLE_SHARE


def worth_a_line(drink: NightDrink, counts: Sequence[int]) -> int:
    """The fewest serves in all for which a drink is printed, of nights with so many drinks: half
    its least share of them all, or the most that one of the nights may have of it. Our own choice.
    """
    half = drink.low * sum(counts) // (2 * WHOLE_SHARE)
    return min(half, _most_of(drink.high, max(counts)))


def known_to(question: Nights) -> frozenset[int]:
    """Items that are there from the start or said to be known, or of which something is made that
    is: lemons are nothing new to a bar that has their juice."""
    known = frozenset[int]() if question.menu is None else question.menu.known
    there = known.union(lot.item for lot in question.lots)
    made_of = (set(s.takes) for s in question.sources if s.item in there)
    return frozenset(there.union(*made_of))


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
