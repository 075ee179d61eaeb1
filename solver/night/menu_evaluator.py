"""The exact evaluator of menus: what a plan offers, and which demands on the menu it breaks.

It shares no rows with the program; only plans that pass it and `plan_evaluator` are reported.
"""

from __future__ import annotations

from collections.abc import Iterator

from solver.night.demands import NightDemand, NightDemandKind
from solver.night.menu_rows import known_to, users_of, worth_a_line
from solver.night.problem import WHOLE_SHARE, MenuRules, Nights, PlanValues


def offered(plan: PlanValues) -> frozenset[int]:
    """The drinks that are poured on some night."""
    return frozenset(at for night in plan.serves for at, count in enumerate(night) if count)


def broken(question: Nights, menu: MenuRules, plan: PlanValues) -> tuple[NightDemand, ...]:
    """The demands on the menu that a plan breaks; stock and spending are not checked. Empty if
    none.

    Raises:
        ValueError: it offers two that are one drink poured in two ways, or one that comes twice.
    """
    on = offered(plan)
    if not all(_one_stretch(question, plan, at) for at in on):
        message = "a plan offers a drink that was gone again"
        raise ValueError(message)
    if any(len(group & on) > 1 for group in menu.either):
        message = "a plan offers one drink twice"
        raise ValueError(message)
    return (*_by_serves(question, menu, plan, on), *_by_offers(question, menu, plan, on))


def _by_serves(
    question: Nights, menu: MenuRules, plan: PlanValues, on: frozenset[int]
) -> Iterator[NightDemand]:
    pairs = list(zip(question.nights, plan.serves, strict=True))
    if any(sum(serves) != night.drinks for night, serves in pairs):
        yield NightDemand(NightDemandKind.FORECAST)
    for at, capacity in enumerate(menu.capacities):
        served = [(sum(s[d] for d in capacity.drinks), sum(s)) for _, s in pairs]
        if any(
            count > capacity.most or WHOLE_SHARE * (count - 1) >= capacity.share * whole
            for count, whole in served
            if count
        ):
            yield NightDemand(NightDemandKind.CAPACITY, at)
    for at, group in enumerate(menu.guests):
        if any(sum(s) and not any(s[each] for each in group) for _, s in pairs):
            yield NightDemand(NightDemandKind.GUEST, at)
    if not all(_within_limits(question, plan, at) for at in on):
        yield NightDemand(NightDemandKind.SHARES)


def _by_offers(
    question: Nights, menu: MenuRules, plan: PlanValues, on: frozenset[int]
) -> Iterator[NightDemand]:
    if menu.dear & on:
        yield NightDemand(NightDemandKind.MARGIN)
    for at in menu.fixed - on:
        yield NightDemand(NightDemandKind.OFFERED, at)
    if menu.for_two and any(_for_one(question, plan, on)):
        yield NightDemand(NightDemandKind.FOR_TWO)
    if len(on) > menu.most:
        yield NightDemand(NightDemandKind.MOST)


def _for_one(question: Nights, plan: PlanValues, on: frozenset[int]) -> Iterator[bool]:
    """Yield, for each thing bought for the first time, whether fewer than two drinks take it."""
    known, users = known_to(question), users_of(question)
    for source, units in zip(question.sources, plan.bought(question), strict=True):
        if units and source.cost and source.item not in known and not source.free:
            yield len(users[source.item] & on) < 2


def _one_stretch(question: Nights, plan: PlanValues, at: int) -> bool:
    """Whether a drink is poured on every night with drinks between its first and its last."""
    pairs = zip(question.nights, plan.serves, strict=True)
    poured = [bool(serves[at]) for night, serves in pairs if night.drinks]
    first, last = poured.index(True), len(poured) - poured[::-1].index(True)
    return all(poured[first:last])


def _within_limits(question: Nights, plan: PlanValues, at: int) -> bool:
    """Whether a drink is within its limits while it is on, to the whole drink, and worth a line."""
    drink, counts = question.drinks[at], [sum(serves) for serves in plan.serves]
    if sum(serves[at] for serves in plan.serves) < worth_a_line(drink, counts):
        return False
    mine = [serves for serves in plan.serves if serves[at]]
    low = sum(drink.low * sum(serves) for serves in mine)
    high = sum(drink.high * sum(serves) for serves in plan.serves)
    total = WHOLE_SHARE * sum(serves[at] for serves in mine)
    return low - WHOLE_SHARE < total < high + WHOLE_SHARE and all(
        drink.low * sum(serves) - WHOLE_SHARE
        < WHOLE_SHARE * serves[at]
        < drink.high * sum(serves) + WHOLE_SHARE
        for serves in mine
    )
