"""What results have in common: a drink, its pours, what it is in the glass, what a guest is told.

Field names and units are those of the documents that `--json` prints, format 1; a key that is a
word of Python's has an underscore after it (`in_`, `from_`).
"""

from __future__ import annotations

import datetime
from typing import Literal

from pydantic import BaseModel, ConfigDict, Field


class Fields(BaseModel):
    """Base of all results: frozen, and a key that is not described here is a mistake of ours."""

    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True)


class Pour(Fields):
    """A pour of a drink: `ml`, or `g` of what is weighed; `amount` as the bar says it.

    `stage` is "top" for what is added after the ice, where an existing spec is told.
    """

    part: str | None
    ingredient: str
    amount: str
    ml: float | None = None
    g: float | None = None
    cost: float | None
    stage: Literal["first", "top"] | None = None


class BeforeIce(Fields):
    """A drink before the ice melts into it."""

    volume_ml: float
    abv_pct: float
    sugar_g_100ml: float
    acid_g_100ml: float


class InGlass(Fields):
    """A drink in the glass, every measure by its key. `cost` is None where a price is not known."""

    model_config = ConfigDict(frozen=True, extra="allow")

    abv_pct: float
    sugar_g_100ml: float
    sugar_total_g: float
    acid_g_100ml: float
    volume_ml: float
    ethanol_g: float
    cost: float | None
    melt_ml: float
    dilution_pct: float


class UnderFloat(Fields):
    """What is under something that is laid on a drink, whose other numbers are of all of it."""

    float_: list[str] = Field(alias="float")
    abv_pct: float
    sugar_g_100ml: float
    acid_g_100ml: float
    volume_ml: float


class Melted(Fields):
    """A drink in the glass with `factor` times the usual melt."""

    factor: float
    abv_pct: float
    sugar_g_100ml: float
    acid_g_100ml: float
    volume_ml: float


class MeltSpread(Fields):
    """A drink with the least and the most melt of practice."""

    least: Melted
    most: Melted
    basis: str
    source: str


class Uncertain(Fields):
    """What is not certain of a drink; `melt` is None where nothing melts or nobody knows."""

    volume_error_pct: float
    own_melt: bool
    melt: MeltSpread | None


class StandardDrinks(Fields):
    """How many standard drinks of a jurisdiction, each of so much alcohol."""

    count: float
    jurisdiction: str
    ethanol_g_each: float


class ForGuest(Fields):
    """What a guest must be told of a drink."""

    standard_drinks: StandardDrinks
    allergens: list[str]
    may_contain: list[str]
    allergens_not_known: list[str]
    animal: list[str]
    may_animal: list[str]
    animal_not_known: list[str]
    declare: list[str]
    may_hold_alcohol: list[str]
    cautions: list[str]


class OffTarget(Fields):
    """How many noticeable differences a measure is off its band; below 0 for too little."""

    measure: str
    steps: float


class PairCounts(Fields):
    """How often two ingredients were printed together; None where nobody counted one of them."""

    of: tuple[str, str]
    worth: float
    met: int | None
    drinks: int | None
    expected: float | None
    own_specs: int
    tastings: int
    mean_score: float | None


class InKeeping(Fields):
    """How much a drink is in keeping with published drinks, and the bar's own."""

    worth: float
    dial: str
    pairs: list[PairCounts]
    not_known: list[str]
    says: str


class CarriedBy(Fields):
    """What carries a character, and how much of it is usual."""

    ingredient: str
    usual_ml: float | None = None
    usual_g: float | None = None


class Loudness(Fields):
    """How many usual pours there are of what carries a character, `of` any of some tags."""

    of: list[str]
    usual_pours: float
    carried_by: list[CarriedBy]


class Leaves(Fields):
    """Leaves that the garnish puts in, and whether the bar has any; `g` None where not weighed."""

    ingredient: str
    says: str
    g: float | None
    on_shelf: bool


class Answer(ForGuest):
    """A drink that is offered."""

    name: str
    profile: str
    technique: str
    glass: str | None
    pours: list[Pour]
    garnish: str | None
    leaves: list[Leaves]
    before_ice: BeforeIce
    finished: InGlass
    not_cooked: list[str]
    under_float: UnderFloat | None
    off_aim: float | None
    on_target: bool
    off_target: list[OffTarget]
    in_keeping: InKeeping | None
    characters: list[Loudness]
    uncertain: Uncertain


class Approved(Fields):
    """What a drink was in the glass when somebody approved it."""

    date: datetime.date
    abv_pct: float
    sugar_g_100ml: float
    acid_g_100ml: float
    volume_ml: float
    ethanol_g: float
    cost: float | None
    currency: str | None


class Moved(Fields):
    """A measure that has moved since the drink was approved."""

    measure: str
    from_: float = Field(alias="from")
    to: float | None
    unit: str


class Tasting(Fields):
    """What the bar thought of a drink, and like how many published drinks that counts."""

    date: datetime.date
    score: int
    words: str | None
    poured: list[str]
    counts_for_published_drinks: float


class Existing(ForGuest):
    """A drink that exists, as its spec or its pours say; without a profile, `off_aim` is None."""

    name: str
    profile: str | None
    technique: str
    technique_assumed: bool
    glass: str | None
    pours: list[Pour]
    before_ice: BeforeIce
    finished: InGlass
    not_cooked: list[str]
    under_float: UnderFloat | None
    off_aim: float | None
    uncertain: Uncertain
    approved: Approved | None
    moved: list[Moved]
    tasted: list[Tasting]


class PastLastDay(Fields):
    """An ingredient that is poured nowhere since its last day."""

    ingredient: str
    use_by: datetime.date | None


class LeftOut(Fields):
    """What a word of a guest's leaves out."""

    word: str
    leaves_out: list[str]
    also: list[str]
    not_known: list[str]


class HeldLimit(Fields):
    """A range of a measure, and the value of the drink that is told."""

    name: str
    measure: str
    low: float | None
    high: float | None
    unit: str
    value: float | None
