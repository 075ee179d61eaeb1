"""Why there is no plan: minimal conflicts, and single demands whose loss makes one possible."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass

from solver.clock import Clock
from solver.night.problem import PlanValues as Numbers
from solver.night.rows import DemandKind, NightDemand
from solver.night.solve import Reached, conflicts, nearest
from solver.pantry.bar import Bar
from solver.quantities import show_count, show_money
from solver.search.milp.integer_program import Solver
from solver.tasks.plan.answer import PlanWayOut, Refusal
from solver.tasks.plan.capacities import capacity_said
from solver.tasks.plan.in_the_way import in_the_way
from solver.tasks.plan.question import MONEY, TICKS, Question
from solver.tasks.plan.supplies import SupplyWay

NAMED = 6
"""Ways out that are told."""


@dataclass(frozen=True)
class PlanWords:
    """Functions that put a demand, and how near a plan comes to it, into words.

    The nearest is "" if nothing is near; what there is instead is "" if that needs no words. With
    `must_pour`, pouring nothing is no way out.
    """

    said: Callable[[NightDemand, Question, Bar], str]
    reached: Callable[[NightDemand, Reached, Question, Bar], str]
    instead: Callable[[NightDemand, Question, Bar], str] = lambda *_: ""
    must_pour: bool = False


def refusal(
    question: Question, bar: Bar, solver: Solver, clock: Clock, began: float,
    words: PlanWords | None = None,
) -> Refusal:  # fmt: skip
    """The reasons for a question without a plan, in the words of plans or in others."""
    short = in_the_way(question) if words is None else ()
    words = words or PlanWords(said, reached)
    found = conflicts(question.nights, solver, clock)
    first = sorted(found.found[0], key=_order) if found.found else []
    ways: list[PlanWayOut] = []
    for correction in found.corrections[:NAMED]:
        demands = sorted(correction, key=_order)
        dropped = tuple(words.said(demand, question, bar) for demand in demands)
        near = nearest(question.nights, demands, solver, clock) if len(demands) == 1 else None
        if words.must_pour and near is not None and not any(map(any, near.plan.serves)):
            continue
        told = words.reached(demands[0], near, question, bar) if near else ""
        others = filter(None, (words.instead(demand, question, bar) for demand in demands))
        ways.append(PlanWayOut(dropped, told or " and ".join(others)))
    return Refusal(
        question=question,
        conflict=tuple(words.said(demand, question, bar) for demand in first),
        others=max(0, len(found.found) - 1),
        ways=tuple(ways),
        complete=found.complete,
        seconds=time.monotonic() - began,
        in_the_way=short,
    )


def _order(demand: NightDemand) -> tuple[int, int]:
    return list(DemandKind).index(demand.kind), demand.at


def said(demand: NightDemand, question: Question, bar: Bar) -> str:
    """A demand of a plan in words."""
    match demand.kind:
        case DemandKind.DRINKS:
            night = question.nights.nights[demand.at]
            return f"{show_count(night.drinks, 'drink')} on {question.day(night.day)}"
        case DemandKind.AT_LEAST | DemandKind.AT_MOST:
            drink = question.drinks[demand.at]
            end = drink.share.low if demand.kind is DemandKind.AT_LEAST else drink.share.high
            least = "at least" if demand.kind is DemandKind.AT_LEAST else "at most"
            return f"{least} {end / 100:g} % {drink.spec.name}"
        case DemandKind.USE_UP:
            use_up = question.nights.use_up[demand.at]
            name = question.items[use_up.item].ingredient.name
            return f"no {name} left after {question.day(use_up.day)}"
        case DemandKind.SPEND:
            spend = question.nights.spend or 0
            if not spend:
                return "nothing bought"
            return f"at most {show_money(spend / MONEY, bar.currency)} spent"
        case DemandKind.CAPACITY:
            return capacity_said(demand.at, bar)
        case _:
            raise ValueError(demand)


def reached(demand: NightDemand, found: Reached, question: Question, bar: Bar) -> str:
    """The nearest that a plan comes to a demand, all others kept, in words."""
    value, about = found.value, about_said(found)
    match demand.kind:
        case DemandKind.DRINKS:
            day = question.day(question.nights.nights[demand.at].day)
            return f"{about}{show_count(-value, 'drink')} on {day}"
        case DemandKind.AT_LEAST | DemandKind.AT_MOST:
            served = sum(sum(night) for night in found.plan.serves)
            share = 100 * abs(value) / served if served else 0.0
            name = question.drinks[demand.at].spec.name
            return f"{about}{share:.0f} % {name}, {abs(value)} of {show_count(served, 'drink')}"
        case DemandKind.USE_UP:
            use_up = question.nights.use_up[demand.at]
            item = question.items[use_up.item].ingredient
            day = question.day(use_up.day)
            return f"{about}{value / TICKS:.0f} {item.unit} of {item.name} left after {day}"
        case DemandKind.SPEND:
            return about + _spent(question, found.plan, bar)
        case DemandKind.CAPACITY:
            return f"{about}{value} {list(bar.most_a_night)[demand.at]} a night"
        case _:
            raise ValueError(demand)


def about_said(found: Reached) -> str:
    """A note that something nearer is not excluded, if that is so."""
    return "" if found.proven else "about "


def _spent(question: Question, plan: Numbers, bar: Bar) -> str:
    """The cost of the order of a plan in words; names what has no price."""
    ordered = [
        (question.supply(at)[0].ingredient.name, question.paid(at, units))
        for at, units in enumerate(plan.bought(question.nights))
        if units and question.supply(at)[1].how is SupplyWay.BUY
    ]
    cost = sum(paid for _, paid in ordered if paid is not None)
    unpriced = [name for name, paid in ordered if paid is None]
    more = f", and {', '.join(unpriced)} bought at no known price" if unpriced else ""
    return f"{show_money(cost, bar.currency)} spent{more}"
