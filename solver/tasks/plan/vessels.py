"""Who needs what vessel: each thing that is prepared in one of the bar's that holds it.

A thing has its vessel from the day on which it is begun to the day on which it is ready. The
largest choose first, and take the smallest that holds them and is free then: of things that fit
whatever a smaller one fits, so the most find a place. What finds none is made twice in one that is
free, sooner than wait for another; else it waits for its turn.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from solver.pantry.vessels import Vessel, smallest_for
from solver.tasks.plan.answer import Job, VesselUse

TWICE = 2


def with_vessels(jobs: Sequence[Job], vessels: Sequence[Vessel]) -> tuple[Job, ...]:
    """Jobs with the vessels they need; what is weighed out, or known by no vessel, has none."""
    placed: dict[int, VesselUse] = {}
    poured = [at for at, job in enumerate(jobs) if job.ingredient.per != "g"]
    for at in sorted(poured, key=lambda at: -jobs[at].amount) if vessels else ():
        beside = {
            use.vessel: jobs[other].ingredient.name
            for other, use in placed.items()
            if _at_once(jobs[at], jobs[other])
        }
        placed[at] = _use(jobs[at].amount, vessels, beside)
    return tuple(replace(job, vessel=placed.get(at)) for at, job in enumerate(jobs))


def _at_once(one: Job, other: Job) -> bool:
    return one.day <= other.ready and other.day <= one.ready


def _use(volume_ml: float, vessels: Sequence[Vessel], beside: dict[Vessel, str]) -> VesselUse:
    """Where so much is made while others have the vessels of `beside`."""
    free = [vessel for vessel in vessels if vessel not in beside]
    for makes in (1, TWICE):
        vessel = smallest_for(volume_ml / makes, free)
        if vessel is not None:
            return VesselUse(vessel, makes)
    largest = max(vessels, key=lambda each: each.volume_ml)
    shared = smallest_for(volume_ml, vessels) or largest
    return VesselUse(shared, math.ceil(volume_ml / shared.room_ml), beside.get(shared))
