"""Why an answer is what it is, or why there is none, in lines and as fields."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from solver.measures import Measure
from solver.pantry.bar import Bar
from solver.show.contract import finite
from solver.show.pours import said_amount
from solver.tasks.answer import Answer
from solver.tasks.demands import STRUCTURE, Demand, Kind
from solver.tasks.why import Change, Reason, WayOut, Why, Worth

WORTH_SAYING = 0.1
"""Noticeable differences, or shares of another goal's step, that a limit has to cost to be named
beside a drink."""
MOST_BESIDE = 2
"""Limits that are named beside a drink; `--why` has all."""


def beside_lines(why: Why) -> list[str]:
    """What holds a drink back, in a line or two."""
    costly = [reason for reason in _binding(why) if _gain(why, reason) >= _worth_saying(why)]
    if costly:
        return [f"Held back by {_held(why, reason)}." for reason in costly[:MOST_BESIDE]]
    return [] if why.undecided else ["None of its limits costs it as much as anybody would notice."]


def answer_lines(why: Why) -> list[str]:
    """Every demand: what holds the drink back and what that costs, and what does not."""
    binding = _binding(why)
    lines = ["What holds it back:"] if binding else ["Nothing that was asked holds it back."]
    lines += [f"  {_held(why, reason)}{_until(reason)}" for reason in binding]
    slack = [reason for reason in why.reasons if reason.binding is False]
    if slack:
        lines += ["", "What does not:"]
        lines += [f"  {reason.demand.name}{_to_spare(reason)}" for reason in slack]
    open_ = [reason for reason in why.reasons if reason.binding is None]
    if open_:
        lines += ["", "No time to tell:"]
        lines += [f"  {reason.demand.name}" for reason in open_]
    return lines


def impossible_lines(why: Why, bar: Bar) -> list[str]:
    """The conflicts, and what would make the request possible."""
    lines: list[str] = []
    for demands in why.conflicts:
        if len(demands) == 1 and demands[0].kind is Kind.COUNT:
            lines += [f"Nothing on the shelf can be the {demands[0].subject}: {demands[0].name}."]
            continue
        lines += (
            ["", "These cannot hold together:"] if len(demands) > 1 else ["", "This cannot be:"]
        )
        lines += [f"  {demand.name}" for demand in demands]
    if why.conflicts and not why.complete:
        lines += ["", "There may be more, once this is out of the way."]
    if why.ways_out:
        lines += ["", "It would be possible"]
        lines += [f"  {_way(way)}: {short_spec(way.answer, bar)}" for way in why.ways_out]
    elif why.conflicts and not why.undecided:
        lines += ["", "No single change, and no few purchases, would make it possible."]
    if why.undecided:
        lines += ["", "There was no time to look at everything: try a longer --time-limit."]
    return [line for at, line in enumerate(lines) if line or at]


def short_why(why: Why, bar: Bar) -> list[str]:
    """The first conflict and the first way out, a line each."""
    lines = []
    if why.conflicts:
        named = _and(d.name for d in why.conflicts[0] if d.kind not in STRUCTURE)
        named = named or _and(d.name for d in why.conflicts[0])
        lines.append(f"cannot be together: {named}")
    if why.ways_out:
        way = why.ways_out[0]
        lines.append(f"possible {_way(way)}: {short_spec(way.answer, bar)}")
    return lines


def short_spec(answer: Answer, bar: Bar) -> str:
    """The pours of a drink in a line, and how far from its aims it is."""
    said = ", ".join(f"{said_amount(p, bar)} {p.ingredient.name}" for p in answer.pours)
    return f"{said} (off aim by {answer.off_aim:.2f})"


def _binding(why: Why) -> list[Reason]:
    """What binds, the costliest first."""
    binding = [reason for reason in why.reasons if reason.binding and reason.worth]
    return sorted(binding, key=lambda reason: -_gain(why, reason))


def _gain(why: Why, reason: Reason) -> float:
    return (why.value or 0.0) - (reason.worth.dropped if reason.worth else 0.0)


def _worth_saying(why: Why) -> float:
    return WORTH_SAYING * (1.0 if why.goal is None else why.goal.step)


def _held(why: Why, reason: Reason) -> str:
    """A demand, and what one step more, or doing without it, would bring."""
    demand, worth = reason.demand, reason.worth
    if worth is None:
        return demand.name
    now = _value(why.goal, why.value or 0.0)
    if demand.measure is None or worth.stepped is None or worth.step is None:
        return f"{demand.name}: without that, {_goal(why.goal, worth.dropped)}, not {now}"
    sign = 1.0 if demand.kind is Kind.MOST else -1.0
    bound = _amount(demand.measure, demand.bound + sign * worth.step)
    if worth.stepped >= (why.value or 0.0) - 5e-3:
        end = _amount(demand.measure, worth.until or 0.0)
        return f"{demand.name}: only at {end} would it be {_goal(why.goal, worth.dropped)}"
    return f"{demand.name}: at {bound}, {_goal(why.goal, worth.stepped)}, not {now}"


def _until(reason: Reason) -> str:
    """Where loosening stops to help."""
    demand, worth = reason.demand, reason.worth
    if demand.measure is None or worth is None or worth.until is None:
        return ""
    return f"; helps as far as {_amount(demand.measure, worth.until)}"


def _to_spare(reason: Reason) -> str:
    if reason.demand.measure is None or reason.slack is None:
        return ""
    return f": {_amount(reason.demand.measure, reason.slack)} to spare"


def _goal(goal: Measure | None, value: float) -> str:
    said = _value(goal, value)
    return f"off aim by {said}" if goal is None else f"{goal.label} {said}"


def _value(goal: Measure | None, value: float) -> str:
    return f"{value:.2f}" if goal is None else _amount(goal, value)


def _amount(measure: Measure, value: float) -> str:
    return f"{value:.{measure.decimals}f} {measure.unit}".rstrip()


def _way(way: WayOut) -> str:
    """What would have to change, as the end of "It would be possible"."""
    if way.bought:
        return f"if you bought {_and(ingredient.name for ingredient in way.bought)}"
    return _and(_changed(change) for change in way.changes)


def _and(words: Iterable[str]) -> str:
    listed = list(words)
    return " and ".join([", ".join(listed[:-1]), listed[-1]] if len(listed) > 1 else listed)


def _changed(change: Change) -> str:
    demand = change.demand
    if demand.measure is not None and change.bound is not None:
        way = "up" if demand.kind is Kind.MOST else "down"
        return f"with {demand.measure.label} {way} to {_amount(demand.measure, change.bound)}"
    return {
        Kind.WITH: f"without asking for {demand.says.removeprefix('with ')}",
        Kind.POUR: f"with another amount than {demand.says}",
        Kind.CHARACTER: f"without asking for {demand.subject}",
        Kind.WITHOUT: f"if {demand.subject} may be in it (never where it is an allergy)",
        Kind.NO_CHARACTER: f"if {demand.subject} may be in it",
        Kind.STOCK: "with more on the shelf",
        Kind.JIGGER: f"with finer measures than {demand.says}",
        Kind.COUNT: f"with another count than {demand.says}",
        Kind.POURS: f"with other pours than {demand.says}",
    }.get(demand.kind, f"without {demand.name}")


def limit_fields_of(why: Why | None, demands: Iterable[Demand]) -> list[dict[str, Any]]:
    """Every demand for programs, with what is known of it."""
    reasons = {reason.demand: reason for reason in why.reasons} if why else {}
    return [_limit_field(demand, reasons.get(demand), why) for demand in demands]


def _limit_field(demand: Demand, reason: Reason | None, why: Why | None) -> dict[str, Any]:
    measure = demand.measure
    return {
        "name": demand.name,
        "measure": measure.name if measure else None,
        "low": demand.bound if demand.kind is Kind.LEAST else None,
        "high": demand.bound if demand.kind is Kind.MOST else None,
        "unit": measure.unit if measure else "",
        "value": reason.value if reason else None,
        "slack": reason.slack if reason else None,
        "origin": demand.origin,
        "binding": reason.binding if reason else None,
        "worth": _worth_field(reason.worth, why) if reason and reason.worth and why else None,
        "says": demand.says,
    }


def _worth_field(worth: Worth, why: Why) -> dict[str, Any]:
    value = why.value or 0.0
    return {
        "step": worth.step,
        "change": None if worth.stepped is None else worth.stepped - value,
        "until": None if worth.until is None else finite(worth.until),
        "dropped": worth.dropped - value,
        "unit": why.goal.unit if why.goal else "noticeable differences",
    }


def conflict_fields(why: Why | None) -> list[dict[str, Any]]:
    """The conflicts for programs."""
    return [
        {
            "limits": [demand.name for demand in demands],
            "says": f"{_and(demand.says for demand in demands)} cannot hold together",
        }
        for demands in (why.conflicts if why else ())
    ]


def way_fields(way: WayOut, answer: dict[str, Any]) -> dict[str, Any]:
    """A way out for programs; `answer` holds the drink."""
    return {
        "changes": [_change_field(change) for change in way.changes],
        "bought": [ingredient.key for ingredient in way.bought],
        "answer": answer,
        "says": f"It would be possible {_way(way)}.",
    }


def _change_field(change: Change) -> dict[str, Any]:
    measure = change.demand.measure
    return {
        "limit": change.demand.name,
        "from": change.demand.bound if measure else None,
        "to": change.bound,
        "unit": measure.unit if measure else "",
    }
