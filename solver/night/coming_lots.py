"""In which order some of an item comes and goes."""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence
from dataclasses import dataclass


@dataclass(frozen=True)
class ComingLot:
    """Some of an item that is there from its first day to its last (None: past the plan).

    How much is the sum of `terms`, and `constant`.
    """

    first: int
    last: int | None
    terms: Mapping[int, int]
    constant: int

    def lasts_to(self, day: int) -> bool:
        """Whether it may still be poured on a day."""
        return self.last is None or self.last >= day


def last_before_more(lots: Sequence[ComingLot], day: int, days: int) -> bool:
    """Whether more comes on the next day, or none does: of all other days a later one asks more."""
    return day + 1 == days or any(lot.first == day + 1 for lot in lots)


def in_turn(lots: Sequence[ComingLot]) -> bool:
    """Whether what comes earlier never lasts longer: then it goes in the order in which it came."""
    never = float("inf")
    latest = -1.0
    for _, group in itertools.groupby(
        sorted(lots, key=lambda lot: lot.first), lambda lot: lot.first
    ):
        lasts = [never if lot.last is None else lot.last for lot in group]
        if min(lasts) < latest:
            return False
        latest = max(latest, *lasts)
    return True
