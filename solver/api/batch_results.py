"""What a night mixed, planned, priced and counted comes back with."""

from __future__ import annotations

import datetime
from typing import Literal

from pydantic import Field

from solver.api.recipe_results import Life, Stocked
from solver.api.shared_fields import Fields, ForGuest, StandardDrinks, Uncertain


class BatchPour(Fields):
    """A pour of a batch, in mL or g: whole bottles of it, and what is beside them."""

    ingredient: str
    ml: float | None = None
    g: float | None = None
    whole_bottles: int
    beside_them_ml: float | None = None
    beside_them_g: float | None = None
    each_serve: str


class BatchWater(Fields):
    """Water in the bottle; least and most by the melt of practice, None where nobody knows."""

    ml: float
    least_ml: float | None
    most_ml: float | None
    of_the_bottle_pct: float
    asked: bool


class AtService(Fields):
    """A pour that waits for service, and why."""

    ingredient: str
    each_serve: str
    each_serve_ml: float | None = None
    each_serve_g: float | None = None
    why: str
    says: str
    stage: Literal["first", "top"]


class Mixed(Fields):
    """What is in all of the bottles, or in one glass."""

    volume_ml: float
    abv_pct: float
    sugar_g_100ml: float
    acid_g_100ml: float
    ethanol_g: float
    density_g_ml: float


class BatchVessels(Fields):
    """What it goes into; `mix_in` is a vessel that the bar names."""

    size_ml: float | None
    count: int
    last_ml: float
    mix_in_ml: float
    mix_in: str | None
    keg: bool


class Cold(Fields):
    """All of the batch where it is cold."""

    at_celsius: float
    freezes_from_celsius: float
    error_celsius: float
    ice_g: float
    ice_mass_share: float
    volume_ml: float
    each_serve_ml: float


class BatchCost(Fields):
    """What is in the bottles costs, and a serve with all that is added."""

    bottled: float | None
    each_serve: float | None
    currency: str


class InBottle(Fields):
    """What a guest must be told of the bottle itself, and what is in a full one."""

    allergens: list[str] | None
    may_contain: list[str]
    animal: list[str] | None
    may_animal: list[str]
    declare: list[str]
    ml: float
    standard_drinks: float


class Alone(Fields):
    """What in a batch would keep less long by itself."""

    ingredient: str
    days: int
    use_by: datetime.date
    basis: str
    source: str


class Batch(ForGuest):
    """A drink mixed ahead: what goes into the bottle, and what is added to each serve."""

    status: Literal["batched"]
    name: str
    ingredient: str
    made: datetime.date
    serves: float
    technique: str
    pours: list[BatchPour]
    water: BatchWater
    left_out: list[AtService]
    on_ice: Literal["never", "briefly", "again"]
    ice_melt_each_serve_ml: float
    finish: str
    garnish: str | None
    bottle: Mixed
    glass: Mixed
    each_serve_ml: float
    poured_ml: float
    contraction_pct: float
    vessels: BatchVessels
    uncertain: Uncertain
    cold: Cold | None
    life: Life
    shortest_lived: Alone | None
    says: list[str]
    hazards: list[str]
    delle_units: float
    water_activity: float
    cost: BatchCost
    standard_drinks: StandardDrinks
    in_the_bottle: InBottle
    stocked: Stocked | None


class CostLine(Fields):
    """One thing that a serve takes, and what it costs; None where nobody has priced it."""

    ingredient: str
    amount_ml: float | None = None
    amount_g: float | None = None
    cost: float | None
    priced_by: str | None


class DrinkPrice(Fields):
    """What a serve costs, line by line, and what is asked for it; None where not known."""

    spec: str
    pours: list[CostLine]
    garnish: list[CostLine]
    garnish_not_weighed: list[str]
    spilled: float
    left_in_bottle: float
    ice: float
    work: float
    no_working_time: list[str]
    cost: float | None
    no_price: list[str]
    price: float | None
    tax: float | None
    paid: float | None
    margin_pct: float | None
    pour_cost_pct: float | None


class PourChange(Fields):
    """A pour before and after; None where it is new, or left out."""

    ingredient: str
    from_: str | None = Field(alias="from")
    to: str | None


class Cheaper(Fields):
    """The smallest change with which a drink costs no more than `most`, one bottle
    of `other_kind` where the same do not; or, where none does so, what of those costs least."""

    most: float
    possible: bool
    other_kind: bool
    cost: float | None
    changes: list[PourChange]


class Price(Fields):
    """What drinks cost and what to ask for them, in the bar's currency."""

    currency: str
    tax_pct: float
    tax_on_top: bool
    target_pour_cost_pct: float
    price_step: float
    drinks: list[DrinkPrice]
    cheaper: Cheaper | None
