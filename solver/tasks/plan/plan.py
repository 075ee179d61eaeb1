"""Plan some nights: the best plan with its lists, or why there is none."""

from __future__ import annotations

import math
import time
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta

from solver.clock import Clock
from solver.drinks.method import NO_GARNISH
from solver.drinks.mixed_ahead import NEARLY
from solver.drinks.serve import one_serve
from solver.night.best_plan import (
    OF_PLANS,
    SHARE,
    WASTE_FIRST,
    NoPlan,
    NoTime,
    Planned,
    PlanResult,
    best_plan,
)
from solver.night.large_neighbourhood import DeniedError
from solver.night.plan_evaluator import PouredPlan, pour
from solver.night.problem import PlanValues as Numbers
from solver.night.second_opinion import SecondVerdict, second_verdict
from solver.pantry.bar import Bar
from solver.pantry.plan_file import Coming
from solver.pantry.spec import Spec, read_specs
from solver.search.milp.cpsat_then_highs import CpSatThenHighs
from solver.search.milp.integer_program import ProgramSolver
from solver.tasks.plan.answer import (
    BuyingOrder,
    Course,
    Ending,
    Evening,
    Job,
    Plan,
    PlanAnswer,
    PlanOutOfTime,
    PlanSecondOpinion,
    Refusal,
    Special,
)
from solver.tasks.plan.aside import aside_endings
from solver.tasks.plan.assemble_notice import notice_of
from solver.tasks.plan.hours import start_on
from solver.tasks.plan.ice import Ice
from solver.tasks.plan.items import Item
from solver.tasks.plan.left_after import LeftAfter, left_after
from solver.tasks.plan.question import Question, question_of
from solver.tasks.plan.standing_batches import standing_batch
from solver.tasks.plan.supply import Supply, SupplyWay
from solver.tasks.plan.ticks import TICKS
from solver.tasks.plan.to_design import profile_to_design
from solver.tasks.plan.vessel_assignment import with_vessels
from solver.tasks.plan.why_no_plan import why_no_plan
from solver.tasks.prep.scale_batch import scale_grams

Book = Sequence[tuple[Spec, Mapping[str, float]]]
"""Specs, each with what one serve pours, by key."""
MOST_SPECIALS = 3
CRUMB = 0.5
"""mL or g; of less than that nobody is told that it is over: our own choice."""
PATIENCE = 4.0


def plan(
    coming: Coming,
    bar: Bar,
    clock: Clock,
    solver: ProgramSolver | None = None,
    second: ProgramSolver | None = None,
    *,
    waste_first: bool = False,
) -> PlanAnswer:
    """The best plan for a forecast, or the proof that there is none with its reasons.

    With `waste_first` waste is minimised before cost. A `second` solver solves the same question,
    and may take `PATIENCE` times as long, as it gets no start.

    Raises:
        BadInput, BadInputs: something that is named is not known, or cannot be.
    """
    began = time.monotonic()
    solver = solver or CpSatThenHighs()
    question = question_of(coming, bar)
    patience = clock.left
    aims = WASTE_FIRST if waste_first else OF_PLANS
    first = best_plan(question.nights, solver, clock, aims=aims)
    match first:
        case Planned() as found:
            # The exact evaluator has the last word: it raises where the plan cannot be poured.
            poured = pour(question.nights, found.plan)
            answer: Plan | Refusal = answer_of(question, found, poured, bar, began)
        case NoPlan():
            answer = why_no_plan(question, bar, solver, clock, began)
        case NoTime():
            return PlanOutOfTime(question, time.monotonic() - began)
    if second is None:
        return answer
    # Where the first knows what is best to the last, so must the second, or each goes on from its
    # own plans.
    share = 0.0 if isinstance(first, Planned) and first.proven else SHARE
    time_ = Clock.of(PATIENCE * patience)
    try:
        other = best_plan(question.nights, second, time_, share, aims)
    except DeniedError:
        other = NoPlan()
    return replace(answer, second=_opinion(first, other, share))


def _opinion(first: PlanResult, other: PlanResult, share: float) -> PlanSecondOpinion:
    """The verdict of a second solver, which went on to that `share`, on the first one's answer."""
    said = second_verdict(first, other, share)
    if said is not SecondVerdict.DISAGREES:
        return PlanSecondOpinion(said)
    if not isinstance(other, Planned):
        return PlanSecondOpinion(said, "there is no plan")
    came = ", ".join(f"{stage.aim.value} {stage.value}" for stage in other.stages)
    return PlanSecondOpinion(said, f"a plan with {came}")


