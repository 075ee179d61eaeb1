"""Assign the bar's vessels to what is prepared.

A job has its vessel from the day it is begun to the day it is ready. Jobs choose by size, largest
first, the smallest free vessel that holds them (best fit). A job without one is made twice in a
free vessel rather than wait; otherwise it waits its turn.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from solver.pantry.vessels import Vessel, smallest_for
from solver.tasks.plan.answer import Job, VesselUse

TWICE = 2


def with_vessels(jobs: Sequence[Job], vessels: Sequence[Vessel]) -> tuple[Job, ...]:
    """The jobs with their vessels; none for what is weighed out, or without known vessels."""
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
    """The vessel for an amount while those of `beside` are in use."""
    free = [vessel for vessel in vessels if vessel not in beside]
    for makes in (1, TWICE):
        vessel = smallest_for(volume_ml / makes, free)
        if vessel is not None:
            return VesselUse(vessel, makes)
    largest = max(vessels, key=lambda each: each.volume_ml)
    shared = smallest_for(volume_ml, vessels) or largest
    return VesselUse(shared, math.ceil(volume_ml / shared.room_ml), beside.get(shared))
