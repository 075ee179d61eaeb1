"""Valid inequalities for whole units of an item, which tighten the linear relaxation.

They are those of lot sizing in batches (Pochet and Wolsey, Production Planning by Mixed Integer
Programming, 2006), for items that perish. `least` and `most` are bounds on the ticks poured on each
day. Days on which lots have units of several sizes are left out.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from solver.night.coming_lots import ComingLot

IN_A_ROW: Final = 3
"""Consecutive days of an inequality, at most: longer runs add little, and are many."""
MANY_UNITS: Final = 2
"""If more units may be needed at once, rounding adds little."""


def fewest(
    least: Sequence[int], lots: Sequence[ComingLot]
) -> Iterator[tuple[Mapping[int, int], int]]:
    """Yield (units, least): the whole units needed for the least that is poured on some days.

    Only lots that can be poured on one of the consecutive days count, so that a batch which keeps
    two days is cooked every third day, however little is poured (integer rounding of cut-set
    inequalities).
    """
    for first in range(len(least)):
        for last in range(first, min(first + IN_A_ROW, len(least))):
            there = [lot for lot in lots if lot.first <= last and lot.lasts_to(first)]
            missing = sum(least[first : last + 1]) - sum(lot.constant for lot in there)
            sizes = {size for lot in there for size in lot.terms.values()}
            if missing > 0 and len(sizes) == 1:
                units = dict.fromkeys((v for lot in there for v in lot.terms), 1)
                yield units, -(-missing // sizes.pop())


def poured_of_units(
    most: Sequence[int], lots: Sequence[ComingLot]
) -> Iterator[tuple[int, Mapping[int, int], int]]:
    """Yield (day, units, constant): poured on the day <= units + constant.

    A part of a unit counts as that part of what the day may need, and not of its size. With
    `missing` = whole · size + rest, no more is poured than constant + whole · (size - rest) + rest
    · units: with `whole` units or fewer because each gives its size and rest <= size, with more
    because that is all the day may need. (Mixed-integer rounding; for whole = 0 the inequalities of
    Barany, Van Roy and Wolsey, 1984.)
    """
    for day, need in enumerate(most):
        there = [lot for lot in lots if lot.first <= day and lot.lasts_to(day)]
        constant = sum(lot.constant for lot in there)
        missing = need - constant
        sizes = {size for lot in there for size in lot.terms.values()}
        if missing <= 0 or len(sizes) != 1:
            continue
        size = sizes.pop()
        whole, rest = divmod(missing, size)
        if rest and whole <= MANY_UNITS:
            units = dict.fromkeys((v for lot in there for v in lot.terms), rest)
            yield day, units, constant + whole * (size - rest)


def wasted(
    most: Sequence[int], lots: Sequence[ComingLot]
) -> Iterator[tuple[int, Mapping[int, int], int]]:
    """Yield (last, units, constant): spoiled on the day `last` >= units + constant.

    What can be poured of a lot while it lasts is `whole` units and a `rest`; of each unit beyond
    `whole`, at least size - rest spoils (mixed-integer rounding).
    """
    for lot in lots:
        if lot.last is None or not lot.terms:
            continue
        (size,) = set(lot.terms.values())
        whole, rest = divmod(sum(most[lot.first : lot.last + 1]), size)
        if whole <= MANY_UNITS:
            units = dict.fromkeys(lot.terms, size - rest)
            yield lot.last, units, -whole * (size - rest)