def answer_of(
    question: Question, found: Planned, poured: PouredPlan, bar: Bar, began: float
) -> Plan:
    """The plan in the bar's terms; `began` is when it was asked for, on the monotonic clock."""
    endings, later = _endings(question, found.plan, poured, bar)
    jobs = _jobs(question, found.plan)
    plan = Plan(
        question=question,
        evenings=_evenings(question, found.plan, bar),
        jobs=_in_order(with_vessels(jobs, bar.vessels, question.coming.opens, question.now)),
        orders=_orders(question, found.plan, poured),
        endings=endings,
        later=later,
        courses=_courses(question, poured),
        stages=found.stages,
        aims=found.aims,
        proven=found.proven,
        seconds=time.monotonic() - began,
    )
    return replace(plan, told=notice_of(plan.evenings, plan.jobs, bar))


def _evenings(question: Question, plan: Numbers, bar: Bar) -> tuple[Evening, ...]:
    ice = Ice(bar)
    evenings: list[Evening] = []
    for night, serves in zip(question.nights.nights, plan.serves, strict=True):
        garnishes: dict[str, int] = {}
        for drink, count in zip(question.drinks, serves, strict=True):
            words = drink.spec.garnish
            if count and words and not NO_GARNISH.match(words):
                garnishes[words] = garnishes.get(words, 0) + count
        poured = [(drink.spec, count) for drink, count in zip(question.drinks, serves, strict=True)]
        mixed = _from_batch(question, plan, night.day, serves)
        evenings.append(
            Evening(
                day=question.day(night.day),
                drinks=tuple(poured),
                ice_kg=ice.kilograms(poured, mixed),
                garnishes=tuple(garnishes.items()),
                from_batch=mixed,
            )
        )
    return tuple(evenings)


def _from_batch(
    question: Question, plan: Numbers, day: int, serves: Sequence[int]
) -> dict[str, int]:
    """Serves of a night out of batches that stand mixed, by the drink's name."""
    found: dict[str, int] = {}
    for at, ready in enumerate(plan.units):
        item, supply = question.supply(at)
        if supply.how is SupplyWay.MIX:
            for drink, count in zip(question.drinks, serves, strict=True):
                if item.key in drink.takes and count > ready.get(day, 0):
                    found[drink.spec.name] = count - ready.get(day, 0)
    return found


def _jobs(question: Question, plan: Numbers) -> tuple[Job, ...]:
    jobs: list[Job] = []
    by_products = _by_products(question, plan)
    for at, alone in enumerate(plan.units):
        item, supply = question.supply(at)
        if supply.how in {SupplyWay.BUY, SupplyWay.MIX}:
            continue
        if question.nights.sources[at].beside is not None:
            continue
        also = by_products.get(at, {})
        for day in sorted({*alone, *also}):
            on, units = question.day(day), alone.get(day, 0) + also.get(day, 0)
            start = None
            if supply.hours is not None:
                begins = question.day(day - question.nights.sources[at].lead)
                opens, now = question.coming.opens, question.now
                start = start_on(begins, on, opens, supply.hours.hours, now)
            jobs.append(
                Job(
                    ingredient=item.ingredient,
                    supply=supply,
                    ready=on,
                    units=units,
                    amount=units * supply.unit,
                    start=start,
                    weigh=_weighed_out(supply, units),
                    use_by=None if supply.keeps is None else on + timedelta(days=supply.keeps),
                    same_eggs=also.get(day, 0),
                )
            )
    return tuple(jobs)


def _by_products(question: Question, plan: Numbers) -> Mapping[int, Mapping[int, int]]:
    """Units that come beside others, by the position of the item's own source and day."""
    return {
        source.item: ready
        for source, ready in zip(question.nights.sources, plan.units, strict=True)
        if source.beside is not None
    }


def _in_order(jobs: Iterable[Job]) -> tuple[Job, ...]:
    """Jobs in the order of the prep list: by day, by the hour if they have one, by name."""

    def place(job: Job) -> tuple[date, bool, datetime, str]:
        return job.day, job.start is None, job.start or datetime.min, job.ingredient.name.casefold()

    return tuple(sorted(jobs, key=place))


def _weighed_out(supply: Supply, units: int) -> tuple[tuple[str, float], ...]:
    if supply.prep is None:
        return ()
    times = units * supply.batches
    return tuple((put.name, scale_grams(times * put.grams)) for put in supply.prep.puts)


