"""What drinks cost and what to ask for them."""

from __future__ import annotations

from typing import Any

from solver.pantry.bar import Bar
from solver.show.documents.contract import document
from solver.show.text.pours import said_amount
from solver.show.text.price import Priced_
from solver.tasks.price.cheaper import Cheaper
from solver.tasks.price.drink_cost import Cost, CostLine
from solver.tasks.price.list_price import ListPrice


def price_json(found: Priced_, cheaper: Cheaper | None, bar: Bar) -> str:
    """The document of prices."""
    return document("price", price_fields(found, cheaper, bar))


def price_fields(found: Priced_, cheaper: Cheaper | None, bar: Bar) -> dict[str, Any]:
    """The fields of that document."""
    costing = bar.costing
    return {
        "currency": bar.currency,
        "tax_pct": 100 * costing.tax,
        "tax_on_top": costing.tax_on_top,
        "target_pour_cost_pct": 100 * costing.pour_cost,
        "price_step": costing.price_step,
        "drinks": [_drink(cost, asking) for cost, asking in found],
        "cheaper": None if cheaper is None else _cheaper(cheaper, bar),
    }


def _drink(cost: Cost, asking: ListPrice | None) -> dict[str, Any]:
    added = cost.added
    return {
        "spec": cost.spec.name,
        "pours": [_cost_line(line) for line in cost.pours],
        "garnish": [_cost_line(line) for line in cost.garnish],
        "garnish_not_weighed": list(cost.unweighed),
        "spilled": added.waste,
        "left_in_bottle": added.left_in_bottle,
        "ice": added.ice,
        "work": added.labour,
        "no_working_time": [each.key for each in cost.untimed],
        "cost": cost.total,
        "no_price": list(cost.unpriced),
        "price": asking.price if asking else None,
        "tax": asking.tax if asking else None,
        "paid": asking.paid if asking else None,
        "margin_pct": 100 * asking.margin if asking else None,
        "pour_cost_pct": 100 * asking.pour_cost if asking else None,
    }


def _cost_line(line: CostLine) -> dict[str, Any]:
    return {
        "ingredient": line.ingredient.key,
        f"amount_{line.ingredient.per}": line.amount,
        "cost": line.cost,
        "priced_by": line.price.source.value if line.price else None,
    }


def _cheaper(found: Cheaper, bar: Bar) -> dict[str, Any]:
    result = found.found or found.least
    cost = found.cost or found.least_cost
    return {
        "most": found.most,
        "possible": found.found is not None,
        "other_kind": found.other_kind,
        "cost": cost.total if cost else None,
        "changes": [
            {
                "ingredient": each.line.ingredient.key,
                "from": said_amount(each.was, bar) if each.was else None,
                "to": said_amount(each.now, bar) if each.now else None,
            }
            for each in (result.changes if result else ())
        ],
    }
