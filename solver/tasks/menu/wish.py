"""What is asked of a menu, as numbers and keys."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from solver.errors import BadInput, Where
from solver.pantry.avoidance import Avoidance
from solver.pantry.bar import Bar
from solver.pantry.fruit import fruit_by_juice
from solver.pantry.plan_file import MOST_DRINKS, Coming, Share, read_share, read_use_up
from solver.printable import short
from solver.tasks.plan.question import MOST_DAYS

MOST_ON: Final = 6
"""Drinks on a menu of specials: our own choice."""
USUAL_SHARE: Final = "10..40%"
"""What of a night's drinks one of them is: our own choice, no drink is ordered by most guests."""


@dataclass(frozen=True)
class MenuWish:
    """What a menu must give.

    `coming` has the nights, what must be gone, what may be spent, and as its shares the drinks that
    are on the menu whatever else is (None: within `share`). `share` is what of the drinks one may
    be, `guests` what each guest avoids who must find a drink, `price` what every drink is sold at:
    with one no drink is offered that keeps less of it than the bar's target.
    """

    coming: Coming
    share: Share
    most: int = MOST_ON
    guests: tuple[Avoidance, ...] = ()
    price: float | None = None
    new: bool = True

    @property
    def last(self) -> date:
        """The last night."""
        return max(day for day, _ in self.coming.nights)


def spread(count: int, days: Sequence[date]) -> tuple[tuple[date, int], ...]:
    """So many drinks on some nights, as many on each as on any other, the first ones more.

    Raises:
        BadInput: there are fewer drinks than nights.
    """
    nights = sorted(dict.fromkeys(days))
    each, more = divmod(count, len(nights))
    if not each or each > MOST_DRINKS:
        what = (
            f"{count} drinks are {'fewer' if not each else 'more'} than {len(nights)} nights have"
        )
        raise BadInput(what, where=Where("--forecast"))
    return tuple((day, each + (at < more)) for at, day in enumerate(nights))


def every_night(until: date, bar: Bar) -> tuple[date, ...]:
    """From today on.

    Raises:
        BadInput: the day is over, or too far away.
    """
    days = (until - bar.today).days
    if days < 0:
        raise BadInput(f"{until} is over", where=Where("--until"), why=f"today is {bar.today}")
    if days >= MOST_DAYS:
        remedy = f"Plan {MOST_DAYS} days at most."
        raise BadInput(f"{until} is too far away", where=Where("--until"), remedy=remedy)
    return tuple(bar.today + timedelta(days=day) for day in range(days + 1))


def read_gone(text: str, last: date, bar: Bar) -> tuple[str, date]:
    """What must be gone and by when: NAME=DATE, or NAME for its own last day or the last night.

    Raises:
        BadInput: it can't be read, or is not known.
    """
    if "=" in text:
        return read_use_up(text)
    key = bar.bottles.find(text).key
    row = bar.stocked(key)
    day = row.use_by if row is not None else None
    return key, last if day is None else min(day, last)


def read_limits(text: str) -> Share:
    """What of the drinks one may be.

    Raises:
        BadInput: it can't be read, or it is nothing.
    """
    share = read_share(text)
    if share is None or not share.high:
        what = f"'{short(text)}' is no share that a drink could have"
        raise BadInput(what, where=Where("--share"), remedy="Write it like 10..40%.")
    return share


def in_question(wish: MenuWish, bar: Bar) -> tuple[str, ...]:
    """Keys of what new drinks are to be made of: what must be gone, or the house's own dated things
    and then others, of most worth; of whole fruit its juice, and no juice that is pressed by need.
    """
    fruit = fruit_by_juice(bar.library)
    juices = {each.key: key for key, each in fruit.items()}
    named = [bar.bottles.find(name).key for name in wish.coming.use_up]
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


MOST_IN_QUESTION: Final = 3
"""Dated things for which new drinks are designed where nobody names any."""
