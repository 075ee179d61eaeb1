"""Which amounts of a bottle fill a part, by the rules that are in force.

A rule that is lifted takes its bound away and adds nothing else, so that whatever may be poured
under it may be poured without it. Conflicts are found by dropping demands, and rest on that.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import chain

from solver.pantry.bar import Bar
from solver.pantry.profile import Part
from solver.pantry.shelf import Stocked
from solver.quantities import PourSpan

SAME_AMOUNT = 1e-9
"""Share by which two amounts differ that are the same pour: rounding only."""
WIDER = (0.5, 1.5)
"""Factors on the ends of a part's range where its pours are free."""

Amounts = tuple[float, ...]


@dataclass(frozen=True)
class Pourable:
    """The rules on single pours.

    `bars` differ in their pour set: what any of them measures will do. `loose` are the parts whose
    own range is widened. `wished` are all spans that were wished for of an ingredient, by its key:
    each of them makes room for itself beside the part's range. Those in `held` are also kept.
    No more than the stock is poured for `serves`; 0 asks nothing of the stock.
    """

    bars: tuple[Bar, ...]
    loose: frozenset[str]
    wished: Mapping[str, Sequence[PourSpan]]
    held: Mapping[str, Sequence[PourSpan]]
    serves: int

    def amounts(self, stocked: Stocked, part: Part, each: PourSpan) -> Amounts:
        """What may be poured of a bottle in a part with the range `each`, ascending."""
        if part.name in self.loose:
            each = replace(each, low=each.low * WIDER[0], high=each.high * WIDER[1])
        key = stocked.ingredient.key
        room = (each, *self.wished.get(key, ()))
        amounts = _together(self._measured(stocked, part, span) for span in room)
        for span in self.held.get(key, ()):
            amounts = _shared(amounts, self._measured(stocked, part, span))
        if stocked.on_hand is None:
            return amounts
        return tuple(a for a in amounts if a * self.serves <= stocked.on_hand)

    def _measured(self, stocked: Stocked, part: Part, span: PourSpan) -> Amounts:
        return _together(
            bar.pour_set.amounts_of(stocked.ingredient, span, bar.measures, part.tool)
            for bar in self.bars
        )


def _together(several: Iterable[Amounts]) -> Amounts:
    """Every amount once, ascending."""
    kept: list[float] = []
    for amount in sorted(chain.from_iterable(several)):
        if not kept or not _same(amount, kept[-1]):
            kept.append(amount)
    return tuple(kept)


def _shared(amounts: Amounts, others: Amounts) -> Amounts:
    """The amounts that are among others too."""
    return tuple(a for a in amounts if any(_same(a, other) for other in others))


def _same(one: float, other: float) -> bool:
    return abs(one - other) <= SAME_AMOUNT * max(abs(one), abs(other))
