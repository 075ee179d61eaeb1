"""The demands of a plan in words, and how near a plan comes to one."""

from __future__ import annotations

from solver.night.demands import NightDemand, NightDemandKind
from solver.night.problem import PlanValues as Numbers
from solver.night.why_no_plan import Reached
from solver.pantry.bar import Bar
from solver.quantities import show_count, show_money
from solver.tasks.plan.capacities import capacity_said
from solver.tasks.plan.question import Question
from solver.tasks.plan.supply import SupplyWay
from solver.tasks.plan.ticks import MONEY, TICKS


def demand_said(demand: NightDemand, question: Question, bar: Bar) -> str:
    """A demand of a plan in words."""
    match demand.kind:
        case NightDemandKind.DRINKS:
            night = question.nights.nights[demand.at]
            return f"{show_count(night.drinks, 'drink')} on {question.day(night.day)}"
        case NightDemandKind.AT_LEAST | NightDemandKind.AT_MOST:
            drink = question.drinks[demand.at]
            end = drink.share.low if demand.kind is NightDemandKind.AT_LEAST else drink.share.high
            least = "at least" if demand.kind is NightDemandKind.AT_LEAST else "at most"
            return f"{least} {end / 100:g} % {drink.spec.name}"
        case NightDemandKind.USE_UP:
            use_up = question.nights.use_up[demand.at]
            name = question.items[use_up.item].ingredient.name
            return f"no {name} left after {question.day(use_up.day)}"
        case NightDemandKind.SPEND:
            spend = question.nights.spend or 0
            if not spend:
                return "nothing bought"
            return f"at most {show_money(spend / MONEY, bar.currency)} spent"
        case NightDemandKind.CAPACITY:
            return capacity_said(demand.at, bar)
        case _:
            raise ValueError(demand)


def dropped(demand: NightDemand, question: Question, bar: Bar) -> str:
    """A demand that is let go, in words after "without"."""
    if demand.kind is not NightDemandKind.USE_UP:
        return demand_said(demand, question, bar)
    use_up = question.nights.use_up[demand.at]
    name = question.items[use_up.item].ingredient.name
    return f"using up {name} by {question.day(use_up.day)}"


def reached(demand: NightDemand, found: Reached, question: Question, bar: Bar) -> str:
    """The nearest that a plan comes to a demand, all others kept, in words."""
    value, about = found.value, about_said(found)
    match demand.kind:
        case NightDemandKind.USE_UP:
            use_up = question.nights.use_up[demand.at]
            item = question.items[use_up.item].ingredient
            day = question.day(use_up.day)
            return f"{about}{value / TICKS:.0f} {item.unit} of {item.name} left after {day}"
        case NightDemandKind.SPEND:
            return about + _spent(question, found.plan, bar)
        case NightDemandKind.CAPACITY:
            return f"{about}{value} {list(bar.most_a_night)[demand.at]} a night"
        case _:
            raise ValueError(demand)


def about_said(found: Reached) -> str:
    """A note that a nearer plan is not excluded; "" if it is."""
    return "" if found.proven else "about "


def buys_unpriced(question: Question, plan: Numbers) -> bool:
    """Whether a plan buys something that has no price."""
    return any(paid is None for _, paid in _ordered(question, plan))


def _ordered(question: Question, plan: Numbers) -> list[tuple[str, float | None]]:
    """The names of what a plan buys, and their costs."""
    return [
        (question.supply(at)[0].ingredient.name, question.paid(at, units))
        for at, units in enumerate(plan.bought(question.nights))
        if units and question.supply(at)[1].how is SupplyWay.BUY
    ]


def _spent(question: Question, plan: Numbers, bar: Bar) -> str:
    """The cost of the order of a plan in words; names what has no price."""
    ordered = _ordered(question, plan)
    cost = sum(paid for _, paid in ordered if paid is not None)
    unpriced = [name for name, paid in ordered if paid is None]
    more = f", and {', '.join(unpriced)} bought at no known price" if unpriced else ""
    return f"{show_money(cost, bar.currency)} spent{more}"
