"""The demands that a bar's words become for a profile, in words."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from solver.requests.asked_drink import AskedDrink
from solver.requests.demands import Demand, DemandKind
from solver.requests.origin import From, Origin


@dataclass(frozen=True)
class SaidWord:
    """What a word asks of a drink, in words; `without_band` are measures at which the profile does
    not aim, so that no half of a band can be asked."""

    name: str
    asks: tuple[str, ...]
    without_band: tuple[str, ...] = ()


def said_words(asked: AskedDrink) -> tuple[SaidWord, ...]:
    """What each word of a request asks."""
    found: list[SaidWord] = []
    for word in asked.request.words:
        own = [d for d in asked.demands if d.origin == Origin(From.WORD, word.name)]
        met = {demand.measure for demand in own}
        left = tuple(half.measure.label for half in word.halves if half.measure not in met)
        asks = dict.fromkeys(_says(demand, own, asked.bar.currency) for demand in own)
        found.append(SaidWord(word.name, tuple(asks), left))
    return tuple(found)


def _says(demand: Demand, others: Iterable[Demand], currency: str) -> str:
    """A demand on a measure; the two ends of a range as one."""
    measure = demand.measure
    if measure is None:
        return demand.says
    ends = {d.kind: d.bound for d in others if d.measure == measure}
    if len(ends) < 2:
        return demand.says
    least = measure.number(ends[DemandKind.LEAST])
    return f"{measure.label} {least}..{measure.amount(ends[DemandKind.MOST], currency)}"
