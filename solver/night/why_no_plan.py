"""Why no plan meets all demands, and how near one comes: minimal conflicts, nearest plans."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from solver.clock import Clock, TimeUpError
from solver.explain.conflicts import ConflictOracle, Conflicts, all_conflicts
from solver.night.demands import NightDemand, NightDemandKind
from solver.night.menu_rows import MenuRows, demands_of, rows_of
from solver.night.plan_rows import NightRows
from solver.night.problem import Nights, PlanValues
from solver.search.milp.integer_program import (
    Infeasible,
    IntTerms,
    ProgramOutOfTime,
    ProgramSolver,
    SolvedProgram,
    plus,
    times,
)


@dataclass(frozen=True)
class Reached:
    """The plan nearest to a demand, its distance as `distance_to` defines it, and a lower bound."""

    plan: PlanValues
    value: int
    bound: int

    @property
    def proven(self) -> bool:
        """Whether no plan comes nearer."""
        return self.value <= self.bound


def demand_conflicts(
    question: Nights, solver: ProgramSolver, clock: Clock
) -> Conflicts[NightDemand]:
    """The minimal conflicts of the demands, and the minimal corrections (QuickXplain, MARCO)."""

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


def nearest_plan(
    question: Nights, dropped: Iterable[NightDemand], solver: ProgramSolver, clock: Clock
) -> Reached | None:
    """The plan nearest to one demand, or to the drinks of some nights, that keeps all others.

    None if there is none, or no time to find one.
    """
    dropped = frozenset(dropped)
    rows = rows_of(question, frozenset(demands_of(question)) - dropped)
    nights = [demand for demand in dropped if demand.kind is NightDemandKind.DRINKS]
    reached = [distance_to(rows, demand) for demand in nights or dropped]
    goal, constant = plus(*(terms for terms, _ in reached)), sum(more for _, more in reached)
    match solver.minimise(rows.program, goal, clock):
        case SolvedProgram() as solved:
            value, bound = solved.value + constant, solved.whole_bound + constant
            return Reached(rows.plan(solved.values), value, bound)
        case _:
            return None


def distance_to(rows: NightRows, demand: NightDemand) -> tuple[IntTerms, int]:
    """The distance from a demand: terms and constant.

    For demands on a number of drinks it is that number, negated.
    """
    match demand.kind:
        case NightDemandKind.DRINKS:
            return times(rows.drinks(demand.at), -1), 0
        case NightDemandKind.AT_LEAST:
            return times(rows.poured(demand.at), -1), 0
        case NightDemandKind.AT_MOST:
            return rows.poured(demand.at), 0
        case NightDemandKind.SPEND:
            return rows.cost(), 0
        case NightDemandKind.USE_UP:
            use_up = rows.question.use_up[demand.at]
            return rows.left(use_up.item, use_up.day)
        case _ if isinstance(rows, MenuRows):
            return rows.reach(demand)
        case NightDemandKind.CAPACITY:
            return rows.fullest(rows.question.capacities[demand.at].drinks), 0
        case _:
            message = f"nights without a menu have no {demand.kind.value}"
            raise ValueError(message)
