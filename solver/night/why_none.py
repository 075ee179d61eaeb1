"""Why no plan gives all that is asked, and how near one comes."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from solver.clock import Clock, TimeUpError
from solver.explain.conflicts import ConflictOracle, Conflicts, all_conflicts
from solver.night.demands import DemandKind, NightDemand
from solver.night.menu_rows import MenuRows, demands_of, rows_of
from solver.night.problem import Nights, PlanValues
from solver.night.rows import NightRows
from solver.search.milp.integer_program import (
    Infeasible,
    ProgramOutOfTime,
    SolvedProgram,
    Solver,
    Terms,
    plus,
    times,
)


@dataclass(frozen=True)
class Reached:
    """The plan that comes nearest to a demand, by the value that `reach` says, and its bound."""

    plan: PlanValues
    value: int
    bound: int

    @property
    def proven(self) -> bool:
        """Whether none comes nearer."""
        return self.value <= self.bound


def conflicts(question: Nights, solver: Solver, clock: Clock) -> Conflicts[NightDemand]:
    """What of the demands cannot hold together, and what to drop so that the rest can."""

    def ask(kept: frozenset[NightDemand]) -> frozenset[NightDemand] | None:
        clock.check()
        rows = rows_of(question, kept)
        match solver.minimise(rows.program, {}, clock):
            case Infeasible():
                return None
            case SolvedProgram():
                return kept
            case ProgramOutOfTime():
                raise TimeUpError

    return all_conflicts(demands_of(question), ConflictOracle(ask))


def nearest(
    question: Nights, dropped: Iterable[NightDemand], solver: Solver, clock: Clock
) -> Reached | None:
    """How near a plan comes to one demand that is dropped, or to the drinks of some nights; all
    others are kept. None without time."""
    dropped = frozenset(dropped)
    rows = rows_of(question, frozenset(demands_of(question)) - dropped)
    nights = [demand for demand in dropped if demand.kind is DemandKind.DRINKS]
    reached = [reach(rows, demand) for demand in nights or dropped]
    goal, constant = plus(*(terms for terms, _ in reached)), sum(more for _, more in reached)
    match solver.minimise(rows.program, goal, clock):
        case SolvedProgram() as solved:
            value, bound = solved.value + constant, solved.whole_bound + constant
            return Reached(rows.plan(solved.values), value, bound)
        case _:
            return None


def reach(rows: NightRows, demand: NightDemand) -> tuple[Terms, int]:
    """What is minimised to come near a demand, and a constant that is added to it.

    Drinks of a night or of a kind that are asked for count with a minus.
    """
    match demand.kind:
        case DemandKind.DRINKS:
            return times(rows.drinks(demand.at), -1), 0
        case DemandKind.AT_LEAST:
            return times(rows.poured(demand.at), -1), 0
        case DemandKind.AT_MOST:
            return rows.poured(demand.at), 0
        case DemandKind.SPEND:
            return rows.cost(), 0
        case DemandKind.USE_UP:
            use_up = rows.question.use_up[demand.at]
            return rows.left(use_up.item, use_up.day)
        case _ if isinstance(rows, MenuRows):
            return rows.reach(demand)
        case DemandKind.CAPACITY:
            return rows.fullest(rows.question.capacities[demand.at].drinks), 0
        case _:
            message = f"nights without a menu have no {demand.kind.value}"
            raise ValueError(message)
