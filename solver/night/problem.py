"""A run of nights as numbers: what is there, what can be got, what is poured.

Days are counted from 0, the day on which the plan is made. Amounts are whole *ticks*, hundredths of
a millilitre or of a gram: whoever fills this in rounds what is poured up, and what is there down,
so that no plan promises a drop that may be missing. Shares are in hundredths of a per cent.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

WHOLE_SHARE = 10_000
"""All of a night's drinks, in the unit of shares."""


@dataclass(frozen=True)
class NightLot:
    """Some of an item that is there from the start.

    `last` is the last day on which it may be poured; None for one that the plan does not reach.
    """

    item: int
    amount: int
    last: int | None = None


@dataclass(frozen=True)
class Source:
    """A way to have more of an item: a bottle opened, a batch cooked, a lime pressed, all whole.

    A unit is ready on one of `days` and may be poured on that day and `keeps` days more (None: past
    the end of the plan). The first `free` units cost nothing, as full bottles on the shelf do;
    further ones come in cases of `case` units, of which each costs `cost`; more than `most` units
    are never got ready. It `takes` ticks of other items `lead` days before it is ready.
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

    def last(self, day: int, days: int) -> int | None:
        """The last day of a unit that is ready on `day`; None past a plan of `days` days."""
        if self.keeps is None or day + self.keeps >= days:
            return None
        return day + self.keeps

    def cases(self, units: int) -> int:
        """The cases that are paid for where so many units are got ready."""
        return max(0, -((self.free - units) // self.case))

    def unopened(self, units: int) -> int:
        """Units that are there, free or paid for, and are not among so many that are got ready."""
        return self.free + self.cases(units) * self.case - units


@dataclass(frozen=True)
class NightDrink:
    """A drink: ticks of each item that one serve takes, and the share of the drinks that it may be.

    `low` and `high` are limits, to the whole drink; the plan comes as near to `wish` as it can.
    """

    takes: Mapping[int, int]
    low: int
    high: int
    wish: int


@dataclass(frozen=True)
class Night:
    """A day with guests, and how many drinks they have."""

    day: int
    drinks: int


@dataclass(frozen=True)
class UseUp:
    """At the end of a day no more than `within` ticks of an item may be left, or have spoiled."""

    item: int
    day: int
    within: int


@dataclass(frozen=True)
class Capacity:
    """No night has more than `most` of some drinks (positions in `Nights.drinks`), nor more of them
    than a `share` of its own, to the whole drink."""

    drinks: frozenset[int]
    most: int
    share: int = WHOLE_SHARE


@dataclass(frozen=True)
class MenuRules:
    """What of the drinks is offered is to be chosen; drinks are positions in `Nights.drinks`.

    A drink is on the menu of a night where it is poured then, within its limits, and from its first
    night to its last on each that has drinks. At most `most` are offered at all, of each group of
    `either` no more than one, on each night at least one of each of `guests`, and all that are
    `fixed`. `costs` is what a serve costs, in the unit of `Source.cost`, and `keeps`
    what of its price is left then, as a share: less than `margin` is not offered. With `for_two`
    nothing is bought for one drink alone that is not there yet. `kinds` are groups of drinks that
    somebody would call much alike; a drink may be of several.
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

    @property
    def dear(self) -> frozenset[int]:
        """Drinks of which less is left than the margin."""
        if self.margin is None:
            return frozenset()
        return frozenset(at for at, kept in enumerate(self.keeps) if kept < self.margin)


@dataclass(frozen=True)
class Nights:
    """The whole question.

    `days` is how many days there are; `values` what a tick of each item is worth that spoils;
    `spend` the most that may be spent (None: any). What spoils is counted in whole `worth_unit`,
    rounded up for each thing, and one of it is worth `worth_costs` in the unit of `Source.cost`;
    `cost_within` is a difference in cost that nobody cares for. With a
    `menu` not every drink need be offered, and limits of shares hold for those that are.
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
    menu: MenuRules | None = None


@dataclass(frozen=True)
class PlanValues:
    """What to do: serves by night and drink, units by source and day that they are ready."""

    serves: tuple[tuple[int, ...], ...]
    units: tuple[Mapping[int, int], ...]

    def bought(self, question: Nights) -> tuple[int, ...]:
        """Cases of each source that have to be paid for."""
        return tuple(
            source.cases(sum(ready.values()))
            for ready, source in zip(self.units, question.sources, strict=True)
        )
