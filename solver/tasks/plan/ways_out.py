"""Ways out of an impossible plan: what to ask instead, each tried before it is reported.

To drop a demand is not yet a question that somebody can ask: shares hold on every night, and the
drinks without one share what the others leave. So each way out is asked as it would be typed, and
told only if that has a plan.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Final

from solver.clock import Clock
from solver.errors import BadInput, BadInputs
from solver.night.demands import NightDemand, NightDemandKind
from solver.night.menu_rows import demands_of, rows_of
from solver.night.why_no_plan import Reached, nearest_plan
from solver.pantry.bar import Bar
from solver.pantry.plan_file import WHOLE, Coming, PlanShare
from solver.quantities import show_count
from solver.search.milp.integer_program import ProgramSolver, SolvedProgram
from solver.tasks.plan import demand_words
from solver.tasks.plan.answer import PlanWayOut
from solver.tasks.plan.question import Question, question_of
from solver.tasks.plan.supply import SupplyWay
from solver.tasks.plan.ticks import MONEY, TICKS

_PERCENT: Final = 100
"""Hundredths of a per cent in one: shares are told in whole per cents."""
_CENT: Final = MONEY // 100
_STEP: Final = 10
"""What a smaller batch is told to, mL or g."""


@dataclass(frozen=True)
class TypedQuestion:
    """A question as somebody would type it: what is coming, and the bar's limits on nights."""

    first: Question
    bar: Bar
    coming: Coming
    limits: Mapping[str, int]

    def possible(self, solver: ProgramSolver, clock: Clock) -> bool:
        """Whether it has a plan; false, too, if there is no time to find out."""
        try:
            nights = question_of(self.coming, replace(self.bar, most_a_night=self.limits)).nights
        except (BadInput, BadInputs):
            return False
        rows = rows_of(nights, frozenset(demands_of(nights)))
        return isinstance(solver.minimise(rows.program, {}, clock), SolvedProgram)

    def with_share(self, at: int, low: int, high: int) -> TypedQuestion:
        """With other limits of a drink, by its position."""
        given = self.coming.shares
        names = tuple(given) or tuple(drink.spec.name for drink in self.first.drinks)
        shares = {name: given.get(name) for name in names}
        shares[names[at]] = PlanShare(low, high, (low + high) // 2)
        return replace(self, coming=replace(self.coming, shares=shares))

    def with_drinks(self, drinks: Mapping[date, int]) -> TypedQuestion:
        """With other numbers of drinks on some nights; a night without any is left out."""
        nights = ((day, drinks.get(day, count)) for day, count in self.coming.nights)
        kept = tuple((day, count) for day, count in nights if count)
        return replace(self, coming=replace(self.coming, nights=kept))

    def with_limit(self, at: int, most: int | None) -> TypedQuestion:
        """With another limit on drinks of a night, or without it."""
        name = list(self.bar.most_a_night)[at]
        limits = {n: limit for n, limit in self.limits.items() if n != name}
        return replace(self, limits=limits if most is None else limits | {name: most})

    def without(self, demand: NightDemand) -> TypedQuestion:
        """Without a demand other than the drinks of a night."""
        match demand.kind:
            case NightDemandKind.SPEND:
                return replace(self, coming=replace(self.coming, spend=None))
            case NightDemandKind.USE_UP:
                name = list(self.first.coming.use_up)[demand.at]
                rest = {n: day for n, day in self.coming.use_up.items() if n != name}
                return replace(self, coming=replace(self.coming, use_up=rest))
            case NightDemandKind.CAPACITY:
                return self.with_limit(demand.at, None)
            case _:
                share = self.share(demand.at)
                low = 0 if demand.kind is NightDemandKind.AT_LEAST else share.low
                high = WHOLE if demand.kind is NightDemandKind.AT_MOST else share.high
                return self.with_share(demand.at, low, high)

    def share(self, at: int) -> PlanShare:
        """The share of a drink, by its position."""
        stated = list(self.coming.shares.values())
        return (stated[at] if stated else None) or self.first.drinks[at].share


def plan_ways_out(
    question: Question,
    demands: Sequence[NightDemand],
    bar: Bar,
    solver: ProgramSolver,
    clock: Clock,
) -> Iterator[PlanWayOut]:
    """The ways out that drop some demands, or come as near as possible to one.

    Empty if none helps, or if nothing would be poured.
    """
    asked = TypedQuestion(question, bar, question.coming, bar.most_a_night)
    dropped = tuple(demand_words.dropped(demand, question, bar) for demand in demands)
    nights = [demand for demand in demands if demand.kind is NightDemandKind.DRINKS]
    others = [demand for demand in demands if demand.kind is not NightDemandKind.DRINKS]
    if len(others) == 1 and not nights:
        found = _to_one(others[0], asked, solver, clock)
    else:
        for demand in others:
            asked = asked.without(demand)
        found = _of_nights(nights, demands, _beside(others, question, bar), asked, solver, clock)
    for told, instead in found:
        if instead.possible(solver, clock):
            yield PlanWayOut(dropped, told)


def _beside(demands: Sequence[NightDemand], question: Question, bar: Bar) -> list[str]:
    """The demands dropped, other than the drinks of nights."""
    without = [d for d in demands if d.kind is not NightDemandKind.SPEND]
    said = ["more bought"] if len(without) < len(demands) else []
    names = [demand_words.dropped(demand, question, bar) for demand in without]
    return [*said, *(f"without {name}" for name in names)]


Told = Iterator[tuple[str, TypedQuestion]]
"""What is told after "with" (or nothing, if what is dropped says it), and what it asks."""


def _of_nights(
    nights: Sequence[NightDemand], demands: Sequence[NightDemand], beside: Sequence[str],
    asked: TypedQuestion, solver: ProgramSolver, clock: Clock,
) -> Told:  # fmt: skip
    """The way out with fewer drinks on some nights, and the other demands dropped."""
    question = asked.first
    if not nights:
        yield "", asked
        return
    near = nearest_plan(question.nights, demands, solver, clock)
    if near is None:
        return
    days = {night.at: question.day(question.nights.nights[night.at].day) for night in nights}
    drinks = {day: sum(near.plan.serves[at]) for at, day in days.items()}
    wanted = {day: count for day, count in asked.coming.nights if day in drinks}
    for shared in _shared_out(drinks, wanted):
        instead = asked.with_drinks(shared)
        if shared == drinks or instead.possible(solver, clock):
            drinks = shared
            break
    if instead.coming.nights:
        said = [
            f"{show_count(count, 'drink') if count else 'none'} on {day}"
            for day, count in drinks.items()
        ]
        *first, last = [*said, *beside]
        words = f"{', '.join(first)} and {last}" if first else last
        yield f"{demand_words.about_said(near)}{words}", instead


def _shared_out(found: Mapping[date, int], wanted: Mapping[date, int]) -> Iterator[dict[date, int]]:
    """As many drinks in all as were found, each night with its part of what was wanted; then half
    way to what was found; then that itself, of which nobody asked on which night they are."""
    total, whole = sum(found.values()), sum(wanted.values())
    for share in (1.0, 0.5):
        exact = {
            day: share * total * wanted[day] / whole + (1 - share) * found[day] for day in found
        }
        counts = {day: min(wanted[day], math.floor(each + 1e-9)) for day, each in exact.items()}
        last = sorted(exact, key=lambda day: counts[day] - exact[day])
        for day in last[: total - sum(counts.values())]:
            counts[day] += 1
        yield counts
    yield dict(found)


def _to_one(demand: NightDemand, asked: TypedQuestion, solver: ProgramSolver, clock: Clock) -> Told:
    """As near as can be to a demand that is no night's."""
    if demand.kind in {NightDemandKind.AT_LEAST, NightDemandKind.AT_MOST}:
        yield from _share(demand, asked, solver, clock)
        return
    near = nearest_plan(asked.first.nights, [demand], solver, clock)
    if near is None:
        yield "", asked.without(demand)
        return
    if demand.kind is NightDemandKind.USE_UP:
        yield from _smaller_batch(demand, near, asked)
    instead = asked.without(demand)
    if demand.kind is NightDemandKind.CAPACITY:
        instead = asked.with_limit(demand.at, near.value)
    elif demand.kind is NightDemandKind.SPEND and not demand_words.buys_unpriced(
        asked.first, near.plan
    ):
        spend = math.ceil(near.value / _CENT) * _CENT / MONEY
        instead = replace(asked, coming=replace(asked.coming, spend=spend))
    yield demand_words.reached(demand, near, asked.first, asked.bar), instead


def _share(demand: NightDemand, asked: TypedQuestion, solver: ProgramSolver, clock: Clock) -> Told:
    """The nearest limit of a drink's share that has a plan, in whole per cents.

    A limit further off asks less, so the nearest is found by halving; the search ends on one that
    was tried, or on none.
    """
    share = asked.share(demand.at)
    least = demand.kind is NightDemandKind.AT_LEAST

    def instead(percent: int) -> TypedQuestion:
        low = percent * _PERCENT if least else share.low
        return asked.with_share(demand.at, low, share.high if least else percent * _PERCENT)

    far = 0 if least else WHOLE // _PERCENT
    near = -(-share.low // _PERCENT) if least else share.high // _PERCENT
    if near == far or not instead(far).possible(solver, clock):
        return
    while abs(near - far) > 1:
        middle = (near + far) // 2
        if instead(middle).possible(solver, clock):
            far = middle
        else:
            near = middle
    ends = (far, share.high / _PERCENT) if least else (share.low / _PERCENT, far)
    name = asked.first.drinks[demand.at].spec.name
    yield f"{ends[0]:g}..{ends[1]:g} % {name}", instead(far)


def _smaller_batch(demand: NightDemand, near: Reached, asked: TypedQuestion) -> Told:
    """The way out with smaller batches of what would be left."""
    question = asked.first
    use_up = question.nights.use_up[demand.at]
    for at, ready in enumerate(near.plan.units):
        item, supply = question.supply(at)
        cooked = supply.how is SupplyWay.COOK and question.nights.sources[at].item == use_up.item
        units = sum(ready.values()) if cooked else 0
        size = supply.unit - near.value / TICKS / units if units else 0.0
        batch = math.ceil(size / _STEP) * _STEP
        if units and 0 < batch < supply.unit:
            amount = f"{batch} {item.ingredient.unit}"
            batches = {**asked.coming.batches, item.key: amount}
            told = f"a batch of {amount} {item.ingredient.name}"
            yield told, replace(asked, coming=replace(asked.coming, batches=batches))
