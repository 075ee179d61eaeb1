"""The lexicographic optimum of a run of nights: stage after stage, each with its bound.

Each stage minimises among the plans that the stages before it left: what is lost (what is paid and
what spoils), then the distance from the wished shares, then what is got ready and how early. On
request waste comes first, then cost. A menu has other later stages: the cost of what is poured,
then how little its drinks differ and how much they change from night to night.
"""

from __future__ import annotations

import enum
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from solver.clock import Clock, Work
from solver.night.best_serves import BestServes
from solver.night.demands import NightDemand
from solver.night.large_neighbourhood import DeniedError, better, same_serves, wished
from solver.night.menu_rows import MenuRows, demands_of, rows_of
from solver.night.plan_rows import NightRows
from solver.night.problem import Nights, PlanValues
from solver.search.milp.integer_program import (
    Enough,
    Infeasible,
    IntTerms,
    ProgramOutOfTime,
    ProgramSolver,
    SolvedProgram,
    total,
)

SOLVING = 0.8
"""Share of a stage's time for a solver of the whole program; the rest is for local search."""
CHOOSING = 0.9
"""The same for a menu."""
TIDYING, TIDYING_S = 0.1, 2.0
"""Share of the time, and seconds at most, for removing from a plan what it does not need."""
SHARE = 0.01
"""Relative gap at which a stage may end."""


@enum.unique
class NightAim(enum.Enum):
    """What the stages minimise, in their order."""

    LOSS = "loss"
    WASTE = "waste"
    COST = "cost"
    POURING = "pouring"
    SAMENESS = "sameness"
    EVENNESS = "evenness"
    WORK = "work"


OF_PLANS = (NightAim.LOSS, NightAim.EVENNESS, NightAim.WORK)
WASTE_FIRST = (NightAim.WASTE, NightAim.COST, NightAim.EVENNESS, NightAim.WORK)
"""For who would rather buy than throw away, whatever it costs."""
OF_MENUS = (NightAim.LOSS, NightAim.POURING, NightAim.SAMENESS)
MENUS_WASTE_FIRST = (NightAim.WASTE, NightAim.COST, NightAim.POURING, NightAim.SAMENESS)
STAGE_TIME = {
    NightAim.LOSS: 0.8, NightAim.WASTE: 0.5, NightAim.COST: 0.5, NightAim.POURING: 0.2,
    NightAim.SAMENESS: 0.05, NightAim.EVENNESS: 0.1, NightAim.WORK: 0.05,
}  # fmt: skip
"""Share of all the time that each stage may take at most."""
GIVEN_UP = {NightAim.POURING: 0.05}
"""Share of a stage's value that later stages may give up: a menu of many sorts may cost a little
more to pour than the cheapest. Our own choice."""


@dataclass(frozen=True)
class ProofStage:
    """The value of a stage, and a lower bound on it among the plans that the stages before left.

    A difference up to `within` is negligible.
    """

    aim: NightAim
    value: int
    bound: int
    within: int = 0

    @property
    def proven(self) -> bool:
        """Whether the gap is negligible."""
        return self.value - self.bound <= self.within

    def leaves(self, share: float) -> int:
        """The most that the value may be in later stages.

        A proven stage allows its share of `GIVEN_UP`, any other its `share` above the bound; either
        the value found, if that is more.
        """
        given_up = GIVEN_UP.get(self.aim, 0.0)
        most = max(self.value, math.floor(self.bound * (1 + given_up)))
        return most if self.proven else max(most, math.floor(self.bound * (1 + share)))

    @property
    def gap(self) -> float:
        """The relative gap between value and bound; 0 if proven."""
        return (self.value - self.bound) / self.value if not self.proven else 0.0


@dataclass(frozen=True)
class Planned:
    """A plan, and its stages in order: those of `aims` for which there was time."""

    plan: PlanValues
    stages: tuple[ProofStage, ...]
    aims: tuple[NightAim, ...] = OF_PLANS

    @property
    def proven(self) -> bool:
        """Whether every stage is proven."""
        return len(self.stages) == len(self.aims) and all(stage.proven for stage in self.stages)


@dataclass(frozen=True)
class NoPlan:
    """Proven: no plan meets the demands."""


@dataclass(frozen=True)
class NoTime:
    """The time was up before a plan was found or ruled out."""


PlanResult = Planned | NoPlan | NoTime


