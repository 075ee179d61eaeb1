"""A wish for a menu, as numbers and keys."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Final

from solver.pantry.avoidance import Avoidance
from solver.pantry.bar import Bar
from solver.pantry.fruit import fruit_by_juice
from solver.pantry.plan_file import Coming, PlanShare

MOST_ON: Final = 6
"""Drinks on a menu of specials: our own choice."""
USUAL_SOBER: Final = "20%"
"""What of a night's drinks is without alcohol at most: our own choice. Such drinks cost least, and
without it they would be most of what is poured."""
USUAL_SHARE: Final = "10..40%"
"""What of a night's drinks one of them is: our own choice, no drink is ordered by most guests."""

MOST_IN_QUESTION: Final = 3
"""Dated things for which new drinks are designed where nobody names any."""


@dataclass(frozen=True)
class MenuWish:
    """What a menu must fulfil.

    `coming` has the nights, what must be used up, the spending limit, and as its shares the drinks
    that must be on the menu (None: within `share`). `share` limits the share of one drink; `guests`
    is what each guest avoids who must find a drink; `price` is the price of every drink: then
    drinks below the bar's target margin are not offered. Drinks that are not in the book are
    designed if `new`, `of` named ingredients or else of dated ones. `sober` limits the drinks of a
    night without alcohol, in hundredths of a per cent. With `priced`, as with a price, drinks of
    unknown cost are not offered.
    """

    coming: Coming
    share: PlanShare
    most: int = MOST_ON
    guests: tuple[Avoidance, ...] = ()
    price: float | None = None
    new: bool = True
    of: tuple[str, ...] = ()
    sober: int = 2_000
    priced: bool = False

    @property
    def last(self) -> date:
        """The last night."""
        return max(day for day, _ in self.coming.nights)


def in_question(wish: MenuWish, bar: Bar) -> tuple[str, ...]:
    """Keys of the ingredients for new drinks: those named, and those to be used up.

    If there are none, dated ingredients, the house's own first, then by value. Whole fruit is
    replaced by its juice; juice that is pressed on demand is left out.
    """
    fruit = fruit_by_juice(bar.library)
    juices = {each.key: key for key, each in fruit.items()}
    named = [*wish.of, *(bar.bottles.find(name).key for name in wish.coming.use_up)]
    if named:
        return tuple(dict.fromkeys(juices.get(key, key) for key in named))
    dated = [
        (
            row.ingredient.key not in bar.house,
            -(row.price_per_unit or 0.0) * (row.on_hand or 0.0),
            row.ingredient.key,
        )
        for row in bar.stock
        if row.use_by is not None and row.use_by <= wish.last and row.on_hand
        if row.ingredient.key not in fruit
    ]
    return tuple(key for *_, key in sorted(dated)[:MOST_IN_QUESTION])
