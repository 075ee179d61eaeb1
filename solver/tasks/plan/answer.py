"""The answer of a plan: what to prepare and when, what to order, what will spoil, or why not."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime

from solver.night.best_plan import NightAim, ProofStage
from solver.night.second_opinion import SecondVerdict
from solver.pantry.ingredient import Ingredient
from solver.pantry.spec import Spec
from solver.pantry.vessels import Vessel
from solver.tasks.plan.items import Item
from solver.tasks.plan.plan_notice import PlanNotice
from solver.tasks.plan.question import Question
from solver.tasks.plan.supply import Supply, SupplyWay


@dataclass(frozen=True)
class VesselUse:
    """The vessel that something is made in from when it `begins`, in several makes if need be;
    `after` what uses it before on that day. Unless it `fits`, it is not free for so long."""

    vessel: Vessel
    makes: int
    begins: datetime
    after: str | None = None
    fits: bool = True


@dataclass(frozen=True)
class Job:
    """Something to prepare: units, the day it is for, and when to start.

    `amount` is in mL or g; `weigh` is what to weigh out, in grams; `use_by` is its last day, None
    if unknown. `start` is None if no recipe states how long it takes. `same_eggs` are how many of
    the units are yolks of eggs that are separated for their whites on that day.
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
    same_eggs: int = 0

    @property
    def filled_ml(self) -> float:
        """The volume of all that goes in."""
        return self.amount * self.supply.fills

    @property
    def day(self) -> date:
        """The date on which the work is done."""
        return self.start.date() if self.start else self.ready


@dataclass(frozen=True)
class BuyingOrder:
    """Something to buy: units, their cost (None if there is no price), and what is left in the
    end."""

    ingredient: Ingredient
    supply: Supply
    units: int
    cost: float | None
    left: float


@dataclass(frozen=True)
class Special:
    """A spec of the book that would use something up, and how many serves that takes."""

    spec: Spec
    serves: int
    planned: bool


@dataclass(frozen=True)
class Ending:
    """What is left of something on its last day: spoiled within the plan, or dated after it.

    `worth` is None without a price. `specials` are ordered by serves; `profile` is one that a
    new drink of it can be designed to, None if there is none. `opened` if it is what is left of an
    open bottle, and closed ones have no last day.
    """

    ingredient: Ingredient
    day: date
    amount: float
    worth: float | None
    specials: tuple[Special, ...]
    profile: str | None
    opened: bool = False


@dataclass(frozen=True)
class Evening:
    """A night: serves of each drink, ice, and garnishes to cut.

    `from_batch` has the serves poured from a batch on the shelf, by the drink's name.
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
    """The amount of something at the end of each day, and what was taken, in mL or g.

    `spoiled` is what was thrown away, by day number.
    """

    ingredient: Ingredient
    amounts: tuple[float, ...]
    taken: tuple[float, ...]
    spoiled: tuple[tuple[int, float], ...]


@dataclass(frozen=True)
class PlanSecondOpinion:
    """The verdict of a second solver, and its result if it disagrees."""

    verdict: SecondVerdict
    instead: str = ""


@dataclass(frozen=True)
class Plan:
    """A feasible plan, and the proof of its quality.

    `endings` spoil within the plan, `later` is what is left of what is dated after it. `proven` is
    true if it is optimal in all stages.
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
    second: PlanSecondOpinion | None = None
    told: PlanNotice = field(default_factory=PlanNotice)

    @property
    def cost(self) -> float:
        """The cost of the order, as far as prices are known."""
        return sum(order.cost or 0.0 for order in self.orders)

    @property
    def unpriced(self) -> tuple[Item, ...]:
        """What may have to be bought, or is made here by no recipe, and has no price."""
        made = {job.ingredient.key for job in self.jobs if job.supply.how is SupplyWay.MAKE}
        items = self.question.items
        here = (item for item in items if item.key in made and not item.priced)
        return (*self.question.unpriced, *here)


@dataclass(frozen=True)
class PlanWayOut:
    """Demands to drop for a plan to exist, all others kept.

    `nearest` is how near a plan comes to a single one, or what there is instead; "" if that needs
    no words.
    """

    dropped: tuple[str, ...]
    nearest: str


@dataclass(frozen=True)
class Refusal:
    """The proof that there is no plan: conflicting demands, and ways out.

    `in_the_way` names what drinks may need more of and cannot be had in time. Where it is not
    `complete` there may be more of both; it is `undecided` if there was no time to see.
    """

    question: Question
    conflict: tuple[str, ...]
    others: int
    ways: tuple[PlanWayOut, ...]
    complete: bool
    seconds: float
    second: PlanSecondOpinion | None = None
    in_the_way: tuple[str, ...] = ()
    undecided: bool = False


@dataclass(frozen=True)
class PlanOutOfTime:
    """The time was up before a plan was found or excluded."""

    question: Question
    seconds: float


PlanAnswer = Plan | Refusal | PlanOutOfTime
