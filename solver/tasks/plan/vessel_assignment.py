"""Assign a vessel of the bar to everything that is prepared.

A job has its vessel for the hours that it takes; one without hours takes those of `HANDS_H` on its
day. A vessel holds everything that goes in. The largest jobs choose first, and take the smallest
vessel that fits and is unused on all of their days, so most jobs find a place. A job without one is
made twice in an unused vessel, rather than wait for another; else it has its turn before or after
others, if the hours allow it. Several makes take the hours of each. No job starts before its own
day, from which its inputs and its life are counted.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, time, timedelta

from solver.pantry.vessels import Vessel, smallest_for
from solver.tasks.plan.answer import Job, VesselUse
from solver.tasks.plan.hours import HANDS_H, KITCHEN_FROM
from solver.tasks.plan.supply import SupplyWay

TWICE = 2
LEAST_FILLED = 0.1
"""Share of a vessel below which nobody lets juice stand in it, but in any small pot: common
practice, no source."""


@dataclass(frozen=True)
class _Turn:
    """A job in a vessel until its `end`."""

    job: Job
    use: VesselUse
    end: datetime

    @property
    def start(self) -> datetime:
        """When it begins."""
        return self.use.begins


def with_vessels(
    jobs: Sequence[Job], vessels: Sequence[Vessel], opens: time, now: datetime
) -> tuple[Job, ...]:
    """Jobs with their vessels, started earlier where these ask for it; what is weighed out gets
    none."""
    mixed = [at for at, job in enumerate(jobs) if job.ingredient.per != "g"]
    poured = [at for at in mixed if not _stood(jobs[at])]
    if not vessels or not mixed:
        return tuple(jobs)
    tried = [
        _turns(jobs, order, vessels, opens, now)
        for order in (
            sorted(poured, key=lambda at: -jobs[at].filled_ml),
            sorted(poured, key=lambda at: -_hours(jobs[at])),  # if one found no vessel
        )
    ]
    turns = min(tried, key=lambda turns: sum(not turn.use.fits for turn in turns.values()))
    turns |= _standing(jobs, [at for at in mixed if at not in turns], vessels, turns, opens)
    placed = {at: _told(turn, turns.values()) for at, turn in turns.items()}
    return tuple(placed.get(at, job) for at, job in enumerate(jobs))


def _hours(job: Job) -> float:
    return HANDS_H if job.supply.hours is None else job.supply.hours.hours


def _turns(
    jobs: Sequence[Job], order: Sequence[int], vessels: Sequence[Vessel], opens: time, now: datetime
) -> dict[int, _Turn]:
    """The turns of jobs that choose in an order, by position."""
    turns: dict[int, _Turn] = {}
    for at in order:
        others = [turn for turn in turns.values() if turn.use.fits]
        turns[at] = _turn(jobs[at], vessels, others, opens, now)
    return turns


def _stood(job: Job) -> bool:
    """Whether it stands where it is pressed or separated, until the night is over."""
    return job.supply.how in {SupplyWay.PRESS, SupplyWay.SEPARATE}


def _standing(
    jobs: Sequence[Job],
    pressed: Sequence[int],
    vessels: Sequence[Vessel],
    made: Mapping[int, _Turn],
    opens: time,
) -> dict[int, _Turn]:
    """The turns of what stands from the opening on until the kitchen begins again, beside others,
    by position; the largest choose first."""
    busy = [turn for turn in made.values() if turn.use.fits]
    found: dict[int, _Turn] = {}
    for at in sorted(pressed, key=lambda at: -jobs[at].filled_ml):
        start = datetime.combine(jobs[at].ready, opens) - timedelta(hours=HANDS_H)
        end = datetime.combine(jobs[at].ready + timedelta(days=1), KITCHEN_FROM)
        taken = {turn.use.vessel for turn in busy if turn.start < end and start < turn.end}
        most_ml = jobs[at].filled_ml / LEAST_FILLED
        free = (v for v in vessels if v not in taken and v.volume_ml <= most_ml)
        vessel = smallest_for(jobs[at].filled_ml, free)
        if vessel is not None:
            found[at] = _Turn(jobs[at], VesselUse(vessel, 1, start), end)
            busy.append(found[at])
    return found


def _turn(
    job: Job, vessels: Sequence[Vessel], others: Sequence[_Turn], opens: time, now: datetime
) -> _Turn:
    """Where and when a job is made, given the turns of others."""
    taken = {other.use.vessel for other in others if _same_days(job, other.job)}
    unused = [vessel for vessel in vessels if vessel not in taken]
    for makes in (1, TWICE):
        vessel = smallest_for(job.filled_ml / makes, unused)
        if vessel is not None:
            turn = _latest(job, vessel, makes, (), opens, now)
            if turn is not None:
                return turn
    busy = {v: [other for other in others if other.use.vessel == v] for v in vessels}
    turns = list(_in_turn(job, busy, opens, now))
    if turns:
        return min(turns, key=_preferred)
    largest = max(vessels, key=lambda vessel: vessel.volume_ml)
    ready = datetime.combine(job.ready, opens)
    use = VesselUse(largest, _makes(job, largest), ready, fits=False)
    return _Turn(job, use, ready)


def _in_turn(
    job: Job, busy: Mapping[Vessel, Sequence[_Turn]], opens: time, now: datetime
) -> Iterator[_Turn]:
    for vessel, others in busy.items():
        turn = _latest(job, vessel, _makes(job, vessel), others, opens, now)
        if turn is not None:
            yield turn


def _preferred(turn: _Turn) -> tuple[int, float, float]:
    """The sort key of a turn: few makes, late, small vessel."""
    return turn.use.makes, -turn.start.timestamp(), turn.use.vessel.volume_ml


def _makes(job: Job, vessel: Vessel) -> int:
    return math.ceil(job.filled_ml / vessel.room_ml)


def _latest(
    job: Job, vessel: Vessel, makes: int, others: Iterable[_Turn], opens: time, now: datetime
) -> _Turn | None:
    """The latest turn in a vessel beside others; None if it would not be ready, or start too
    early."""
    one = timedelta(hours=_hours(job))
    takes = makes * one
    # It may end before the bar opens: nobody starts at night.
    end = datetime.combine(job.ready, opens) if job.start is None else job.start + one
    first = min(end - one, max(now, datetime.combine(job.day, KITCHEN_FROM)))
    for other in sorted(others, key=lambda other: other.end, reverse=True):
        if other.start < end and end - takes < other.end:
            end = other.start
    start = end - takes
    return _Turn(job, VesselUse(vessel, makes, start), end) if start >= first else None


def _told(turn: _Turn, turns: Iterable[_Turn]) -> Job:
    """The job of a turn, with what has its vessel before it on its day."""
    before = [
        other
        for other in turns
        if other.use.vessel == turn.use.vessel
        and other.use.fits
        and turn.use.fits
        and other.end <= turn.start
        and other.end.date() == turn.start.date()
        and not _stood(other.job)  # whoever closes washes up
    ]
    after = max(before, key=lambda other: other.end, default=None)
    use = replace(turn.use, after=after.job.ingredient.name if after else None)
    starts = turn.use.fits and turn.job.start is not None
    return replace(turn.job, vessel=use, start=turn.start if starts else turn.job.start)


def _same_days(one: Job, other: Job) -> bool:
    return one.day <= other.ready and other.day <= one.ready
