"""What the bar has of an ingredient: its bottle and price, how much is left, and until when."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, timedelta

from solver.pantry.dated_batches import Lot
from solver.pantry.fruit import Fruit
from solver.pantry.ingredient import Ingredient
from solver.pantry.unit_price import UnitPrice

SAME_BOTTLES = 1.1e-4
"""Bottles; what is less than that beyond a whole one is rounding, as a shelf writes bottles."""
_CRUMB = 0.15
"""mL or g; what is less of a batch beside newer ones is rounding."""


@dataclass(frozen=True)
class Stocked:
    """One row of the shelf.

    `bottle` and `on_hand` are in the ingredient's own unit (mL, or g of what is weighed), `price`
    in the bar's currency for one bottle; None where the shelf does not say. `opened` is the day it
    was opened or made, `dated` the last day that somebody wrote on it; `newer` are batches among
    what is on hand that have dates of their own. `case` is how many bottles are bought together,
    and `supplier` from whom. `label` is the bar's own name for it, which its ingredient has too.
    `worked_out` is what one mL (or g) costs where the shelf has no price;
    `fruit` what a juice is pressed from when it is asked for, of which no row of the shelf tells.
    `in_fruit` is how much more than `on_hand` could be pressed of fruit that is there.
    Where `by_bottle`, one bottle is opened after the other, and `opened` is of what is left of one.
    `waits` is for how many days it has to stand before it is poured, as its recipe says.
    """

    ingredient: Ingredient
    bottle: float | None = None
    price: float | None = None
    on_hand: float | None = None
    line: int = 0
    opened: date | None = None
    note: str = ""
    dated: date | None = None
    case: int = 1
    supplier: str = ""
    newer: tuple[Lot, ...] = ()
    label: str = ""
    worked_out: UnitPrice | None = None
    fruit: Fruit | None = None
    in_fruit: float = 0.0
    by_bottle: bool = False
    waits: int = 0

    @property
    def lots(self) -> tuple[Stocked, ...]:
        """The batches that are there, each as a row of its own, the first to be poured first.

        Where less is on hand than they come to, it is the newest that are there. Of bottles that
        are opened one by one the open one and those that nobody has opened are two batches.
        """
        if not self.newer or self.on_hand is None:
            return self._open_and_sealed()
        left = self.on_hand
        found: list[Stocked] = []
        for lot in reversed(self.newer):
            amount = min(left, lot.amount)
            left -= amount
            if amount > _CRUMB or not found:
                found.append(self._only(replace(lot, amount=amount)))
        if left > _CRUMB:
            found.append(replace(self, on_hand=left, newer=()))
        return tuple(reversed(found))

    def _open_and_sealed(self) -> tuple[Stocked, ...]:
        sealed = self.sealed
        if not sealed or self.opened is None or self.on_hand is None:
            return (self,)
        still = replace(self, on_hand=self.on_hand - sealed)
        return (still, replace(self, on_hand=sealed, opened=None))

    @property
    def sealed(self) -> float:
        """What is in bottles that nobody has opened, where they are opened one by one; in the
        ingredient's own unit."""
        if not self.by_bottle or not self.bottle or not self.on_hand:
            return 0.0
        return max(0, self.closed_bottles) * self.bottle

    @property
    def closed_bottles(self) -> int:
        """How many of the bottles on hand are closed; 0 or less without any, or without a size."""
        if not self.bottle:
            return 0
        bottles = (self.on_hand or 0.0) / self.bottle
        # Where one is dated, that is the one that is poured from, though it may be full yet.
        if self.opened is None:
            return math.floor(bottles + SAME_BOTTLES)
        return math.ceil(bottles - SAME_BOTTLES) - 1

    def _only(self, lot: Lot) -> Stocked:
        return replace(self, on_hand=lot.amount, opened=lot.made, dated=lot.use_by, newer=())

    def like(self, other: Stocked) -> Stocked:
        """The row with what another of the same ingredient knows that stands in no cell."""
        same = (self.waits, self.by_bottle) == (other.waits, other.by_bottle)
        return self if same else replace(self, waits=other.waits, by_bottle=other.by_bottle)

    def good(self, today: date) -> Stocked | None:
        """The row without the batches of which the last day is over, or that are not ready yet;
        None where that is all of it."""
        return together(lot for lot in self.lots if not lot.past(today) and not lot.waiting(today))

    def has(self, amount: float) -> bool:
        """Whether so much is there, what can be pressed with it; true where nobody has counted."""
        return self.on_hand is None or amount <= self.on_hand + self.in_fruit

    @property
    def in_shell(self) -> bool:
        """Whether these are eggs in their shells: whole ones, not by the bottle."""
        piece = self.ingredient.piece
        if piece is None or not self.ingredient.is_kind("egg/whole"):
            return False
        number = (self.bottle or piece.value) / piece.value
        return math.isclose(number, round(number), rel_tol=1e-3)

    @property
    def life_days(self) -> float | None:
        """Days that it keeps once it is opened or made, eggs in their shells from being bought;
        None where nobody has said."""
        if not self.in_shell:
            return self.ingredient.life_days
        in_shell = self.ingredient.life_in_shell
        return in_shell.value if in_shell else None

    @property
    def use_by(self) -> date | None:
        """The last day to pour it: as dated, or opened and its days of life, whichever is first.

        None where nobody has said.
        """
        days = self.life_days
        lasts = None
        if self.opened is not None and days is not None:
            room = (date.max - self.opened).days
            lasts = self.opened + timedelta(days=min(int(days), room))
        return min((day for day in (self.dated, lasts) if day is not None), default=None)

    @property
    def ready(self) -> date | None:
        """The first day to pour it; None where nobody has said, and it may be poured."""
        if not self.waits or self.opened is None:
            return None
        return self.opened + timedelta(days=min(self.waits, (date.max - self.opened).days))

    def waiting(self, today: date) -> bool:
        """Whether it is not ready yet."""
        return self.on_hand != 0 and self.ready is not None and self.ready > today

    def past(self, today: date) -> bool:
        """Whether its last day is over."""
        return self.use_by is not None and self.use_by < today

    @property
    def price_per_unit(self) -> float | None:
        """Price of one mL (or g): by price and bottle, else as it was worked out; None if
        unknown."""
        if self.price is not None and self.bottle:
            return self.price / self.bottle
        return self.worked_out.price if self.worked_out else None


def together(lots: Iterable[Stocked]) -> Stocked | None:
    """Batches of one ingredient as one row, in their order; None for none."""
    found = [*lots]
    if len(found) < 2:
        return found[0] if found else None
    return replace(
        found[0],
        on_hand=math.fsum(lot.on_hand or 0.0 for lot in found),
        newer=tuple(Lot(lot.on_hand or 0.0, lot.opened, lot.dated) for lot in found[1:]),
    )


def in_order(stock: Iterable[Stocked]) -> tuple[Stocked, ...]:
    """Stock in the order in which ties are broken: the cheapest by the unit first, then by key.

    It does not depend on the order of the rows that somebody keeps in a file.
    """

    def rank(row: Stocked) -> tuple[float, str]:
        price = row.price_per_unit
        return (math.inf if price is None else price, row.ingredient.key)

    return tuple(sorted(stock, key=rank))
