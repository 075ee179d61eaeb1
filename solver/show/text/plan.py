"""A plan as people read it: what to prepare, the nights, the order, what will spoil."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from solver.pantry.bar import Bar
from solver.show.text import plan_proof
from solver.show.text import plan_words as words
from solver.show.text.guest import DEFERS
from solver.show.text.plan_told import job_told, told_text, wash_said
from solver.show.words.names_in_a_row import listed
from solver.tasks.plan.answer import Ending, Plan, PlanAnswer, PlanOutOfTime, Refusal

MOST_TOLD = 3
"""Things that are told with what would use them up; of the others only how much there is."""


def plan_text(found: PlanAnswer, bar: Bar, *, everything: bool = False) -> str:
    """The answer; `everything` lists all that is left in the end."""
    match found:
        case Plan():
            return "\n".join(_plan(found, bar, everything=everything))
        case Refusal():
            return "\n".join(_refusal(found))
        case PlanOutOfTime():
            return "There was no time to find a plan, or to prove that there is none."


def _plan(plan: Plan, bar: Bar, *, everything: bool) -> Iterator[str]:
    total = sum(evening.count for evening in plan.evenings)
    name = plan.question.coming.name or "Plan"
    first, last = plan.evenings[0].day, plan.evenings[-1].day
    until = "" if first == last else f" to {words.day_said(last)}"
    yield f"{name}: {words.count_said(total)}, {words.day_said(first)}{until}"
    yield ""
    yield "Prepare:"
    yield from _jobs(plan)
    yield ""
    yield "Pour:"
    for evening in plan.evenings:
        yield f"  {words.day_said(evening.day)}: {words.drinks_said(evening)}"
        yield f"    {words.ice_said(evening)}{_garnishes(evening.garnishes)}"
    yield ""
    yield from told_text(plan)
    yield ""
    yield from orders(plan, bar)
    yield ""
    yield from _endings(plan, bar)
    if everything:
        yield ""
        yield from _left(plan)
    remarks = plan_proof.remarks(plan)
    if remarks:
        yield ""
        yield from remarks
    yield ""
    yield from plan_proof.proof_said(plan, bar.currency)
    if plan.second:
        yield plan_proof.second_said(plan.second)
    yield DEFERS
    ice = "as bar.toml says" if bar.costing.ice_stated else "common practice, no source"
    yield f"Days of life are planning defaults, never a promise that a thing is safe. Ice: {ice}."
    if bar.today_stated:
        yield f"Today is {bar.today}, as bar.toml says."


def _jobs(plan: Plan) -> Iterator[str]:
    if not plan.jobs:
        yield "  nothing: what is there is enough"
    for job, notice in zip(plan.jobs, plan.told.jobs, strict=True):
        when = f"begin by {words.moment_said(job.start)}" if job.start else words.day_said(job.day)
        beside = "".join(f"; {said}" for said in words.job_beside(job))
        yield f"  {when}  {job.ingredient.name}: {words.job_said(job)}{beside}"
        if job.weigh:
            yield f"    {words.weighed_said(job)}"
        yield from (f"    {line}" for line in (*wash_said(notice), *job_told(notice)))


def _garnishes(garnishes: Sequence[tuple[str, int]]) -> str:
    return "".join(f"; {count} × {said}" for said, count in garnishes)


def orders(plan: Plan, bar: Bar) -> Iterator[str]:
    """What to order, a line for each."""
    if not plan.orders:
        yield "Order: nothing"
        return
    unpriced = [order.ingredient.name for order in plan.orders if order.cost is None]
    without = f"; {plan_proof.without_price(unpriced)}" if unpriced else ""
    total = f", {words.money_said(plan.cost, bar.currency)}{without}"
    yield f"Order{', no prices known' if len(unpriced) == len(plan.orders) else total}:"
    for order in plan.orders:
        cost = "" if order.cost is None else f", {words.money_said(order.cost, bar.currency)}"
        left = ""
        if order.left >= 1:
            left = f", {words.amount_said(order.left, order.ingredient)} left after"
        whom = f" from {order.supply.supplier}" if order.supply.supplier else ""
        what = f"{order.ingredient.name}{whom}: {words.order_said(order)}"
        if order.supply.fruit is not None:  # its words name it
            what = f"{words.fruit_said(order)}{whom}"
        yield f"  {what}{cost}{left}"


def _endings(plan: Plan, bar: Bar) -> Iterator[str]:
    soon = words.soon_over(plan)
    opened = words.left_open(plan)
    heads = (("Will spoil", plan.endings, True), ("Left, and soon over", soon, False))
    for head, endings, always in heads:
        if not endings:
            if always:
                yield f"{head}: nothing"
            continue
        yield f"{head}:"
        ranked = sorted(endings, key=lambda e: -(e.worth or 0.0))
        told = [e for e in ranked if e.specials or (always and e.worth)][:MOST_TOLD]
        for ending in told:
            yield f"  {words.ending_said(ending, bar.currency)}"
            uses, design = words.specials_said(ending), words.design_said(ending)
            if uses:
                yield f"    {uses}{f'; or `{design}`' if design else ''}"
        rest = [e for e in ranked if e not in told]
        if rest:
            yield f"  {'and ' if told else ''}{_in_short(rest)}"
    if opened:
        yield f"Left in open bottles: {_in_short(opened)}"


def _in_short(endings: Sequence[Ending]) -> str:
    said = (
        f"{words.amount_said(e.amount, e.ingredient)} {e.ingredient.name} ({e.day})"
        for e in endings
    )
    return "; ".join(said)


def _left(plan: Plan) -> Iterator[str]:
    yield "Left in the end:"
    for course in plan.courses:
        left = course.amounts[-1]
        if left:
            said = words.amount_said(left, course.ingredient)
            yield f"  {course.ingredient.name}: {said}"


def _refusal(found: Refusal) -> Iterator[str]:
    yield "No."
    yield ""
    yield "There is no such plan. Proven."
    if found.second:
        yield plan_proof.second_said(found.second)
    yield from against(found, "plan")


def _others_said(found: Refusal) -> str:
    """That there are other clashes; how many at the least, where they were not all looked for."""
    if found.others == 1 and found.complete:
        return "There is one more such clash."
    least = "" if found.complete else "at least "
    return f"There are {least}{found.others} more such clashes."


def against(found: Refusal, what: str) -> Iterator[str]:
    """What speaks against a plan or a menu, and with what there would be one."""
    if found.conflict:
        yield ""
        yield "These cannot hold together, with what is on the shelf:"
        yield from (f"  {said}" for said in found.conflict)
        if found.others:
            yield _others_said(found)
    if found.in_the_way:
        yield ""
        yield "What cannot be had in time:"
        yield from (f"  {said}" for said in found.in_the_way)
    if found.ways:
        yield ""
        yield f"There would be a {what}"
        for way in found.ways:
            with_it = f"with {way.nearest}" if way.nearest else ""
            yield f"  {with_it or f'without {listed(way.dropped)}'}"
    if found.undecided:
        yield "There was no time to look at all of it."
