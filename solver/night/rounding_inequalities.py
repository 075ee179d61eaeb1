"""What whole units mean for an item, said in rows that a relaxation cannot get round.

A relaxation opens a fifth of a batch on every day. The rows here hold for whole units only; they
are those of lot sizing by batches (Pochet and Wolsey, Production Planning by Mixed Integer
Programming, 2006), for what perishes. `least` and `most` are the ticks of an item that may be
poured on each day; only lots whose units all have one size are spoken of.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from solver.night.coming_lots import ComingLot

IN_A_ROW: Final = 3
"""Days in a row that are looked at together: longer runs hold little more, and are many."""
MANY: Final = 2
"""Where so many units may be needed at once, a part of one makes little difference."""


def fewest(
    least: Sequence[int], lots: Sequence[ComingLot]
) -> Iterator[tuple[Mapping[int, int], int]]:
    """How many whole units the least that is poured on a few days in a row needs: sum and least.

    What is poured on those days is of lots that are there on one of them: a batch that keeps two
    days is cooked every third day however little of it is poured. (Integer rounding of cut-set
    inequalities.)
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
    """What can be poured on a day of the units that are there: day, sum and constant.

    All of a day is poured of one unit, or of none: so a part of a unit counts as that part of what
    the day may need, and not of its size. With `missing` = whole · size + rest, no more is poured
    than constant + whole · (size - rest) + rest · units: with `whole` units or fewer because each
    gives its size and rest <= size, with more because that is all the day may need. (Mixed-integer
    rounding; for whole = 0 the inequalities of Barany, Van Roy and Wolsey, 1984.)
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
        if rest and whole <= MANY:
            units = dict.fromkeys((v for lot in there for v in lot.terms), rest)
            yield day, units, constant + whole * (size - rest)


def wasted(
    most: Sequence[int], lots: Sequence[ComingLot]
) -> Iterator[tuple[int, Mapping[int, int], int]]:
    """What spoils at least of the units that come on a day: the day they spoil, sum and constant.

    What may be poured as long as they last needs `whole` units and a `rest`: of each unit more than
    `whole`, size - rest spoils (mixed-integer rounding).
    """
    for lot in lots:
        if lot.last is None or not lot.terms:
            continue
        (size,) = set(lot.terms.values())
        whole, rest = divmod(sum(most[lot.first : lot.last + 1]), size)
        if whole <= MANY:
            units = dict.fromkeys(lot.terms, size - rest)
            yield lot.last, units, -whole * (size - rest)
