"""Assemble what a plan has to tell, from its drinks and its jobs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from solver.drinks.assess import assess
from solver.pantry.bar import Bar
from solver.pantry.disclosure import Disclosure
from solver.pantry.spec import Spec
from solver.tasks.plan.answer import Evening, Job
from solver.tasks.plan.told import JobNotice, PlanNotice, WashFirst


def notice_of(evenings: Sequence[Evening], jobs: Sequence[Job], bar: Bar) -> PlanNotice:
    """All that a plan has to tell."""
    poured: dict[str, Spec] = {
        spec.name: spec for evening in evenings for spec, count in evening.drinks if count
    }
    drinks = tuple((name, assess(spec, bar).guest) for name, spec in poured.items())
    return PlanNotice(drinks, tuple(_jobs(jobs, bar)))


def _jobs(jobs: Sequence[Job], bar: Bar) -> Iterator[JobNotice]:
    before: dict[str, tuple[str, Disclosure]] = {}
    for job in jobs:
        told = bar.told_of(job.ingredient)
        if job.vessel is None:
            yield JobNotice(told)
            continue
        name, last = before.get(job.vessel.vessel.name, ("", Disclosure()))
        possible = last.may_contain - told.may_contain
        left = sorted((last.allergens | possible) - told.allergens)
        yield JobNotice(told, WashFirst(name, tuple(left)) if left else None)
        before[job.vessel.vessel.name] = job.ingredient.name, told
