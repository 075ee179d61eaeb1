"""Why there is no plan: minimal conflicts, and single demands whose loss makes one possible."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from solver.clock import Clock
from solver.night.demands import NightDemand, NightDemandKind
from solver.night.why_no_plan import Reached, demand_conflicts, nearest_plan
from solver.pantry.bar import Bar
from solver.search.milp.integer_program import ProgramSolver
from solver.tasks.plan import demand_words
from solver.tasks.plan.answer import PlanWayOut, Refusal
from solver.tasks.plan.missing_supplies import missing_supplies
from solver.tasks.plan.question import Question
from solver.tasks.plan.ways_out import plan_ways_out

NAMED = 6
"""Ways out that are told."""


@dataclass(frozen=True)
class PlanWords:
    """Functions that put demands, and how near a plan comes to one, into words.

    They return "" for nothing near, and for what needs no words. With `must_pour`, pouring nothing
    is no way out. `lacking` says what cannot be had in time for some conflicting demands.
    """

    said: Callable[[NightDemand, Question, Bar], str]
    reached: Callable[[NightDemand, Reached, Question, Bar], str]
    instead: Callable[[NightDemand, Question, Bar], str] = lambda *_: ""
    must_pour: bool = False
    lacking: Callable[[Question, Sequence[NightDemand]], tuple[str, ...]] = lambda *_: ()


def why_no_plan(
    question: Question, bar: Bar, solver: ProgramSolver, clock: Clock, began: float,
    words: PlanWords | None = None,
) -> Refusal:  # fmt: skip
    """The reasons for a question without a plan, in the words of plans or in others."""
    found = demand_conflicts(question.nights, solver, clock)
    first = sorted(found.found[0], key=_order) if found.found else []
    ways: list[PlanWayOut] = []
    for correction in found.corrections[:NAMED]:
        demands = sorted(correction, key=_order)
        if words is None:
            ways += plan_ways_out(question, demands, bar, solver, clock)
        else:
            ways += _in_words(question, demands, words, bar, solver, clock)
    in_words = demand_words.demand_said if words is None else words.said
    return Refusal(
        question=question,
        conflict=tuple(in_words(demand, question, bar) for demand in first),
        others=max(0, len(found.found) - 1),
        ways=_short(ways),
        complete=found.complete and bool(ways or clock.left),
        undecided=found.undecided or not (ways or clock.left),
        seconds=time.monotonic() - began,
        in_the_way=missing_supplies(question) if words is None else words.lacking(question, first),
    )


def _short(ways: Sequence[PlanWayOut]) -> tuple[PlanWayOut, ...]:
    """The ways out without those that drop much, if there are others."""
    fewest = min((len(way.dropped) for way in ways), default=0)
    return tuple(way for way in ways if len(way.dropped) <= fewest + 1)


def _in_words(
    question: Question, demands: Sequence[NightDemand], words: PlanWords, bar: Bar,
    solver: ProgramSolver, clock: Clock,
) -> Iterator[PlanWayOut]:  # fmt: skip
    """Yield the ways out for the demands of the conflicts, in words."""
    dropped = tuple(words.said(demand, question, bar) for demand in demands)
    near = nearest_plan(question.nights, demands, solver, clock) if len(demands) == 1 else None
    if words.must_pour and near is not None and not any(map(any, near.plan.serves)):
        return
    told = words.reached(demands[0], near, question, bar) if near else ""
    others = filter(None, (words.instead(demand, question, bar) for demand in demands))
    yield PlanWayOut(dropped, told or " and ".join(others))


def _order(demand: NightDemand) -> tuple[int, int]:
    return list(NightDemandKind).index(demand.kind), demand.at
