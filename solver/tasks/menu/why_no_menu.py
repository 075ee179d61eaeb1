"""Why there is no menu, and what holds one back: its demands in words."""

from __future__ import annotations

from collections.abc import Sequence

from solver.clock import Clock
from solver.night.best_plan import SHARE, NightAim, Planned, ProofStage, best_plan
from solver.night.demands import NightDemand, NightDemandKind
from solver.night.menu_evaluator import offered
from solver.night.menu_rows import demands_of
from solver.night.problem import WHOLE_SHARE, MenuRules
from solver.night.why_no_plan import Reached
from solver.pantry.bar import Bar
from solver.quantities import show_count, show_number
from solver.search.milp.integer_program import ProgramSolver
from solver.tasks.menu.answer import BestWithoutDemand
from solver.tasks.menu.menu_wish import MenuWish
from solver.tasks.menu.missing_for_menu import missing_for_menu
from solver.tasks.menu.question import NOTHING_KEPT
from solver.tasks.plan import demand_words, why_no_plan
from solver.tasks.plan.capacities import capacity_said
from solver.tasks.plan.question import Question
from solver.tasks.plan.ticks import MONEY, WORTH

_NOT_COMPARED = NightAim.SAMENESS


def words_of(wish: MenuWish) -> why_no_plan.PlanWords:
    """The demands of a menu in words."""

    def said(demand: NightDemand, question: Question, bar: Bar) -> str:
        if demand.kind is NightDemandKind.GUEST:
            return f'a drink for "{wish.guests[demand.at].word}"'
        return _said(demand, question, bar)

    def instead(demand: NightDemand, question: Question, bar: Bar) -> str:
        if demand.kind is NightDemandKind.GUEST:
            return f'no drink for "{wish.guests[demand.at].word}"'
        return _instead(demand, question, bar)

    return why_no_plan.PlanWords(said, _reached, instead, must_pour=True, lacking=missing_for_menu)


def _menu(question: Question) -> MenuRules:
    menu = question.nights.menu
    if menu is None:
        message = "these nights have no menu"
        raise ValueError(message)
    return menu


def _said(demand: NightDemand, question: Question, bar: Bar) -> str:
    menu = _menu(question)
    match demand.kind:
        case NightDemandKind.FORECAST:
            return show_count(sum(night.drinks for night in question.nights.nights), "drink")
        case NightDemandKind.SHARES:
            return "each drink within its share"
        case NightDemandKind.MOST:
            return f"at most {show_count(menu.most, 'drink')} on the menu"
        case NightDemandKind.OFFERED:
            return f"{question.drinks[demand.at].spec.name} on the menu"
        case NightDemandKind.MARGIN:
            return f"a margin of {_pct(menu.margin or 0)} %"
        case NightDemandKind.CAPACITY:
            if demand.at == len(bar.most_a_night):
                share = show_number(menu.capacities[demand.at].share / 100)
                return f"at most {share} % of a night without alcohol"
            return capacity_said(demand.at, bar)
        case NightDemandKind.FOR_TWO:
            return "nothing new bought for one drink alone"
        case _:
            return demand_words.demand_said(demand, question, bar)


def _instead(demand: NightDemand, question: Question, bar: Bar) -> str:
    """The menu without a demand, in words after "with"."""
    match demand.kind:
        case NightDemandKind.FORECAST:
            return "fewer drinks"
        case NightDemandKind.SHARES:
            return "other shares"
        case NightDemandKind.MOST:
            return "more drinks on the menu"
        case NightDemandKind.OFFERED:
            return f"{question.drinks[demand.at].spec.name} off the menu"
        case NightDemandKind.MARGIN:
            return "a smaller margin"
        case NightDemandKind.CAPACITY:
            return f"more {_limited(demand, bar)} a night"
        case NightDemandKind.FOR_TWO:
            return "bottles for one drink alone"
        case NightDemandKind.SPEND:
            return "more bought"
        case _:
            name = question.items[question.nights.use_up[demand.at].item].ingredient.name
            return f"{name} left"


def _reached(demand: NightDemand, found: Reached, question: Question, bar: Bar) -> str:
    """The nearest that a menu comes to a demand, all others kept, in words."""
    value, about = found.value, demand_words.about_said(found)
    match demand.kind:
        case NightDemandKind.FORECAST:
            return f"{about}{show_count(-value, 'drink')}"
        case NightDemandKind.MOST:
            return f"{about}{show_count(len(offered(found.plan)), 'drink')} on the menu"
        case NightDemandKind.MARGIN if WHOLE_SHARE - value <= NOTHING_KEPT:
            return "a drink whose cost is not known"
        case NightDemandKind.MARGIN:
            return f"{about}a margin of {_pct(WHOLE_SHARE - value)} %"
        case NightDemandKind.CAPACITY:
            return f"{about}{value} {_limited(demand, bar)} a night"
        case (
            NightDemandKind.SHARES
            | NightDemandKind.OFFERED
            | NightDemandKind.GUEST
            | NightDemandKind.FOR_TWO
        ):
            return ""
        case _:
            return demand_words.reached(demand, found, question, bar)


def _limited(demand: NightDemand, bar: Bar) -> str:
    """What is limited, in words."""
    return [*bar.most_a_night, "without alcohol"][demand.at]


def _pct(hundredths: int) -> str:
    """A share in per cent, rounded down to a tenth: no margin is reported that is not kept."""
    return show_number(hundredths // 10 / 10)


def held_back(
    question: Question, stages: Sequence[ProofStage], aims: Sequence[NightAim],
    words: why_no_plan.PlanWords, bar: Bar, solver: ProgramSolver, clock: Clock,
) -> tuple[BestWithoutDemand, ...]:  # fmt: skip
    """The gain of a menu from dropping each demand."""
    own = {stage.aim: stage for stage in stages}
    aims = [aim for aim in aims if aim is not _NOT_COMPARED]
    asked = [d for d in demands_of(question.nights) if d.kind is not NightDemandKind.FORECAST]
    found: list[BestWithoutDemand] = []
    for at, demand in enumerate(asked):
        share = clock.within(clock.left / (len(asked) - at))
        other = best_plan(question.nights, solver, share, aims=aims, dropped=frozenset({demand}))
        told = {s.aim: s for s in other.stages} if isinstance(other, Planned) else {}
        found.append(
            BestWithoutDemand(
                words.said(demand, question, bar),
                words.instead(demand, question, bar),
                loss=_less(own, told, NightAim.LOSS, 1 / MONEY),
                waste=_less(own, told, NightAim.WASTE, question.nights.worth_unit / WORTH),
                pouring=_less(own, told, NightAim.POURING, 1 / MONEY),
            )
        )
    return tuple(found)


def _less(
    own: dict[NightAim, ProofStage], other: dict[NightAim, ProofStage], aim: NightAim, unit: float
) -> float | None:
    """The difference of a stage without a demand; None if either value is unknown.

    If they are not proven, it is the certain part: the value without the demand, less the bound
    with it; 0 if they are equal within the gaps.
    """
    one, two = own.get(aim), other.get(aim)
    if one is None or two is None:
        return None
    if one.proven and two.proven:
        return (two.bound - one.bound) * unit
    if two.value < one.bound:
        return (two.value - one.bound) * unit
    return 0.0 if one.value - two.bound <= 2 * SHARE * one.value else None
