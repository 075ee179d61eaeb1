"""Lots of an item that come and go, and whether they do so first in, first out."""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence
from dataclasses import dataclass


@dataclass(frozen=True)
class ComingLot:
    """A lot of an item, there from its first day to its last (None: past the end of the plan).

    Its ticks are a linear expression: `terms` plus `constant`.
    """

    first: int
    last: int | None
    terms: Mapping[int, int]
    constant: int

    def lasts_to(self, day: int) -> bool:
        """Whether it may still be poured on a day."""
        return self.last is None or self.last >= day


def last_before_more(lots: Sequence[ComingLot], day: int, days: int) -> bool:
    """Whether a day is the last before a lot comes, or of the plan.

    Rows on what was poured so far are needed for such days alone: any other day's is implied by a
    later one's.
    """
    return day + 1 == days or any(lot.first == day + 1 for lot in lots)


def in_turn(lots: Sequence[ComingLot]) -> bool:
    """Whether no lot lasts longer than one that comes later: first expired, first out is then first
    in, first out."""
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
