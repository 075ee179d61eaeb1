"""The cost of a drink line by line: pours, garnish, and everything lost or added."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from solver.drinks.assess import Assessment, assess
from solver.drinks.serve import one_serve
from solver.mixture.melt import TECHNIQUES
from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.pantry.missing_prices import unpriced
from solver.pantry.pour import by_key
from solver.pantry.same_egg import in_eggs_of_other
from solver.pantry.spec import Spec
from solver.pantry.unit_price import UnitPrice
from solver.tasks.price.unit_prices import UnitPrices


@dataclass(frozen=True)
class CostLine:
    """A pour, or part of a garnish: `amount` in the ingredient's own unit; `price` is None if
    unknown.

    `beside` is true of a part of eggs that are paid for with their other part."""

    ingredient: Ingredient
    amount: float
    price: UnitPrice | None
    beside: bool = False

    @property
    def cost(self) -> float | None:
        """The cost in the bar's currency, before losses; None without a price."""
        if self.price is None:
            return None
        return 0.0 if self.beside else self.price.price * self.amount


@dataclass(frozen=True)
class AddedCost:
    """Costs beside the pours, in the bar's currency."""

    waste: float = 0.0
    left_in_bottle: float = 0.0
    ice: float = 0.0
    labour: float = 0.0

    @property
    def total(self) -> float:
        """Their sum."""
        return self.waste + self.left_in_bottle + self.ice + self.labour


@dataclass(frozen=True)
class Cost:
    """The cost of a drink. Garnish without a price counts as zero.

    `unweighed` are words of the garnish without a known weight; `unpriced` are keys of what needs a
    price before every pour has one. `iced` is true if it is made with ice. `untimed` are poured and
    made here, by a recipe of which bar.toml states no working time though it states wages.
    """

    made: Assessment
    pours: tuple[CostLine, ...]
    garnish: tuple[CostLine, ...]
    added: AddedCost
    iced: bool
    unweighed: tuple[str, ...] = ()
    unpriced: tuple[str, ...] = ()
    untimed: tuple[Ingredient, ...] = ()

    @property
    def spec(self) -> Spec:
        """The drink."""
        return self.made.spec

    @property
    def beside_pours(self) -> float:
        """What does not depend on the pours: garnish and ice."""
        return sum(line.cost or 0.0 for line in self.garnish) + self.added.ice

    @property
    def total(self) -> float | None:
        """The total cost; None if a pour has no price."""
        if any(line.price is None for line in self.pours):
            return None
        garnish = sum(line.cost or 0.0 for line in self.garnish)
        return sum(line.cost or 0.0 for line in self.pours) + garnish + self.added.total


def cost_of(spec: Spec, bar: Bar, prices: UnitPrices) -> Cost:
    """The cost of one serve of a spec.

    Raises:
        BadInput, BadInputs: the spec, or the recipe of what it pours, is wrong.
    """
    made = assess(spec, bar)
    beside = in_eggs_of_other(by_key(made.lines), bar.stocked)
    pours = tuple(
        CostLine(line.ingredient, line.amount, prices.of(key), beside=key == beside)
        for line in made.lines
        for key in (line.ingredient.key,)
    )
    serve = one_serve(spec, bar)
    garnish = tuple(
        CostLine(bar.bottles.find(key), amount, prices.of(key))
        for key, amount in serve.garnish.amounts.items()
    )
    iced = TECHNIQUES[made.technique].iced
    return Cost(
        made=made,
        pours=pours,
        garnish=garnish,
        added=_added(pours, bar, iced=iced),
        iced=iced,
        unweighed=serve.garnish.uncounted,
        unpriced=unpriced(bar, *(line.ingredient.key for line in pours if line.price is None)),
        untimed=tuple(line.ingredient for line in pours if _is_untimed(line.ingredient.key, bar)),
    )


def _is_untimed(key: str, bar: Bar) -> bool:
    costing = bar.costing
    paid = costing.labour_per_hour is not None and key not in costing.hands_on_min
    return paid and key in bar.recipes


def _added(pours: Sequence[CostLine], bar: Bar, *, iced: bool) -> AddedCost:
    costing = bar.costing
    waste = left = labour = 0.0
    for line in pours:
        if line.price is None or line.cost is None:
            continue
        spilled = line.cost * costing.waste
        waste += spilled
        lost = line.price.lost_in_bottle
        left += (line.cost + spilled) * lost / (1 - lost)
        labour += line.price.labour * line.amount
    ice = costing.ice_g / 1000 * (costing.ice_price_kg or 0.0) if iced else 0.0
    return AddedCost(waste, left, ice, labour)
