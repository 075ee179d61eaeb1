"""A run of nights as numbers: stock, sources, drinks, demands.

Days are counted from 0, the day on which the plan is made. Amounts are whole *ticks*, hundredths of
a millilitre or of a gram: consumption is rounded up and stock down, so that no plan relies on a
drop that may be missing. Shares are in hundredths of a per cent.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

WHOLE_SHARE = 10_000
"""All of a night's drinks, in the unit of shares."""


@dataclass(frozen=True)
class NightLot:
    """Stock of an item that is there from the start.

    `last` is the last day on which it may be poured; None if that is beyond the plan. `first` is
    the first one, of what has to stand until then; it may be beyond the plan, and is no later than
    the last.
    """

    item: int
    amount: int
    last: int | None = None
    first: int = 0


@dataclass(frozen=True)
class Source:
    """A way to get more of an item in whole units: open a bottle, cook a batch, press a lime.

    A unit is ready on one of `days` and may be poured on that day and `keeps` days more (None: past
    the end of the plan). The first `free` units cost nothing, as full bottles on the shelf do;
    further ones come in cases of `case` units, of which each costs `cost`; more than `most` units
    are never got ready. It `takes` ticks of other items `lead` days before it is ready. Units made
    `at_once` are for their own day: no more are than are taken on it. Units of a source `beside`
    another, given by its position, are a by-product: on each day no more than there are of that.
    """

    item: int
    size: int
    days: tuple[int, ...]
    most: int
    keeps: int | None = None
    free: int = 0
    cost: int = 0
    takes: Mapping[int, int] = field(default_factory=dict)
    lead: int = 0
    case: int = 1
    at_once: bool = False
    beside: int | None = None

    def last(self, day: int, days: int) -> int | None:
        """The last day of a unit that is ready on `day`; None if beyond a plan of `days` days."""
        if self.keeps is None or day + self.keeps >= days:
            return None
        return day + self.keeps

    def cases(self, units: int) -> int:
        """The cases to pay for if so many units are got ready."""
        return max(0, -((self.free - units) // self.case))

    def unopened(self, units: int) -> int:
        """Units, free or paid for, that remain if so many are got ready."""
        return self.free + self.cases(units) * self.case - units


@dataclass(frozen=True)
class NightDrink:
    """A drink: ticks of each item in a serve, and its share of all drinks.

    `low` and `high` are limits, to the whole drink; `wish` is the share that the plan comes as near
    to as possible.
    """

    takes: Mapping[int, int]
    low: int
    high: int
    wish: int


@dataclass(frozen=True)
class Night:
    """A day with guests, and its number of drinks."""

    day: int
    drinks: int


@dataclass(frozen=True)
class UseUp:
    """A demand: by the end of a day at most `within` ticks of an item are left or have spoiled."""

    item: int
    day: int
    within: int


@dataclass(frozen=True)
class Capacity:
    """No night has more than `most` of some drinks (positions in `Nights.drinks`), nor a larger
    `share` of them, to the whole drink."""

    drinks: frozenset[int]
    most: int
    share: int = WHOLE_SHARE


@dataclass(frozen=True)
class MenuRules:
    """Rules for choosing the drinks on offer; drinks are positions in `Nights.drinks`.

    A drink is on the menu of a night if it is poured then, within its limits, and on every night
    with drinks between its first and its last. At most `most` are offered; of each group of
    `either` at most one; on each night at least one of each of `guests`; and all that are `fixed`.
    `costs` is the cost of a serve, in the unit of `Source.cost`, and `keeps` the share of its price
    that remains: drinks below `margin` are not offered. With `for_two`, an item that is not in
    stock and not `known` is bought only if at least two of the drinks on offer take it. `kinds` are
    groups of similar drinks; they may overlap.
    """

    most: int
    costs: Sequence[int]
    keeps: Sequence[int]
    margin: int | None = None
    fixed: frozenset[int] = frozenset()
    either: Sequence[frozenset[int]] = ()
    guests: Sequence[frozenset[int]] = ()
    capacities: Sequence[Capacity] = ()
    kinds: Sequence[frozenset[int]] = ()
    for_two: bool = False
    known: frozenset[int] = frozenset()

    @property
    def dear(self) -> frozenset[int]:
        """Drinks below the margin."""
        if self.margin is None:
            return frozenset()
        return frozenset(at for at, kept in enumerate(self.keeps) if kept < self.margin)


@dataclass(frozen=True)
class Nights:
    """The whole question.

    `days` is the number of days; `values` the value of a tick of each item if it spoils; `spend` an
    upper limit on spending, None for none. Spoilage is counted in whole `worth_unit`, rounded up
    for each item, one of which is worth `worth_costs` in the unit of `Source.cost`; `cost_within`
    is a negligible difference of cost. With a `menu`, drinks need not be offered, and limits on
    shares hold for those that are; it has the `capacities` of its nights.
    """

    days: int
    values: Sequence[int]
    lots: Sequence[NightLot]
    sources: Sequence[Source]
    drinks: Sequence[NightDrink]
    nights: Sequence[Night]
    use_up: Sequence[UseUp] = ()
    spend: int | None = None
    worth_unit: int = 1
    worth_costs: int = 1
    cost_within: int = 0
    capacities: Sequence[Capacity] = ()
    menu: MenuRules | None = None


@dataclass(frozen=True)
class PlanValues:
    """A plan: serves by night and drink, units by source and the day they are ready."""

    serves: tuple[tuple[int, ...], ...]
    units: tuple[Mapping[int, int], ...]

    def bought(self, question: Nights) -> tuple[int, ...]:
        """Cases of each source that have to be paid for."""
        return tuple(
            source.cases(sum(ready.values()))
            for ready, source in zip(self.units, question.sources, strict=True)
        )
