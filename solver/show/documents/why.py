"""Why an answer is what it is, or why there is none, as fields."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from solver.pantry.bar import Bar
from solver.requests.demands import Demand, DemandKind
from solver.show.documents.contract import finite
from solver.show.text.way_out import way_said
from solver.show.words.names_in_a_row import listed
from solver.tasks.ways_out import DemandChange, WayOut
from solver.tasks.why import Reason, Why, Worth


def limit_fields_of(why: Why | None, demands: Iterable[Demand], bar: Bar) -> list[dict[str, Any]]:
    """Every demand for programs, with what is known of it."""
    reasons = {reason.demand: reason for reason in why.reasons} if why else {}
    return [_limit_field(demand, reasons.get(demand), why, bar) for demand in demands]


def _limit_field(
    demand: Demand, reason: Reason | None, why: Why | None, bar: Bar
) -> dict[str, Any]:
    worth = reason.worth if reason else None
    measure = demand.measure
    return {
        "name": demand.name,
        "measure": measure.name if measure else None,
        "low": demand.bound if demand.kind is DemandKind.LEAST else None,
        "high": demand.bound if demand.kind is DemandKind.MOST else None,
        "unit": measure.unit_in(bar.currency) if measure else "",
        "value": reason.value if reason else None,
        "slack": reason.slack if reason else None,
        "origin": demand.origin.says,
        "binding": reason.binding if reason else None,
        "worth": _worth_field(worth, why, bar) if worth and why else None,
        "says": demand.says,
    }


def _worth_field(worth: Worth, why: Why, bar: Bar) -> dict[str, Any]:
    value = why.value or 0.0
    if worth.instead is not None:
        return {"instead": [item.key for item in worth.instead.ingredients]}
    return {
        "step": worth.step,
        "change": None if worth.stepped is None else worth.stepped - value,
        "until": None if worth.until is None else finite(worth.until),
        "dropped": worth.dropped - value,
        "unit": why.goal.unit_in(bar.currency) if why.goal else "noticeable differences",
    }


def conflict_fields(why: Why | None) -> list[dict[str, Any]]:
    """The conflicts for programs."""
    return [
        {
            "limits": [demand.name for demand in demands],
            "says": f"{listed(demand.says for demand in demands)} cannot hold together"
            if demands
            else "more than one thing that it needs is not on the shelf",
        }
        for demands in (why.conflicts if why else ())
    ]


def way_fields(way: WayOut, answer: dict[str, Any], bar: Bar) -> dict[str, Any]:
    """A way out for programs; `answer` holds the drink."""
    return {
        "changes": [_change_field(change, bar) for change in way.changes],
        "bought": [ingredient.key for ingredient in way.bought],
        "needed": [
            {"ingredient": need.ingredient.key, need.ingredient.per: need.amount}
            for need in way.needed
        ],
        "answer": answer,
        "says": f"It would be possible {way_said(way, bar)}.",
    }


def _change_field(change: DemandChange, bar: Bar) -> dict[str, Any]:
    measure = change.demand.measure
    return {
        "limit": change.demand.name,
        "from": change.demand.bound if measure else None,
        "to": change.bound,
        "unit": measure.unit_in(bar.currency) if measure else "",
    }
