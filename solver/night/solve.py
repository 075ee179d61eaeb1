"""The best plan: stage after stage, each with its proof; and why there is none, where there is none.

Stages, each among the plans that are best so far: the least worth that spoils, the least that is
paid, as near as can be to the wished shares, the least to get ready (and that late).
"""

from __future__ import annotations

import enum
import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from solver.explain.conflicts import Conflicts, Oracle, all_conflicts
from solver.night.problem import Nights, Plan
from solver.night.program import Infeasible, OutOfTime, Solved, Solver, Terms
from solver.night.rows import Demand, Kind, NightRows, demands, times
from solver.search.clock import Clock, TimeUpError

PATIENCE = 0.6
"""Share of the time left that a stage may take: something must be left for those after it."""


@enum.unique
class Aim(enum.Enum):
    """What the stages minimise, in their order."""

    WASTE = "waste"
    COST = "cost"
    EVENNESS = "evenness"
    WORK = "work"


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

    @property
    def gap(self) -> float:
        """How much better another plan might be, as a share of the value."""
        return (self.value - self.bound) / self.value if not self.proven else 0.0


@dataclass(frozen=True)
class Planned:
    """A plan, and the stages in order."""

    plan: Plan
    stages: tuple[Stage, ...]

    @property
    def proven(self) -> bool:
        """Whether every stage is."""
        return all(stage.proven for stage in self.stages)


@dataclass(frozen=True)
class NoPlan:
    """The proof that no plan gives what is asked."""


@dataclass(frozen=True)
class NoTime:
    """The time was up before a plan was found or ruled out."""


Answer = Planned | NoPlan | NoTime


def best_plan(question: Nights, solver: Solver, clock: Clock) -> Answer:
    """The best plan of all that give what is asked."""
    rows = NightRows(question, frozenset(demands(question)))
    waste, constant = rows.waste()
    stages: list[Stage] = []
    goals: tuple[tuple[Aim, Callable[[], Terms]], ...] = (
        (Aim.WASTE, lambda: waste),
        (Aim.COST, rows.cost),
        (Aim.EVENNESS, rows.unevenness),
        (Aim.WORK, rows.work),
    )
    values: tuple[int, ...] = ()
    for number, (aim, goal) in enumerate(goals):
        terms = goal()
        added = constant if aim is Aim.WASTE else 0
        within = {Aim.WASTE: question.worth_within, Aim.COST: question.cost_within}.get(aim, 0)
        patience = clock.left * (PATIENCE if number < len(goals) - 1 else 1.0)
        match solver.minimise(rows.program, terms, clock.within(patience), values, within):
            case Infeasible() if not values:
                return NoPlan()
            case Solved() as solved:
                values = solved.values
                bound = _whole_bound(solved) + added
                stages.append(Stage(aim, solved.value + added, bound, within))
                rows.program.between(terms, None, solved.value)
            case OutOfTime() if values:
                stages.append(Stage(aim, _at(terms, values, rows), 0, within))
            case OutOfTime():
                return NoTime()
            case Infeasible():
                message = "a solver denies a plan that it found before"
                raise RuntimeError(message)
    return Planned(rows.plan(values), tuple(stages))


def _at(terms: Terms, values: tuple[int, ...], rows: NightRows) -> int:
    """A goal at values that were found before its own variables came in: those at their highest."""
    highs = rows.program.highs
    return sum(c * (values[v] if v < len(values) else highs[v]) for v, c in terms.items())


def _whole_bound(solved: Solved) -> int:
    """The bound as a whole number, and never above what was found."""
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
) -> Planned | None:
    """How near a plan comes to one demand that is dropped, all others kept.

    The one stage of the answer minimises what is missing from it; its value is what `reach` says.
    None where there is no time.
    """
    dropped = frozenset(dropped)
    rows = NightRows(question, frozenset(demands(question)) - dropped)
    goal, _ = reach(rows, next(iter(dropped)))
    match solver.minimise(rows.program, goal, clock):
        case Solved() as solved:
            stage = Stage(Aim.COST, solved.value, _whole_bound(solved))
            return Planned(rows.plan(solved.values), (stage,))
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
