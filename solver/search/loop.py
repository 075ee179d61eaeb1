"""Solve the outer model, evaluate exactly, refine; stop when the two meet.

The incumbent is the best drink seen that the exact evaluator accepts. The bound is what the outer
model says no drink can beat. Every round encloses the bending quantities more finely, on windows
that the incumbent has narrowed: a drink that is better than it is close to the aims.
"""

from __future__ import annotations

import enum
import time
from dataclasses import dataclass, replace

from solver.measures import Measure
from solver.search.backend import Backend, Effort, Outcome, Status
from solver.search.exact import evaluate_one
from solver.search.problem import Drink, Problem
from solver.search.relaxation import Fineness, formulate
from solver.search.windows import windows

FINEST_BAND = 1e-5
"""Below this enclosures are as fine as rounding allows: drinks are then cut off one by one."""

FIRST_WORK = 0.1
"""Deterministic effort of the first round; a round that ends without a better drink and without a
proof is tried again with four times as much, searching and refuting in turn."""


@enum.unique
class Ending(enum.StrEnum):
    """How a search ended."""

    OPTIMAL = "optimal"
    IMPOSSIBLE = "impossible"
    STOPPED = "stopped"


@dataclass(frozen=True)
class Clock:
    """When the user's patience ends, on the monotonic clock."""

    ends: float

    @classmethod
    def of(cls, seconds: float) -> Clock:
        """A clock that ends `seconds` from now."""
        return cls(time.monotonic() + seconds)

    @property
    def left(self) -> float:
        """Seconds left, never negative."""
        return max(0.0, self.ends - time.monotonic())


@dataclass(frozen=True)
class Optimum:
    """The result of minimising one goal.

    `value` is the exact goal of `drink`; no drink of the problem has a goal below `bound`.
    `interrupted` says that the user stopped the search, not the clock.
    """

    ending: Ending
    drink: Drink | None
    value: float
    bound: float
    interrupted: bool = False


class Search:
    """One minimisation; `goal` None is the distance from the aims."""

    def __init__(
        self,
        problem: Problem,
        goal: Measure | None,
        *,
        tolerance: float,
        backend: Backend,
        clock: Clock,
    ) -> None:
        self.problem = problem
        self.goal = goal
        self.tolerance = tolerance
        self.backend = backend
        self.clock = clock
        self.incumbent: Drink | None = None
        self.value = float("inf")
        self.bound = 0.0
        self.rounds = 0
        self.forbidden: list[Drink] = []

    def run(self, start: Drink | None = None) -> Optimum:
        """Minimise, from a known drink if there is one."""
        if start is not None:
            self._offer(start)
        fineness = Fineness()
        work = FIRST_WORK
        try:
            while self.value - self.bound > self.tolerance:
                outcome, drink = self._solve(fineness, work)
                if outcome.status is Status.INFEASIBLE:
                    return self._refuted()
                self.bound = max(self.bound, min(outcome.bound, self.value))
                better = drink is not None and self._offer(drink)
                if outcome.interrupted or self.clock.left == 0:
                    return self._stopped(interrupted=outcome.interrupted)
                if outcome.status is not Status.OPTIMAL or drink is None:
                    work *= 1 if better else 4
                elif fineness.band > FINEST_BAND:
                    fineness = fineness.finer()
                elif not better:
                    self.forbidden.append(drink)
        except KeyboardInterrupt:
            return self._stopped(interrupted=True)
        return self._end(Ending.OPTIMAL)

    def _solve(self, fineness: Fineness, work: float) -> tuple[Outcome, Drink | None]:
        """One round: the outer model of what would beat the incumbent."""
        self.rounds += 1
        below = self.value - self.tolerance if self.incumbent else None
        within = windows(self.problem, below if self.goal is None else None)
        if within.empty:
            return Outcome(Status.INFEASIBLE, None, float("inf")), None
        relaxation = formulate(
            self.problem, within, fineness, goal=self.goal, below=below, forbidden=self.forbidden
        )
        effort = Effort(self.clock.left, work, proof=self.rounds % 2 == 0)
        outcome = self.backend.minimise(relaxation, effort)
        if outcome.decisions is None:
            return outcome, None
        return outcome, relaxation.drink(outcome.decisions)

    def _offer(self, drink: Drink) -> bool:
        """Evaluate a drink exactly; keep it if it is feasible and better than the incumbent."""
        evaluation = evaluate_one(self.problem, drink)
        if not evaluation.feasible[0]:
            return False
        values = evaluation.off_aim if self.goal is None else evaluation.values[self.goal.name]
        if values[0] >= self.value:
            return False
        self.incumbent, self.value = drink, float(values[0])
        return True

    def _refuted(self) -> Optimum:
        """Nothing beats the incumbent by more than the tolerance; without one, nothing exists."""
        if self.incumbent is None:
            return self._end(Ending.IMPOSSIBLE)
        self.bound = max(self.bound, self.value - self.tolerance)
        return self._end(Ending.OPTIMAL)

    def _stopped(self, *, interrupted: bool) -> Optimum:
        return replace(self._end(Ending.STOPPED), interrupted=interrupted)

    def _end(self, ending: Ending) -> Optimum:
        return Optimum(ending, self.incumbent, self.value, min(self.bound, self.value))