def _orders(question: Question, plan: Numbers, poured: PouredPlan) -> tuple[BuyingOrder, ...]:
    left = {each.item: each.amount / TICKS for each in poured.left}
    orders: list[BuyingOrder] = []
    for at, units in enumerate(plan.bought(question.nights)):
        item, supply = question.supply(at)
        if not units or supply.how is not SupplyWay.BUY:
            continue
        number = question.nights.sources[at].item
        closed = poured.unopened[-1][at] * question.nights.sources[at].size / TICKS
        cost = question.paid(at, units)
        orders.append(
            BuyingOrder(item.ingredient, supply, units, cost, left.get(number, 0.0) + closed)
        )
    return tuple(sorted(orders, key=lambda o: (o.supply.supplier, o.ingredient.name.casefold())))


def _endings(
    question: Question, plan: Numbers, poured: PouredPlan, bar: Bar
) -> tuple[tuple[Ending, ...], tuple[Ending, ...]]:
    """What spoils within the plan, and what is left of what is dated after it."""
    specs = read_specs(bar.specs)
    spoiled = [LeftAfter(each.item, each.day, each.amount) for each in poured.spoiled]
    later = [*left_after(question, plan, poured)]
    book = [(spec, _all_it_pours(spec, bar)) for spec in specs] if spoiled or later else []

    after = question.day(question.nights.days)
    aside = tuple(aside_endings(question))

    def endings(found: Iterable[LeftAfter], beside: Iterable[Ending]) -> tuple[Ending, ...]:
        told = (_ending(question, each, book, bar) for each in found if each.ticks >= CRUMB * TICKS)
        every = (*told, *beside)
        return tuple(sorted(every, key=lambda e: (e.day, -(e.worth or 0.0), e.ingredient.name)))

    over = [each for each in aside if each.day < after]
    return endings(spoiled, over), endings(later, (each for each in aside if each.day >= after))


def _all_it_pours(spec: Spec, bar: Bar) -> Mapping[str, float]:
    """What a serve pours, or takes of its batch that stands mixed."""
    mixed = standing_batch(spec, bar)
    of_batch = {} if mixed is None else {mixed.key: mixed.each_ml}
    return {**one_serve(spec, bar).poured, **of_batch}


def _ending(question: Question, left: LeftAfter, book: Book, bar: Bar) -> Ending:
    item, amount = question.items[left.item], left.ticks / TICKS
    specials = _specials(question, item, amount, book)
    return Ending(
        ingredient=item.ingredient,
        day=question.day(left.day),
        amount=amount,
        worth=amount * item.worth if item.priced else None,
        specials=specials[:MOST_SPECIALS],
        profile=profile_to_design(item.ingredient, (s.spec.profile for s in specials), bar),
        opened=left.opened,
    )


def _specials(question: Question, item: Item, amount: float, book: Book) -> tuple[Special, ...]:
    planned = {drink.spec.name for drink in question.drinks}
    nearly = NEARLY if item.supply.how is SupplyWay.MIX else 1e-9
    found: list[Special] = []
    for spec, poured in book:
        each = poured.get(item.key, 0.0)
        if each and (serves := math.floor(amount / each + nearly)):
            found.append(Special(spec, serves, spec.name in planned))
    return tuple(sorted(found, key=lambda special: (special.serves, special.spec.name)))


def _courses(question: Question, poured: PouredPlan) -> tuple[Course, ...]:
    return tuple(
        Course(
            ingredient=item.ingredient,
            amounts=tuple(
                (day[number] + closed) / TICKS
                for day, closed in zip(poured.stock, _closed(question, poured, number), strict=True)
            ),
            taken=tuple(day.get(number, 0) / TICKS for day in poured.taken),
            spoiled=tuple(
                (each.day, each.amount / TICKS) for each in poured.spoiled if each.item == number
            ),
        )
        for number, item in enumerate(question.items)
    )


def _closed(question: Question, poured: PouredPlan, number: int) -> Iterator[int]:
    """Ticks of an item in bottles that are not open at the end of each day.

    Fruit has no bottle: it is bought as late as it is used.
    """
    source, supply = question.nights.sources[number], question.items[number].supply
    there = supply.how is SupplyWay.BUY and supply.fruit is None
    return (day[number] * source.size if there else 0 for day in poured.unopened)
