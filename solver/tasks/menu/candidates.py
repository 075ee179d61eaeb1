"""Candidates for a menu: a spec with the consumption and cost of a serve, and its guest notice."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping
from dataclasses import dataclass

from solver.drinks.answer import Answer
from solver.drinks.guest_notice import ForGuest
from solver.errors import BadInput, BadInputs
from solver.pantry.avoidance import Avoidance, all_against
from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.pantry.spec import Misread, Spec
from solver.tasks.plan.question import taken
from solver.tasks.price.drink_cost import Cost, cost_of
from solver.tasks.price.list_price import ListPrice, lowest_price, sold_at
from solver.tasks.price.unit_prices import UnitPrices

SOBER = "hardly any alcohol"
NO_ALCOHOL_G = 0.05
"""Alcohol below which a drink is of no base spirit, g."""


@dataclass(frozen=True)
class NewDrink:
    """A drink that is not in the book: the `answer` of a design for `pours_of`."""

    answer: Answer
    pours_of: str


@dataclass(frozen=True)
class MenuCandidate:
    """A drink that could be offered; `asking` is None if its cost is unknown."""

    spec: Spec
    cost: Cost
    asking: ListPrice | None
    takes: Mapping[str, float]
    new: NewDrink | None = None

    def suits(self, guest: Avoidance) -> bool:
        """Whether nothing in it or around it is what a guest avoids."""
        return not all_against(self.guest.told, [guest])

    @property
    def guest(self) -> ForGuest:
        """What a guest is told; no menu pours what is past its day or not ready yet."""
        return self.cost.made.guest.served

    @property
    def base(self) -> str:
        """The kind that provides most of its alcohol."""
        return SOBER if self.sober else self.strongest.kind

    @property
    def strongest(self) -> Ingredient:
        """What provides most of its alcohol; any if there is none."""
        lines = self.cost.made.lines
        return max(lines, key=lambda line: line.amount * line.ingredient.abv.value).ingredient

    @property
    def sober(self) -> bool:
        """Whether its alcohol is negligible."""
        return (self.cost.made.values["ethanol"] or 0.0) <= NO_ALCOHOL_G


def candidate(
    spec: Spec, bar: Bar, prices: UnitPrices, price: float | None, new: NewDrink | None = None
) -> MenuCandidate:
    """A spec as a candidate, sold at `price`, or at the price that would be asked.

    Raises:
        BadInput, BadInputs: the spec, or the recipe of what it pours, is wrong.
    """
    cost, costing = cost_of(spec, bar, prices), bar.costing
    asking = None
    if cost.total is not None and price is not None:
        asking = sold_at(price, cost.total, costing.tax_in_list, costing.tax_added)
    elif cost.total is not None:
        asking = lowest_price(
            cost.total,
            costing.pour_cost,
            costing.tax_in_list,
            costing.price_step,
            costing.tax_added,
        )
    return MenuCandidate(spec, cost, asking, taken(spec, bar), new)


def of_the_book(
    bar: Bar, prices: UnitPrices, price: float | None
) -> tuple[list[MenuCandidate], tuple[Misread, ...]]:
    """Every readable spec of the bar, and the files that cannot be read."""
    found: list[MenuCandidate] = []
    misread = [*bar.book.misread]
    for spec in bar.book.specs:
        try:
            found.append(candidate(spec, bar, prices, price))
        except (BadInput, BadInputs) as error:
            misread.append(Misread(spec.origin or bar.root, error))  # type: ignore[arg-type]
    return found, tuple(misread)


def positions_of_equal(named: Iterable[Hashable]) -> list[frozenset[int]]:
    """Positions of equal names; None belongs to no group."""
    found: dict[Hashable, set[int]] = {}
    for at, name in enumerate(named):
        if name is not None:
            found.setdefault(name, set()).add(at)
    return [frozenset(group) for group in found.values()]
