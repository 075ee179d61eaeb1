"""The answer of a menu: what is offered, why it is the best, and the plan that pours it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from solver.pantry.ingredient import Ingredient
from solver.pantry.shelf import Stocked
from solver.pantry.spec import Misread
from solver.tasks.menu.candidates import MenuCandidate
from solver.tasks.menu.wish import MenuWish
from solver.tasks.plan.answer import Plan, PlanOutOfTime, Refusal


@dataclass(frozen=True)
class Offer:
    """A drink on the menu: how many serves on each night, and what it takes of what is to be used.

    `uses` are amounts in mL or g, of all serves together.
    """

    drink: MenuCandidate
    nights: tuple[int, ...]
    uses: tuple[tuple[Ingredient, float], ...]

    @property
    def serves(self) -> int:
        """Over all nights."""
        return sum(self.nights)


@dataclass(frozen=True)
class Without:
    """What would be better without one demand: what is lost or spoils, and what pouring costs.

    `instead` is what there would be then, after "with". Differences in the bar's currency, below 0
    for less; None where there was no time to tell, and of `loss` and `waste` where the other is
    minimised.
    """

    demand: str
    instead: str
    loss: float | None
    waste: float | None
    pouring: float | None

    @property
    def first(self) -> float | None:
        """The change of what matters first."""
        return self.waste if self.loss is None else self.loss


@dataclass(frozen=True)
class Menu:
    """A menu, proven as far as its plan is; drinks with most serves first.

    `compared` is how many drinks there were to choose from, `designed` those of them that are not
    in the book. `idle` are dated things that no drink takes, `dear` drinks that keep too little of
    the price, `misread` specs with a mistake; `cut` says that there was no time to design all.
    """

    wish: MenuWish
    offers: tuple[Offer, ...]
    plan: Plan
    poured_cost: float
    compared: int
    designed: int
    idle: tuple[Stocked, ...]
    dear: tuple[MenuCandidate, ...]
    misread: tuple[Misread, ...]
    held_back: tuple[Without, ...] | None = None
    cut: bool = False

    @property
    def new(self) -> Sequence[Offer]:
        """What is offered and not in the book."""
        return [offer for offer in self.offers if offer.drink.new is not None]


@dataclass(frozen=True)
class NoMenu:
    """No menu: the proof, or that the time was up; of so many drinks."""

    wish: MenuWish
    found: Refusal | PlanOutOfTime
    compared: int
    designed: int
    misread: tuple[Misread, ...] = field(default=())


Answered = Menu | NoMenu
