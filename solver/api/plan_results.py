"""What a plan of nights comes back with."""

from __future__ import annotations

import datetime
from typing import Literal

from pydantic import Field

from solver.api.shared_fields import Fields, ForGuest


class Serves(Fields):
    """How many of a drink are poured on a night, and how many of them from what stands mixed."""

    spec: str
    serves: int
    from_batch: int


class GarnishCount(Fields):
    """How many of a garnish a night takes."""

    garnish: str
    count: int


class Night(Fields):
    """A night: what is poured, and what it takes beside."""

    date: datetime.date
    drinks: list[Serves]
    ice_kg: float
    garnishes: list[GarnishCount]


class Weighed(Fields):
    """An input of what is cooked."""

    name: str
    grams: float


class VesselUse(Fields):
    """The vessel that something is made in, in so many makes; `after` what else has it before.

    Unless it `fits`, no vessel is free for so long.
    """

    name: str
    volume_ml: float
    makes: int
    after: str | None
    fits: bool


class WashFirst(Fields):
    """What was in the vessel before, and its allergens that do not belong into what comes next."""

    after: str
    allergens: list[str]


class PouredTold(ForGuest):
    """A drink of the plan, and what a guest must be told of it."""

    spec: str


class Job(Fields):
    """Something to prepare; `start_by` None where nobody says how long it takes.

    `allergens` and `animal` are None where not all of it is known.
    """

    ingredient: str
    how: str
    units: int
    of_the_same_eggs: int
    amount: float
    unit: str
    start_by: datetime.datetime | None
    hours: float | None
    hours_stated: bool
    ready: datetime.date
    use_by: datetime.date | None
    weigh_out: list[Weighed]
    vessel: VesselUse | None
    allergens: list[str] | None
    may_contain: list[str]
    animal: list[str] | None
    may_animal: list[str]
    declare: list[str]
    may_hold_alcohol: list[str]
    cautions: list[str]
    wash_first: WashFirst | None


class Order(Fields):
    """Something to buy: units of so much each, in cases where the shelf says so."""

    ingredient: str
    units: int
    unit_holds: float
    unit: str
    bottles_in_a_case: int
    supplier: str
    cost: float | None
    left_after: float


class Special(Fields):
    """A drink that would use something up."""

    spec: str
    serves: int
    in_plan: bool


class Ending(Fields):
    """Something that will be past its last day, and what would save it."""

    ingredient: str
    last_day: datetime.date
    amount: float
    unit: str
    worth: float | None
    open_bottle: bool
    specials: list[Special]
    design: str | None


class Level(Fields):
    """What is there when a day ends."""

    date: datetime.date
    amount: float


class Course(Fields):
    """What is there of an ingredient over the days."""

    ingredient: str
    unit: str
    at_end_of_day: list[Level]


class Stage(Fields):
    """What was minimised in its turn, and how far that is proven."""

    aim: str
    value: int
    bound: int
    proven: bool
    gap_pct: float


class WayOut(Fields):
    """Demands without which there is a plan, and how near one comes to keeping them."""

    without: list[str]
    nearest: str


class SecondSolver(Fields):
    """What another solver made of the same question."""

    verdict: Literal["agrees", "disagrees", "open"]
    says: str


class Plan(Fields):
    """A plan of nights, with its proof; or which demands cannot hold together.

    `nights` and all that belongs to them are there where `status` is "planned" or "not proven",
    `conflict` and its company where it is "impossible". `older_batches` were mixed by other recipes
    than their specs are now; `batches_set_aside` by such that are another drink to a guest, and are
    not poured; nor are `batches_of_no_spec`. `not_in_order` is what garnishes take, in words, and
    nobody counts; `undated_eggs` are taken as bought today.
    """

    status: Literal["planned", "not proven", "impossible", "stopped"]
    name: str | None = None
    nights: list[Night] = Field(default_factory=list)
    older_batches: list[str] = Field(default_factory=list)
    batches_set_aside: list[str] = Field(default_factory=list)
    batches_of_no_spec: list[str] = Field(default_factory=list)
    for_guests: list[PouredTold] = Field(default_factory=list)
    prepare: list[Job] = Field(default_factory=list)
    order: list[Order] = Field(default_factory=list)
    order_cost: float | None = None
    not_in_order: list[str] = Field(default_factory=list)
    undated_eggs: list[str] = Field(default_factory=list)
    counted_without_price: list[str] = Field(default_factory=list)
    spoils: list[Ending] = Field(default_factory=list)
    dated_after: list[Ending] = Field(default_factory=list)
    stock: list[Course] = Field(default_factory=list)
    proof: list[Stage] = Field(default_factory=list)
    conflict: list[str] = Field(default_factory=list)
    other_conflicts: int = 0
    ways_out: list[WayOut] = Field(default_factory=list)
    complete: bool | None = None
    in_the_way: list[str] = Field(default_factory=list)
    second_solver: SecondSolver | None = None
    currency: str
    seconds: float
