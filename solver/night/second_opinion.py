"""Whether two solvers' answers to one question are consistent.

Neither needs to be optimal: a plan of one contradicts a bound of the other if it is better than the
bound allows.
"""

from __future__ import annotations

import enum
import math
from collections.abc import Sequence

from solver.night.best_plan import SHARE, NoPlan, NoTime, Planned, PlanResult, ProofStage


@enum.unique
class SecondVerdict(enum.Enum):
    """The verdict of a second solver on the first one's answer."""

    AGREES = "agrees"
    DISAGREES = "disagrees"
    OPEN = "open"
    """It has found no contradiction, and has not proven as much itself."""


def second_verdict(first: PlanResult, second: PlanResult, share: float = SHARE) -> SecondVerdict:
    """Whether two answers agree, as far as their stages ask the same.

    A stage is about the plans that the stages before it left, and each answer leaves its own.
    """
    match first, second:
        case (NoTime(), _) | (_, NoTime()):
            return SecondVerdict.OPEN
        case NoPlan(), NoPlan():
            return SecondVerdict.AGREES
        case Planned(), Planned():
            return _of_stages(first.stages, second.stages, share)
        case _:
            return SecondVerdict.DISAGREES


def _of_stages(
    first: Sequence[ProofStage], second: Sequence[ProofStage], share: float
) -> SecondVerdict:
    same_plans_left = True
    for one, other in zip(first, second, strict=False):
        if not same_plans_left:
            return SecondVerdict.OPEN
        if _contradict(one, other) or _contradict(other, one):
            return SecondVerdict.DISAGREES
        if one.value - other.bound > max(one.within, math.floor(share * one.value)):
            return SecondVerdict.OPEN
        same_plans_left = one.leaves(share) == other.leaves(share)
    return SecondVerdict.AGREES if len(first) <= len(second) else SecondVerdict.OPEN


def _contradict(one: ProofStage, other: ProofStage) -> bool:
    """Whether a plan is better than the other solver's bound allows."""
    return one.value < other.bound
