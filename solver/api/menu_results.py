"""What a menu comes back with: `equipour menu --json`, format 1, as types."""

from __future__ import annotations

import datetime
from typing import Literal

from pydantic import Field

from solver.api.plan_results import Ending, Order, Stage, WayOut
from solver.api.shared_fields import Fields, ForGuest


class Poured(Fields):
    """A pour of a drink on a menu: `ml`, or `g` of what is weighed; `amount` as the bar says it."""

    ingredient: str
    amount: str
    ml: float | None = None
    g: float | None = None


class Used(Fields):
    """What all serves of a drink take of something dated: `ml`, or `g` of what is weighed."""

    ingredient: str
    ml: float | None = None
    g: float | None = None


class OnANight(Fields):
    """How many serves there are on a night."""

    date: datetime.date
    serves: int


class Offer(ForGuest):
    """A drink on a menu; `new` ones are not in the book.

    `suits` are the words of the guests it is for, of those that were asked about.
    """

    spec: str
    new: bool
    profile: str | None
    serves: int
    nights: list[OnANight]
    price: float | None
    cost: float | None
    margin_pct: float | None
    technique: str
    glass: str | None
    pours: list[Poured]
    uses: list[Used]
    suits: list[str]


class Without(Fields):
    """What would change without a demand, in the bar's currency; None where it is not known.

    What is lost is what is bought and what spoils together; where waste comes first, it is what
    spoils that is told.
    """

    without: str
    lost_change: float | None
    spoils_change: float | None
    pouring_change: float | None


class Nearly(Fields):
    """A drink of the book that nearly does for a guest who finds none, and what is against it."""

    guest: str
    spec: str
    reasons: list[str]


class Misread(Fields):
    """A spec with a mistake."""

    file: str
    says: str


class AskedForInNone(Fields):
    """What new drinks were asked for of, and no drink takes; `ready` if it has to stand first."""

    ingredient: str
    ready: datetime.date | None


class Menu(Fields):
    """What to offer, or why there is no such menu; sums are in `currency`.

    `older_batches`, `batches_set_aside` and `batches_of_no_spec` are as in a plan.
    """

    status: Literal["chosen", "not proven", "impossible", "stopped"]
    menu: list[Offer] = Field(default_factory=list)
    older_batches: list[str] = Field(default_factory=list)
    batches_set_aside: list[str] = Field(default_factory=list)
    batches_of_no_spec: list[str] = Field(default_factory=list)
    order: list[Order] = Field(default_factory=list)
    order_cost: float | None = None
    pouring_cost: float | None = None
    spoils: list[Ending] = Field(default_factory=list)
    dated_after: list[Ending] = Field(default_factory=list)
    poured_by_none: list[str] = Field(default_factory=list)
    asked_for_in_none: list[AskedForInNone] = Field(default_factory=list)
    below_margin: list[str] = Field(default_factory=list)
    counted_without_price: list[str] = Field(default_factory=list)
    held_back: list[Without] | None = None
    designing_cut: bool | None = None
    proof: list[Stage] = Field(default_factory=list)
    conflict: list[str] = Field(default_factory=list)
    other_conflicts: int | None = None
    ways_out: list[WayOut] = Field(default_factory=list)
    complete: bool | None = None
    in_the_way: list[str] = Field(default_factory=list)
    nearly: list[Nearly] = Field(default_factory=list)
    compared: int
    designed: int
    misread: list[Misread]
    currency: str
    seconds: float
