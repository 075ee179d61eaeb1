"""What a prepared house recipe comes back with."""

from __future__ import annotations

import datetime

from solver.api.shared_fields import Fields


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


class Taken(Fields):
    """What came off the shelf, and what is left there: mL, or g of what is weighed."""

    ingredient: str
    ml: float | None = None
    g: float | None = None
    left_ml: float | None = None
    left_g: float | None = None


class Older(Fields):
    """A batch of the same name that stands beside it."""

    ml: float
    made: datetime.date | None
    use_by: datetime.date | None


class Stocked(Fields):
    """Where a batch was put into stock, by which entry of the log, and what that took."""

    house: str
    shelf: str
    entry: int
    ready: datetime.date | None
    taken: list[Taken]
    not_counted: list[str]
    older: list[Older]


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
    kitchen_cautions: list[str]
    make: Make | None
    stocked: Stocked | None
    drinks: list[SpecImpact]


class RecipeStep(Fields):
    """A step of a recipe, as its file says it."""

    do: str
    ingredient: str | None = None
    amount: str | None = None
    time: str | None = None
    lost: str | None = None
    through: str | None = None
    left: str | None = None
    note: str | None = None


class WrittenRecipe(Prep):
    """A recipe that was said, and what it makes; `new` where there was no such file before."""

    called: str
    kind: str
    kind_found_out: bool
    character: list[str]
    steps: list[RecipeStep]
    assumed: list[str]
    file: str
    new: bool
    written: bool
