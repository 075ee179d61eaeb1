"""The demands on a run of nights; each can be dropped."""

from __future__ import annotations

import enum
from dataclasses import dataclass

from solver.night.problem import WHOLE_SHARE, Nights


@enum.unique
class NightDemandKind(enum.Enum):
    """What a demand is about."""

    DRINKS = "drinks"
    """A night's guests get their drinks; `at` is its position."""
    AT_LEAST = "at least"
    """A drink's least share; `at` is its position."""
    AT_MOST = "at most"
    USE_UP = "use up"
    """`at` is its position in `Nights.use_up`."""
    SPEND = "spend"
    FORECAST = "forecast"
    """Of a menu: all nights' guests get their drinks."""
    SHARES = "shares"
    """Every drink of a menu is within its limits."""
    MOST = "most"
    """A menu has no more drinks than it may."""
    OFFERED = "offered"
    """A drink is on the menu; `at` is its position."""
    GUEST = "guest"
    """`at` is its position in `MenuRules.guests`."""
    MARGIN = "margin"
    CAPACITY = "capacity"
    """`at` is its position in `capacities`, of the nights or of their menu."""
    FOR_TWO = "for two"


@dataclass(frozen=True)
class NightDemand:
    """One thing that a plan must keep."""

    kind: NightDemandKind
    at: int = 0


def demands(question: Nights) -> tuple[NightDemand, ...]:
    """The demands of a question, in falling order of what matters to a bar."""
    found = [NightDemand(NightDemandKind.DRINKS, at) for at in range(len(question.nights))]
    if question.spend is not None:
        found.append(NightDemand(NightDemandKind.SPEND))
    found += [NightDemand(NightDemandKind.USE_UP, at) for at in range(len(question.use_up))]
    found += [NightDemand(NightDemandKind.CAPACITY, at) for at in range(len(question.capacities))]
    for at, drink in enumerate(question.drinks):
        if drink.low > 0:
            found.append(NightDemand(NightDemandKind.AT_LEAST, at))
        if drink.high < WHOLE_SHARE:
            found.append(NightDemand(NightDemandKind.AT_MOST, at))
    return tuple(found)
