"""Assemble what a plan has to tell, from its drinks and its jobs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from solver.drinks.assess import assess
from solver.pantry.bar import Bar
from solver.pantry.disclosure import Disclosure
from solver.pantry.spec import Spec
from solver.tasks.plan.answer import Evening, Job
from solver.tasks.plan.plan_notice import JobNotice, PlanNotice, WashFirst
from solver.tasks.prep.house_recipes import keeping_as_stated


def notice_of(evenings: Sequence[Evening], jobs: Sequence[Job], bar: Bar) -> PlanNotice:
    """All that a plan has to tell."""
    poured: dict[str, Spec] = {
        spec.name: spec for evening in evenings for spec, count in evening.drinks if count
    }
    # What is poured is ready, and in time: how the bar's bottles are today is no news then.
    drinks = tuple((name, assess(spec, bar).guest.served) for name, spec in poured.items())
    return PlanNotice(drinks, tuple(_jobs(jobs, bar)))


def _jobs(jobs: Sequence[Job], bar: Bar) -> Iterator[JobNotice]:
    washed = dict(_wash_first(jobs, bar))
    for at, job in enumerate(jobs):
        prep = job.supply.prep
        kept = keeping_as_stated(job.ingredient, bar) if prep is None else prep.keeping
        yield JobNotice(bar.told_of(job.ingredient), washed.get(at), kept.hazards)


def _wash_first(jobs: Sequence[Job], bar: Bar) -> Iterator[tuple[int, WashFirst]]:
    """What a vessel has to be washed of for a job, by its position; jobs in a vessel in the order
    in which they begin. One that has no vessel is made in none that is known."""
    before: dict[str, tuple[str, Disclosure]] = {}
    uses = [
        (job.vessel.begins, at, job.vessel.vessel)
        for at, job in enumerate(jobs)
        if job.vessel and job.vessel.fits
    ]
    for _, at, vessel in sorted(uses, key=lambda use: use[:2]):
        told = bar.told_of(jobs[at].ingredient)
        name, last = before.get(vessel.name, ("", Disclosure()))
        possible = last.may_contain - told.may_contain
        left = sorted((last.allergens | possible) - told.allergens)
        if left:
            yield at, WashFirst(name, tuple(left))
        before[vessel.name] = jobs[at].ingredient.name, told
