"""The best plan: stage after stage, each with its proof; and why there is none.

Stages, each among the plans that are best so far: the least worth that spoils, the least that is
paid, as near as can be to the wished shares, the least to get ready (and that late).
"""

from __future__ import annotations

import enum
import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

from solver.explain.conflicts import Conflicts, Oracle, all_conflicts
from solver.night.improve import better, same_serves, wished
from solver.night.problem import Nights, Plan
from solver.night.rows import Demand, Kind, NightRows, demands, times
from solver.search.clock import Clock, TimeUpError
from solver.search.milp.integer_program import (
    Enough,
    Infeasible,
    OutOfTime,
    Solved,
    Solver,
    Terms,
    total,
)

SOLVING = 0.85
"""Share of a stage's time for a solver that sees the whole; the rest is for small changes."""
SHARE = 0.01
"""How far from the best a stage may stay where the best itself takes too long, as a share of it."""


@enum.unique
class Aim(enum.Enum):
    """What the stages minimise, in their order."""

    WASTE = "waste"
    COST = "cost"
    EVENNESS = "evenness"
    WORK = "work"


PATIENCE = {Aim.WASTE: 0.5, Aim.COST: 0.5, Aim.EVENNESS: 0.1, Aim.WORK: 0.05}
"""The part of all the time that each stage may take at most."""


@dataclass(frozen=True)
class Stage:
    """What a stage came to: no plan that is as good in the stages before has less than `bound`.

    A difference up to `within` is one that nobody cares for.
    """

    aim: Aim
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
        if self.proven:
            return self.value
        return max(self.value, math.floor(self.bound * (1 + share)))

    @property
    def gap(self) -> float:
        """How much better another plan might be, as a share of the value."""
        return (self.value - self.bound) / self.value if not self.proven else 0.0


@dataclass(frozen=True)
class Planned:
    """A plan, and the stages in order: as many as there was time for."""

    plan: Plan
    stages: tuple[Stage, ...]

    @property
    def proven(self) -> bool:
        """Whether every stage is."""
        return len(self.stages) == len(Aim) and all(stage.proven for stage in self.stages)


@dataclass(frozen=True)
class NoPlan:
    """The proof that no plan gives what is asked."""


@dataclass(frozen=True)
class NoTime:
    """The time was up before a plan was found or ruled out."""


Answer = Planned | NoPlan | NoTime


class DeniedError(RuntimeError):
    """A solver says that there is no plan, and there is one: a fault of it, or of the rows."""


@dataclass(frozen=True)
class Reached:
    """The plan that comes nearest to a demand, by the value that `reach` says, and its bound."""

    plan: Plan
    value: int
    bound: int

    @property
    def proven(self) -> bool:
        """Whether none comes nearer."""
        return self.value <= self.bound


def best_plan(
    question: Nights,
    solver: Solver,
    clock: Clock,
    share: float = SHARE,
    aims: Sequence[Aim] = tuple(Aim),
) -> Answer:
    """The best plan of all that give what is asked; of the stages only those of `aims`.

    A stage that takes long ends where nothing can be better by more than that `share` of it.
    """
    rows = NightRows(question, frozenset(demands(question)))
    waste = rows.waste()
    stages: list[Stage] = []
    minimised: list[Terms] = []
    values: tuple[int, ...] = ()
    goals = {
        Aim.WASTE: lambda: waste,
        Aim.COST: rows.cost,
        Aim.EVENNESS: rows.unevenness,
        Aim.WORK: rows.work,
    }
    patience = {aim: part * clock.left for aim, part in PATIENCE.items()}
    for aim in aims:
        terms = goals[aim]()
        enough = Enough(question.cost_within if aim is Aim.COST else 0, share)
        time = clock.within(patience[aim])
        begun = same_serves(rows, terms, time, values) if values else wished(rows, terms, time)
        found = _solved(rows, terms, solver, time, begun, enough)
        match found:
            case Infeasible() if not values and not begun:
                return NoPlan()
            case Solved():
                solved = better(rows, terms, time, found, enough)
                values = solved.values
                stage = Stage(aim, solved.value, _whole_bound(solved), enough.within)
                stages.append(stage)
                minimised.append(terms)
                rows.program.between(terms, None, stage.leaves(share))
            case OutOfTime():
                break
            case Infeasible():
                message = "a solver denies a plan that it found before"
                raise DeniedError(message)
    if not values:
        return NoTime()
    ended = zip(stages, minimised, strict=True)
    return Planned(
        rows.plan(values),
        tuple(replace(stage, value=total(terms, values)) for stage, terms in ended),
    )


def _solved(
    rows: NightRows, goal: Terms, solver: Solver, time: Clock, begun: Sequence[int], enough: Enough
) -> Solved | Infeasible | OutOfTime:
    """What a solver says that sees the whole, or what small changes came to beside it."""
    beside = Solved(tuple(begun), total(goal, begun), -math.inf) if begun else None

    def change(ended: Callable[[], bool]) -> None:
        nonlocal beside
        if beside is not None:
            beside = better(rows, goal, time, beside, enough, ended)

    found = solver.minimise(
        rows.program, goal, time.within(SOLVING * time.left), begun, enough, change
    )
    match found:
        case Solved() if beside is not None and beside.value < found.value:
            return Solved(beside.values, beside.value, found.bound)
        case OutOfTime(bound) if beside is not None:
            return Solved(beside.values, beside.value, bound)
        case _:
            return found


def _whole_bound(solved: Solved) -> int:
    """The bound as a whole number, never above what was found, and never below nothing."""
    if solved.bound < 0:
        return min(solved.value, 0) if math.isinf(solved.bound) else math.ceil(solved.bound)
    return min(solved.value, math.ceil(solved.bound - 1e-9 * max(1.0, abs(solved.bound))))


def conflicts(question: Nights, solver: Solver, clock: Clock) -> Conflicts[Demand]:
    """What of the demands cannot hold together, and what to drop so that the rest can."""

    def ask(kept: frozenset[Demand]) -> frozenset[Demand] | None:
        clock.check()
        rows = NightRows(question, kept)
        match solver.minimise(rows.program, {}, clock):
            case Infeasible():
                return None
            case Solved():
                return kept
            case OutOfTime():
                raise TimeUpError

    return all_conflicts(demands(question), Oracle(ask))


def nearest(
    question: Nights, dropped: Iterable[Demand], solver: Solver, clock: Clock
) -> Reached | None:
    """How near a plan comes to one demand that is dropped, all others kept; None without time."""
    dropped = frozenset(dropped)
    rows = NightRows(question, frozenset(demands(question)) - dropped)
    goal, constant = reach(rows, next(iter(dropped)))
    match solver.minimise(rows.program, goal, clock):
        case Solved() as solved:
            value, bound = solved.value + constant, _whole_bound(solved) + constant
            return Reached(rows.plan(solved.values), value, bound)
        case _:
            return None


def reach(rows: NightRows, demand: Demand) -> tuple[Terms, int]:
    """What is minimised to come near a demand, and a constant that is added to it.

    Drinks of a night or of a kind that are asked for count with a minus.
    """
    match demand.kind:
        case Kind.DRINKS:
            return times(rows.drinks(demand.at), -1), 0
        case Kind.AT_LEAST:
            return times(rows.poured(demand.at), -1), 0
        case Kind.AT_MOST:
            return rows.poured(demand.at), 0
        case Kind.SPEND:
            return rows.cost(), 0
        case Kind.USE_UP:
            use_up = rows.question.use_up[demand.at]
            return rows.left(use_up.item, use_up.day)
