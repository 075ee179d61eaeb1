"""What each question comes back with: the documents of `--json`, format 1, as types.

`status` is what the exit code says on the command line: "optimal" or "kept" for an answer,
"impossible" where it is proven that there is none, "stopped" where the time was too short to tell.
"""

from __future__ import annotations

import datetime
from typing import Literal

from pydantic import Field

from solver.api.fields import (
    Answer,
    Existing,
    Fields,
    LeftOut,
    PastLastDay,
)

Status = Literal["optimal", "impossible", "stopped", "disputed"]


class Worth(Fields):
    """What a limit costs: how the goal changes with one `step` of it and without it, in `unit`.

    `until` is where loosening it stops to help. Where the goal is what is in keeping, `instead`
    has the ingredients that would be poured without it, and nothing else is there.
    """

    step: float | None = None
    change: float | None = None
    until: float | None = None
    dropped: float | None = None
    unit: str = ""
    instead: list[str] | None = None


class Limit(Fields):
    """Something that was asked, with what is known of it; `binding` is None where nobody looked."""

    name: str
    measure: str | None
    low: float | None
    high: float | None
    unit: str
    value: float | None
    slack: float | None
    origin: str
    binding: bool | None
    worth: Worth | None
    says: str


class Conflict(Fields):
    """Limits, by name, that cannot hold together, while all but any one of them can."""

    limits: list[str]
    says: str


class Change(Fields):
    """A limit that is moved, or dropped where `to` is None."""

    limit: str
    from_: float | None = Field(alias="from")
    to: float | None
    unit: str


class Needed(Fields):
    """How much of an ingredient must be there; mL, or g of what is weighed."""

    ingredient: str
    ml: float | None = None
    g: float | None = None


class WayOut(Fields):
    """The least that makes a request possible, and the drink that results."""

    changes: list[Change]
    bought: list[str]
    needed: list[Needed]
    answer: Answer
    says: str


class Dispute(Fields):
    """What a second solver comes to, where it does not agree: a fault of equipour."""

    solver: str
    objective: float | None
    bound: float | None
    answer: Answer | None


class Proof(Fields):
    """What was proven. `gap` is between the objective and its bound, in the goal's unit."""

    goal: str
    objective: float | None
    bound: float | None
    gap: float | None
    tolerance: float
    compared: int | None
    solver: str | None
    verified_by: str | None
    dispute: Dispute | None
    goal_settled: bool
    more_in_keeping: int | None
    off_target: float | None
    seconds: float
    checked: bool


class Design(Fields):
    """A request answered: a drink and its proof, or why there is none and what would help."""

    status: Status
    answer: Answer | None
    alternatives: list[Answer]
    limits: list[Limit]
    conflicts: list[Conflict]
    ways_out: list[WayOut]
    left_out: list[str]
    unsettled: list[str]
    interrupted: bool
    reasons_complete: bool | None
    without: list[LeftOut]
    past: list[PastLastDay]
    proof: Proof


class AimMet(Fields):
    """How a measure stands to its band; `distance` is in noticeable differences."""

    measure: str
    unit: str
    aim: tuple[float, float]
    tolerance: float
    value: float | None
    distance: float | None
    says: str


class LimitMet(Fields):
    """Whether a limit is kept; None where it is not known."""

    name: str
    measure: str
    low: float | None
    high: float | None
    unit: str
    value: float | None
    kept: bool | None
    says: str


class Assessment(Fields):
    """What an existing drink is in the glass, and how it keeps to a profile."""

    status: Literal["assessed"]
    answer: Existing
    aims: list[AimMet]
    limits: list[LimitMet]
    departures: list[str]


class Held(Fields):
    """A measure that a drink is held to, before and after."""

    measure: str
    unit: str
    value: float
    tolerance: float
    before: float | None
    after: float | None
    distance: float | None


class PourChange(Fields):
    """A pour before and after, as the bar says it; None where it was not or is no longer there."""

    ingredient: str
    from_: str | None = Field(alias="from")
    to: str | None


class Told(Fields):
    """Something that a guest must be told, and did not have to be before; or no longer."""

    kind: str
    what: str


class HeldLimit(Fields):
    """A range that a drink is held to."""

    name: str
    measure: str
    low: float | None
    high: float | None
    unit: str
    value: float | None


class HeldConflict(Fields):
    """Ranges that cannot hold together."""

    limits: list[HeldLimit]
    says: str


class Finer(Fields):
    """A pour set with which the drink could be kept."""

    pour_set: str
    answer: Existing | None


class Repoured(Fields):
    """A spec poured anew: as it was, as it is now, and what it was held to."""

    status: Literal["kept", "moved", "impossible"]
    approved: datetime.date | None
    before: Existing
    answer: Existing | None
    kept: list[Held]
    changed_pours: int
    changes: list[PourChange]
    gained: list[Told]
    lost: list[Told]
    conflicts: list[HeldConflict]
    finer: Finer | None
    reasons_complete: bool
    compared: int | None


class LikeForLike(Fields):
    """How much of another ingredient brings as much of one measure."""

    out: str
    in_: str = Field(alias="in")
    measure: str
    ml: float | None = None
    g: float | None = None


class Exchange(Repoured):
    """A spec with some ingredients in place of others."""

    out: list[str]
    in_: list[str] = Field(alias="in")
    like_for_like: list[LikeForLike]