def best_plan(
    question: Nights,
    solver: ProgramSolver,
    clock: Clock,
    share: float = SHARE,
    aims: Sequence[NightAim] = (),
    dropped: frozenset[NightDemand] = frozenset(),
) -> PlanResult:
    """The best plan that meets all demands but those `dropped`.

    `aims` are the stages, by default those of a plan or a menu. A stage may end at a relative gap
    of `share`.
    """
    aims = aims or (OF_PLANS if question.menu is None else OF_MENUS)
    rows = rows_of(question, frozenset(demands_of(question)) - dropped)
    stages: list[ProofStage] = []
    minimised: list[IntTerms] = []
    values: tuple[int, ...] = ()
    goals = _goals(rows)
    patience = {aim: part * clock.left for aim, part in STAGE_TIME.items()}
    tidying = min(TIDYING_S, TIDYING * clock.left)
    gap: float | None = None
    for number, aim in enumerate(aims):
        clock.tell(Work.STAGES, number, len(aims), gap)
        terms = goals[aim]()
        time = clock.within(min(patience[aim], max(0.0, clock.left - tidying)))
        enough = _enough(question, aim, share)
        found = _stage(rows, terms, aim, solver, time, values, enough)
        if isinstance(found, Infeasible):
            return NoPlan()
        if isinstance(found, ProgramOutOfTime):
            break
        values = found.values
        within = max(enough.within, math.floor(GIVEN_UP.get(aim, 0.0) * found.value))
        stages.append(ProofStage(aim, found.value, found.whole_bound, within))
        gap = stages[-1].gap
        minimised.append(terms)
        rows.program.between(terms, None, stages[-1].leaves(share))
    if not values:
        return NoTime()
    if NightAim.WORK not in aims:  # nobody gets ready what is not needed
        values = same_serves(rows, rows.work(), clock.within(TIDYING_S), values) or values
    ended = zip(stages, minimised, strict=True)
    return Planned(
        rows.plan(values),
        tuple(replace(stage, value=total(terms, values)) for stage, terms in ended),
        tuple(aims),
    )


def _enough(question: Nights, aim: NightAim, share: float) -> Enough:
    """The gap at which a stage may end."""
    money = aim in {NightAim.LOSS, NightAim.COST}
    cared = share and max(share, GIVEN_UP.get(aim, 0.0))
    return Enough(question.cost_within if money else 0, cared)


def _stage(
    rows: NightRows,
    goal: IntTerms,
    aim: NightAim,
    solver: ProgramSolver,
    time: Clock,
    values: tuple[int, ...],
    enough: Enough,
) -> SolvedProgram | Infeasible | ProgramOutOfTime:
    """The result of one stage; `values` are the plan of the stages before it, if any.

    Raises:
        DeniedError: a solver claims that there is no plan, and one is known.
    """
    serves = _best_serves(rows, goal, aim)
    rows.program.finish = None if serves is None else serves.finish
    begun = _begun(rows, goal, time, values)
    match _solved(rows, goal, solver, time, begun, enough):
        case Infeasible() if values or begun:
            raise DeniedError
        case SolvedProgram() as found if serves is not None and serves.known:
            return serves.solved(found, time, enough)
        case SolvedProgram() as found:
            return better(rows, goal, time, found, enough)
        case without_plan:
            return without_plan


def _goals(rows: NightRows) -> dict[NightAim, Callable[[], IntTerms]]:
    """The objective of each stage, by functions that add its variables and rows when called."""
    goals: dict[NightAim, Callable[[], IntTerms]] = {
        NightAim.LOSS: rows.loss,
        NightAim.WASTE: rows.waste,
        NightAim.COST: rows.cost,
        NightAim.EVENNESS: rows.unevenness,
        NightAim.WORK: rows.work,
    }
    if isinstance(rows, MenuRows):
        goals |= {NightAim.POURING: rows.pouring, NightAim.SAMENESS: rows.sameness}
    return goals


def _best_serves(rows: NightRows, goal: IntTerms, aim: NightAim) -> BestServes | None:
    """The local search among serves; None for a menu, and for an aim that is not a sum of what is
    paid and what spoils."""
    counts = {NightAim.LOSS: (1, rows.question.worth_costs), NightAim.WASTE: (0, 1)}
    if isinstance(rows, MenuRows) or aim not in counts:
        return None
    return BestServes(rows, goal, *counts[aim])


def _begun(
    rows: NightRows, goal: IntTerms, time: Clock, values: tuple[int, ...]
) -> tuple[int, ...]:
    """A plan to begin a stage with; empty if none is known.

    The serves of the stage before, with what is got chosen anew; for the first stage the wished
    shares, which a menu has not.
    """
    if values:
        return same_serves(rows, goal, time, values)
    return () if isinstance(rows, MenuRows) else wished(rows, goal, time)


def _solved(
    rows: NightRows,
    goal: IntTerms,
    solver: ProgramSolver,
    time: Clock,
    begun: Sequence[int],
    enough: Enough,
) -> SolvedProgram | Infeasible | ProgramOutOfTime:
    """The result of a solver of the whole program, or the better plan found beside it."""
    beside = SolvedProgram(tuple(begun), total(goal, begun), -math.inf) if begun else None

    def change(ended: Callable[[], bool]) -> None:
        nonlocal beside
        if beside is not None:
            beside = better(rows, goal, time, beside, enough, ended)

    part = CHOOSING if isinstance(rows, MenuRows) else SOLVING
    program = replace(rows.program, meanwhile=change)
    found = solver.minimise(program, goal, time.within(part * time.left), begun, enough)
    match found:
        case SolvedProgram() if beside is not None and beside.value < found.value:
            return SolvedProgram(beside.values, beside.value, found.bound)
        case ProgramOutOfTime(bound) if beside is not None:
            return SolvedProgram(beside.values, beside.value, bound)
        case _:
            return found
