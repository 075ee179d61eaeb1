"""The answer of a menu: what is offered, its proof, and the plan that pours it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date

from solver.pantry.ingredient import Ingredient
from solver.pantry.plan_file import WHOLE
from solver.pantry.spec import Misread
from solver.pantry.stocked import Stocked
from solver.tasks.menu.candidates import MenuCandidate
from solver.tasks.menu.menu_wish import MenuWish
from solver.tasks.menu.nearly_for_guest import Nearly
from solver.tasks.plan.answer import Plan, PlanOutOfTime, Refusal


@dataclass(frozen=True)
class Offer:
    """A drink on the menu: its serves on each night, and what it takes of what is to be used up.

    `uses` are amounts in mL or g, of all serves together.
    """

    drink: MenuCandidate
    nights: tuple[int, ...]
    uses: tuple[tuple[Ingredient, float], ...]

    @property
    def serves(self) -> int:
        """The serves of all nights."""
        return sum(self.nights)


@dataclass(frozen=True)
class BestWithoutDemand:
    """The gain from dropping one demand, in loss or waste and in the cost of pouring.

    `instead` is the menu then, in words after "with". Differences are in the bar's currency, below
    0 for less; None if there was no time, and for `loss` or `waste` if the other is minimised.
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
class Unshown:
    """An ingredient that new drinks were asked for of, and that no drink on the menu takes; `ready`
    is the first day to pour it, if that is what it waits for."""

    ingredient: Ingredient
    ready: date | None


@dataclass(frozen=True)
class Menu:
    """A menu, proven as far as its plan is; drinks with most serves first.

    `compared` is the number of candidates, `designed` of those not in the book. `idle` are dated
    ingredients that no drink takes, `dear` drinks below the margin, `misread` specs that cannot be
    read; `cut` is true if there was no time for all designs.
    """

    wish: MenuWish
    offers: tuple[Offer, ...]
    plan: Plan
    poured_cost: float
    compared: int
    designed: int
    idle: tuple[Stocked, ...]
    dear: tuple[MenuCandidate, ...]
    unshown: tuple[Unshown, ...]
    misread: tuple[Misread, ...]
    held_back: tuple[BestWithoutDemand, ...] | None = None
    cut: bool = False

    @property
    def new(self) -> Sequence[Offer]:
        """The drinks on offer that are not in the book."""
        return [offer for offer in self.offers if offer.drink.new is not None]


@dataclass(frozen=True)
class NoMenu:
    """No menu: proven impossible, or out of time; among so many drinks.

    `nearly` are drinks that nearly do for guests who find none; `cut` is true if there was no time
    for all designs, so that others may make a menu.
    """

    wish: MenuWish
    found: Refusal | PlanOutOfTime
    compared: int
    designed: int
    misread: tuple[Misread, ...] = field(default=())
    nearly: tuple[Nearly, ...] = ()
    cut: bool = False

    @property
    def too_few(self) -> bool:
        """Whether all drinks together, each as often as it may be, are less than a night."""
        stated = [share for share in self.wish.coming.shares.values() if share is not None]
        rest = self.compared - len(stated)
        return sum(share.high for share in stated) + rest * self.wish.share.high < WHOLE


MenuAnswer = Menu | NoMenu
