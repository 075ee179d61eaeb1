"""The price to ask for a drink, in whole steps of a price list."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction


@dataclass(frozen=True)
class ListPrice:
    """A price on the list, and what remains of it; in the bar's currency."""

    price: float
    net: float
    cost: float
    tax_added: float = 0.0

    @property
    def pour_cost(self) -> float:
        """The share of the price before tax that the drink costs."""
        return self.cost / self.net if self.net else math.inf

    @property
    def margin(self) -> float:
        """The share of the price before tax that is kept."""
        return 1 - self.pour_cost

    @property
    def tax(self) -> float:
        """The tax in the price."""
        return self.paid - self.net

    @property
    def paid(self) -> float:
        """What a guest pays in all."""
        return self.price * (1 + self.tax_added)


def lowest_price(
    cost: float, pour_cost: float, tax: float, step: float, tax_added: float = 0.0
) -> ListPrice:
    """The lowest price in whole steps of which a drink costs at most the share `pour_cost`, after
    `tax`.

    Computed in fractions: no rounding takes a cent from the margin.
    """
    least = Fraction(cost) / Fraction(pour_cost) * (1 + Fraction(tax))
    size = Fraction(str(step))
    price = math.ceil(least / size) * size
    return sold_at(float(price), cost, tax, tax_added)


def sold_at(price: float, cost: float, tax: float, tax_added: float = 0.0) -> ListPrice:
    """What remains of a given price, with `tax` in it and `tax_added` beside it."""
    return ListPrice(price, price / (1 + tax), cost, tax_added)


def most_to_cost(price: float, pour_cost: float, tax: float) -> float:
    """The largest cost of a drink for a price, tax included."""
    return price / (1 + tax) * pour_cost
