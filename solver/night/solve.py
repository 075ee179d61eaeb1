"""The best plan: stage after stage, each with its proof.

Stages, each among the plans that are best so far: the least that is lost, which is what is paid and
what spoils; as near as can be to the wished shares; the least to get ready (and that late). Who
asks for it has waste first and then cost. A menu has in place of shares the least that is poured,
and the most sorts of drinks.
"""

from __future__ import annotations

import enum
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from solver.clock import Clock, Work
from solver.night.best_serves import BestServes
from solver.night.demands import NightDemand
from solver.night.improve import DeniedError, better, same_serves, wished
from solver.night.menu_rows import MenuRows, demands_of, rows_of
from solver.night.problem import Nights, PlanValues
from solver.night.rows import NightRows
from solver.search.milp.integer_program import (
    Enough,
    Infeasible,
    ProgramOutOfTime,
    SolvedProgram,
    Solver,
    Terms,
    total,
)

SOLVING = 0.8
"""Share of a stage's time for a solver that sees the whole; the rest is for changes."""
CHOOSING = 0.9
"""The same of a menu, which is narrowed down rather than changed."""
TIDYING, TIDYING_S = 0.1, 2.0
"""The part of the time, and seconds at most, in which what is not needed is taken out of a plan."""
SHARE = 0.01
"""How far from the best a stage may stay where the best itself takes too long, as a share of it."""


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
PATIENCE = {
    NightAim.LOSS: 0.8, NightAim.WASTE: 0.5, NightAim.COST: 0.5, NightAim.POURING: 0.2,
    NightAim.SAMENESS: 0.1, NightAim.EVENNESS: 0.1, NightAim.WORK: 0.05,
}  # fmt: skip
"""The part of all the time that each stage may take at most."""
GIVEN_UP = {NightAim.POURING: 0.05}
"""What of a stage is left to those after it: a menu of many sorts may cost a little more to pour
than the cheapest. Our own choice."""


@dataclass(frozen=True)
class ProofStage:
    """What a stage came to: no plan that is as good in the stages before has less than `bound`.

    A difference up to `within` is one that nobody cares for.
    """

    aim: NightAim
    value: int
    bound: int
    within: int = 0

    @property
    def proven(self) -> bool:
        """Whether nothing better exists, as far as anybody cares."""
        return self.value - self.bound <= self.within

    def leaves(self, share: float) -> int:
        """What the stages after it may make of its value.

        Where it is not known to the last what is best, nothing is given up for what nobody knows:
        they have the share in which it is not known.
        """
        given_up = GIVEN_UP.get(self.aim, 0.0)
        most = max(self.value, math.floor(self.bound * (1 + given_up)))
        return most if self.proven else max(most, math.floor(self.bound * (1 + share)))

    @property
    def gap(self) -> float:
        """How much better another plan might be, as a share of the value."""
        return (self.value - self.bound) / self.value if not self.proven else 0.0


@dataclass(frozen=True)
class Planned:
    """A plan, and the stages in order: of the `aims` that were asked those there was time for."""

    plan: PlanValues
    stages: tuple[ProofStage, ...]
    aims: tuple[NightAim, ...] = OF_PLANS

    @property
    def proven(self) -> bool:
        """Whether every stage is."""
        return len(self.stages) == len(self.aims) and all(stage.proven for stage in self.stages)


@dataclass(frozen=True)
class NoPlan:
    """The proof that no plan gives what is asked."""


@dataclass(frozen=True)
class NoTime:
    """The time was up before a plan was found or ruled out."""


Answer = Planned | NoPlan | NoTime


def best_plan(
    question: Nights,
    solver: Solver,
    clock: Clock,
    share: float = SHARE,
    aims: Sequence[NightAim] = (),
    dropped: frozenset[NightDemand] = frozenset(),
) -> Answer:
    """The best plan of all that give what is asked; of the stages only those of `aims`, if any.

    A stage that takes long ends where nothing can be better by more than that `share` of it. What
    is `dropped` of the demands need not be given.
    """
    aims = aims or (OF_PLANS if question.menu is None else OF_MENUS)
    rows = rows_of(question, frozenset(demands_of(question)) - dropped)
    stages: list[ProofStage] = []
    minimised: list[Terms] = []
    values: tuple[int, ...] = ()
    goals = _goals(rows)
    patience = {aim: part * clock.left for aim, part in PATIENCE.items()}
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
    """How near its bound a stage may end."""
    money = aim in {NightAim.LOSS, NightAim.COST}
    cared = share and max(share, GIVEN_UP.get(aim, 0.0))
    return Enough(question.cost_within if money else 0, cared)


def _stage(
    rows: NightRows,
    goal: Terms,
    aim: NightAim,
    solver: Solver,
    time: Clock,
    values: tuple[int, ...],
    enough: Enough,
) -> SolvedProgram | Infeasible | ProgramOutOfTime:
    """What a stage comes to, by all that makes plans better; `values` are of the stages before.

    Raises:
        DeniedError: a solver says that there is no plan, and one is known.
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


def _goals(rows: NightRows) -> dict[NightAim, Callable[[], Terms]]:
    """What each stage minimises; what it needs of variables and rows is added when it begins."""
    goals: dict[NightAim, Callable[[], Terms]] = {
        NightAim.LOSS: rows.loss,
        NightAim.WASTE: rows.waste,
        NightAim.COST: rows.cost,
        NightAim.EVENNESS: rows.unevenness,
        NightAim.WORK: rows.work,
    }
    if isinstance(rows, MenuRows):
        goals |= {NightAim.POURING: rows.pouring, NightAim.SAMENESS: rows.sameness}
    return goals


def _best_serves(rows: NightRows, goal: Terms, aim: NightAim) -> BestServes | None:
    """What searches among serves; None where an aim is no sum of what is paid and what spoils, or
    which drinks there are is to be chosen."""
    counts = {NightAim.LOSS: (1, rows.question.worth_costs), NightAim.WASTE: (0, 1)}
    if isinstance(rows, MenuRows) or aim not in counts:
        return None
    return BestServes(rows, goal, *counts[aim])


def _begun(rows: NightRows, goal: Terms, time: Clock, values: tuple[int, ...]) -> tuple[int, ...]:
    """A plan to begin a stage with: what was found with what is got chosen anew, or the shares.

    A menu has no wished shares: what is offered is found first.
    """
    if values:
        return same_serves(rows, goal, time, values)
    return () if isinstance(rows, MenuRows) else wished(rows, goal, time)


def _solved(
    rows: NightRows, goal: Terms, solver: Solver, time: Clock, begun: Sequence[int], enough: Enough
) -> SolvedProgram | Infeasible | ProgramOutOfTime:
    """What a solver says that sees the whole, or what small changes came to beside it."""
    beside = SolvedProgram(tuple(begun), total(goal, begun), -math.inf) if begun else None

    def change(ended: Callable[[], bool]) -> None:
        nonlocal beside
        if beside is not None:
            beside = better(rows, goal, time, beside, enough, ended)

    part = CHOOSING if isinstance(rows, MenuRows) else SOLVING
    found = solver.minimise(
        rows.program, goal, time.within(part * time.left), begun, enough, change
    )
    match found:
        case SolvedProgram() if beside is not None and beside.value < found.value:
            return SolvedProgram(beside.values, beside.value, found.bound)
        case ProgramOutOfTime(bound) if beside is not None:
            return SolvedProgram(beside.values, beside.value, bound)
        case _:
            return found
