"""In which order some of an item comes and goes."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

IN_A_ROW: Final = 3
"""Days in a row that are looked at together: longer runs hold little more, and are many."""


@dataclass(frozen=True)
class ComingServes:
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


def last_before_more(lots: Sequence[ComingServes], day: int, days: int) -> bool:
    """Whether more comes on the next day, or none does: of all other days a later one asks more."""
    return day + 1 == days or any(lot.first == day + 1 for lot in lots)


def fewest(
    least: Sequence[int], lots: Sequence[ComingServes]
) -> Iterator[tuple[Mapping[int, int], int]]:
    """How many whole units the least that is poured on a few days in a row needs: sum and least.

    What is poured on those days is of lots that are there on one of them. Rounding up to whole
    units is what a relaxation does not know: a batch that keeps two days is cooked every third day
    however little of it is poured. (Integer rounding of the cut-set inequalities of lot sizing;
    Pochet and Wolsey, Production Planning by Mixed Integer Programming, 2006.)
    """
    for first in range(len(least)):
        for last in range(first, min(first + IN_A_ROW, len(least))):
            there = [lot for lot in lots if lot.first <= last and lot.lasts_to(first)]
            missing = sum(least[first : last + 1]) - sum(lot.constant for lot in there)
            sizes = {size for lot in there for size in lot.terms.values()}
            if missing > 0 and len(sizes) == 1:
                units = dict.fromkeys((v for lot in there for v in lot.terms), 1)
                yield units, -(-missing // sizes.pop())


def in_turn(lots: Sequence[ComingServes]) -> bool:
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