class Carried(Fields):
    """A word of a guest's that speaks against an ingredient that the spec had before."""

    word: str
    in_: str = Field(alias="in")
    against: str


class Swap(Fields):
    """A spec with the best that can be poured instead, and `alternatives` of other kinds.

    Its fields down to `compared` are those of `Exchange`, and None or empty where nothing at all
    stands in; `untried` are so many of which it is not known whether they are better.
    """

    status: Literal["kept", "moved", "impossible", "stopped"]
    approved: datetime.date | None = None
    before: Existing | None = None
    answer: Existing | None
    kept: list[Held] = Field(default_factory=list)
    changed_pours: int | None = None
    changes: list[PourChange] = Field(default_factory=list)
    gained: list[Told] = Field(default_factory=list)
    lost: list[Told] = Field(default_factory=list)
    conflicts: list[HeldConflict] = Field(default_factory=list)
    finer: Finer | None = None
    reasons_complete: bool | None = None
    compared: int | None = None
    out: list[str] = Field(default_factory=list)
    in_: list[str] = Field(alias="in", default_factory=list)
    like_for_like: list[LikeForLike] = Field(default_factory=list)
    alternatives: list[Exchange]
    untried: int
    carried: list[Carried]
    left_out: list[str]
    without: list[LeftOut]
    past: list[PastLastDay]


class BookEntry(Fields):
    """What becomes of a spec; `result` is there where it was poured anew or looked into."""

    name: str
    file: str | None
    state: str
    out: list[str]
    result: Repoured | None


class EditedRecipe(Fields):
    """A house recipe that makes something else by now than is in stock of it."""

    recipe: str
    specs: list[str]
    wrong: str | None


class Rebalance(Fields):
    """The whole spec book after a change; `counts` are by state."""

    status: Literal["kept", "moved", "stopped"]
    changes: list[str]
    specs: list[BookEntry]
    counts: dict[str, int]
    seconds: float
    past: list[PastLastDay]
    edited_recipes: list[EditedRecipe]


class Axis(Fields):
    """One of the two measures of a trade-off."""

    name: str
    key: str
    unit: str


class TradeoffProof(Fields):
    """How far a curve is proven; `tolerance` is None where all drinks were compared."""

    compared: int | None
    solver: str | None
    tolerance: float | None
    seconds: float
    checked: bool


class Spot(Fields):
    """A drink on the curve: its two values, by the keys of `between`."""

    values: dict[str, float | None]
    chosen: bool
    answer: Answer


class Stretch(Fields):
    """A stretch of the curve that was not searched: its two ends."""

    from_: dict[str, float | None] = Field(alias="from")
    to: dict[str, float | None]


class Tradeoff(Fields):
    """The Pareto front of two measures: what less of one costs in the other."""

    status: Literal["optimal", "impossible", "stopped"]
    between: tuple[Axis, Axis]
    points: list[Spot]
    complete: bool
    unsearched: list[Stretch]
    chosen: Answer | None
    limits: list[HeldLimit]
    proof: TradeoffProof


class Known(Fields):
    """A figure with its standard deviation."""

    value: float
    sd: float


class Input(Fields):
    """What went into a recipe, in grams; `assumed` where its file leaves something open."""

    ingredient: str
    written: str
    g: float
    cost: float | None
    assumed: str | None


class Lost(Fields):
    """What a step lost, in grams, beside what is usual."""

    step: str
    g: float
    sd: float
    usual_g: float
    usual_sd: float
    dry_matter_g: float
    weighed: bool
    boils_celsius: float | None


class ReadingMet(Fields):
    """A measurement, and what the recipe that fits best says of it."""

    kind: str
    value: float
    sd: float
    fitted: float


class PrepCost(Fields):
    """What a batch costs; None where a price is missing."""

    batch: float | None
    per_ml: float | None
    currency: str
    unpriced: list[str]


class Life(Fields):
    """How long it is planned to keep: never a promise that it is safe."""

    days: int | None
    use_by: datetime.date
    why: str
    basis: str
    source: str


class Make(Fields):
    """How much to weigh out, in the order of the inputs."""

    asked: str
    g: list[float]
    volume_ml: float
    mass_g: float


class SpecImpactChange(Fields):
    """What a batch moves in a drink, in noticeable differences too."""

    measure: str
    before: float | None
    now: float | None
    noticeable: float | None


class SpecImpact(Fields):
    """What a batch does to a spec that pours it."""

    spec: str
    file: str | None
    changes: list[SpecImpactChange]


class Stocked(Fields):
    """Where a batch was put into stock."""

    house: str
    shelf: str
    replaced_ml: float | None


class Prep(Fields):
    """What a house recipe makes: yield, strength, cost, life, allergens."""

    name: str
    made: datetime.date
    measured: bool
    inputs: list[Input]
    figures: dict[str, Known]
    losses: list[Lost]
    brix_unboiled: float | None
    brix_unstrained: float | None
    readings: list[ReadingMet]
    cost: PrepCost
    life: Life
    says: list[str]
    hazards: list[str]
    allergens: list[str] | None
    may_contain: list[str]
    animal: list[str] | None
    may_animal: list[str]
    declare: list[str]
    allergens_known: list[str]
    allergens_not_known: list[str]
    animal_known: list[str]
    animal_not_known: list[str]
    cautions: list[str]
    make: Make | None
    stocked: Stocked | None
    drinks: list[SpecImpact]
