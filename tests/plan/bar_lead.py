"""Pours a plan of a bar bottle by bottle, as who leads it would: written without the product.

It knows what a bar lead knows: closed bottles on the shelf, what is open, the cases that come, how
many days a bottle keeps once it is open, and what the nights pour. A bottle is opened when those
that are open don't give enough, and thrown away when its days are over. No more bottles can be
opened than there are.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, timedelta

DROP = 0.05
"""mL that rounding to hundredths of a millilitre may come to."""


@dataclass
class Open:
    ml: float
    last: date


@dataclass
class Row:
    """A row of a shelf: bottles on hand (2.5 are two closed ones and half a one that is open), how
    many come in a case, and the days that one keeps once it is open. `use_by` is printed on the
    closed ones."""

    ml: float
    on_hand: float
    case: int = 1
    keeps: int | None = None
    use_by: date | None = None


@dataclass
class Bottles:
    """The bottles of one thing, from today on, with what is delivered."""

    row: Row
    cases: int
    today: date
    opened: list[Open] = field(default_factory=list)
    thrown: float = 0.0

    def __post_init__(self) -> None:
        self.closed = int(self.row.on_hand + 1e-9)
        self.delivered = self.cases * self.row.case
        rest = (self.row.on_hand - self.closed) * self.row.ml
        if rest > DROP:
            self.opened.append(Open(rest, self._last(self.today)))

    @property
    def left(self) -> float:
        whole = (self.closed + self.delivered) * self.row.ml
        return whole + sum(bottle.ml for bottle in self.opened)

    def pour(self, ml: float, day: date) -> float:
        """What is missing of a night's pours."""
        while ml > DROP:
            self.opened = [bottle for bottle in self.opened if bottle.ml > DROP]
            if not self.opened and not self._open(day):
                return ml
            bottle = min(self.opened, key=lambda each: each.last)
            out = min(bottle.ml, ml)
            bottle.ml -= out
            ml -= out
        return 0.0

    def close(self, day: date) -> None:
        """What is over today is thrown away after the night."""
        self.thrown += sum(bottle.ml for bottle in self.opened if bottle.last <= day)
        self.opened = [bottle for bottle in self.opened if bottle.last > day]
        if self.row.use_by is not None and self.row.use_by <= day:
            self.thrown += self.closed * self.row.ml
            self.closed = 0

    def _open(self, day: date) -> bool:
        if self.closed:
            self.closed -= 1
            last = min(self._last(day), self.row.use_by or date.max)
        elif self.delivered:
            self.delivered -= 1
            last = self._last(day)
        else:
            return False
        self.opened.append(Open(self.row.ml, last))
        return True

    def _last(self, day: date) -> date:
        return date.max if self.row.keeps is None else day + timedelta(days=self.row.keeps)


def through(row: Row, cases: int, today: date, pours: dict[date, float]) -> tuple[Bottles, float]:
    """The bottles after the last night, and what was missing of all that was to be poured."""
    bottles = Bottles(row, cases, today)
    missing = 0.0
    for number in range((max(pours) - today).days + 1):
        day = today + timedelta(days=number)
        missing += bottles.pour(pours.get(day, 0.0), day)
        bottles.close(day)
    return bottles, missing
