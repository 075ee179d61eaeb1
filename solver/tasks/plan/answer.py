"""The answer of a plan: what to prepare when, what to order, what will spoil, and why not."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime

from solver.night.second_opinion import SecondVerdict
from solver.night.solve import NightAim, ProofStage
from solver.pantry.ingredient import Ingredient
from solver.pantry.spec import Spec
from solver.pantry.vessels import Vessel
from solver.tasks.plan.question import Question
from solver.tasks.plan.supplies import Supply


@dataclass(frozen=True)
class VesselUse:
    """The vessel that something is made in, in so many makes; `after` what else has it then."""

    vessel: Vessel
    makes: int
    after: str | None = None


@dataclass(frozen=True)
class Job:
    """Something to prepare: how many units, for which day, and when to start.

    `amount` is in mL or g; `weigh` is what to weigh out, in grams; `use_by` is its last day, None
    where nobody has said. `start` is None where no recipe says how long it takes.
    """

    ingredient: Ingredient
    supply: Supply
    ready: date
    units: int
    amount: float
    start: datetime | None
    weigh: tuple[tuple[str, float], ...]
    use_by: date | None
    vessel: VesselUse | None = None

    @property
    def day(self) -> date:
        """The day on which somebody has to do it."""
        return self.start.date() if self.start else self.ready


@dataclass(frozen=True)
class BuyingOrder:
    """Something to buy: units, what they cost (None: no price known), what is left in the end."""

    ingredient: Ingredient
    supply: Supply
    units: int
    cost: float | None
    left: float


@dataclass(frozen=True)
class Special:
    """A drink of the book that would use something up, and how many serves that would take."""

    spec: Spec
    serves: int
    planned: bool


@dataclass(frozen=True)
class Ending:
    """What is left of something on its last day: spoiled within the plan, or dated after it.

    `worth` is None where no price is known. `specials` come fewest serves first; `profile` is one
    that pours such a thing, None where no spec of the bar does.
    """

    ingredient: Ingredient
    day: date
    amount: float
    worth: float | None
    specials: tuple[Special, ...]
    profile: str | None


@dataclass(frozen=True)
class Evening:
    """A night: its drinks with how many of each, the ice, and the garnishes to cut.

    `from_batch` says how many of a drink come out of the batch that stands mixed, by its name.
    """

    day: date
    drinks: tuple[tuple[Spec, int], ...]
    ice_kg: float
    garnishes: tuple[tuple[str, int], ...]
    from_batch: Mapping[str, int] = field(default_factory=dict)

    @property
    def count(self) -> int:
        """All drinks of the night."""
        return sum(count for _, count in self.drinks)


@dataclass(frozen=True)
class Course:
    """How much of something is left at the end of each day and what was taken, in mL or g.

    `spoiled` is what was thrown away then, by the number of the day.
    """

    ingredient: Ingredient
    amounts: tuple[float, ...]
    taken: tuple[float, ...]
    spoiled: tuple[tuple[int, float], ...]


@dataclass(frozen=True)
class SecondOpinion:
    """What a second solver says, and what it came to where it does not agree."""

    verdict: SecondVerdict
    instead: str = ""


@dataclass(frozen=True)
class Plan:
    """A plan that can be poured to its end, and how it is proven to be the best.

    `endings` spoil within the plan, `later` is what is left of what is dated after it. `proven`
    says that no better plan exists, by all the stages.
    """

    question: Question
    evenings: tuple[Evening, ...]
    jobs: tuple[Job, ...]
    orders: tuple[BuyingOrder, ...]
    endings: tuple[Ending, ...]
    later: tuple[Ending, ...]
    courses: tuple[Course, ...]
    stages: tuple[ProofStage, ...]
    aims: tuple[NightAim, ...]
    proven: bool
    seconds: float
    second: SecondOpinion | None = None

    @property
    def cost(self) -> float:
        """What the order costs, as far as prices are known."""
        return sum(order.cost or 0.0 for order in self.orders)


@dataclass(frozen=True)
class PlanWayOut:
    """Demands to drop so that there is a plan; of one alone, the `nearest` that a plan comes to it.

    `nearest` is what there is instead where there are several, or where there was no time to tell;
    empty where that has no words of its own.
    """

    dropped: tuple[str, ...]
    nearest: str


@dataclass(frozen=True)
class Refusal:
    """The proof that there is no plan: demands that cannot hold together, and ways out.

    `in_the_way` names what the drinks may need more of that cannot be had in time.
    """

    question: Question
    conflict: tuple[str, ...]
    others: int
    ways: tuple[PlanWayOut, ...]
    complete: bool
    seconds: float
    second: SecondOpinion | None = None
    in_the_way: tuple[str, ...] = ()


@dataclass(frozen=True)
class PlanOutOfTime:
    """The time was up before a plan was found or ruled out."""

    question: Question
    seconds: float


Answered = Plan | Refusal | PlanOutOfTime
