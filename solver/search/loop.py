"""Find a good drink, then prove that there is no better one.

The incumbent is the best drink seen that the exact evaluator accepts; exchanges of pours find it.
Where the drinks of a problem can be looked at by halves, that settles it. A larger problem goes to
a solver of rows, again and again: the bound is what the outer model says no drink can beat, and
every round encloses the bending quantities more finely, on windows that the incumbent has narrowed,
since a drink that is better than it is close to the aims.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import islice

from solver.measures import Measure
from solver.search.backend import Backend, Effort, Outcome, Status
from solver.search.clock import Clock
from solver.search.descent import Descent
from solver.search.exact import evaluate_one
from solver.search.halves import Halves
from solver.search.problem import Drink, Problem
from solver.search.relaxation import Fineness, formulate
from solver.search.result import Answered, Impossible, Optimal, Result, Stopped, Witness
from solver.search.totals import Picks
from solver.search.windows import windows

FINEST_BAND = 1e-5
"""Below this enclosures are as fine as rounding allows: drinks are then cut off one by one."""

FIRST_WORK = 0.4
"""Deterministic effort of the first round; a round that ends without a better drink and without a
proof is tried again with four times as much, refuting and searching in turn."""

STARTS = 4
"""Random drinks that descents start from before the first round, and after each without a proof."""

EXACT = 1e-9
"""Drinks whose goals differ by less are equally good: it is the exact evaluator's own tolerance."""


@dataclass(frozen=True, eq=False)
class Drinks:
    """What candidates, parts and choices can make: shared by searches that differ in the rest.

    Without `halves` a solver of rows has to do.
    """

    picks: Picks
    halves: Halves | None

    @classmethod
    def of(cls, problem: Problem, *, by_halves: bool = True) -> Drinks:
        """The drinks of a problem; without `by_halves`, for a solver of rows."""
        picks = Picks.of(problem)
        return cls(picks, Halves.of(problem, picks) if by_halves else None)


class Search:
    """One minimisation; `goal` None is the distance from the aims.

    `tolerance` is how close to the best a solver of rows has to come, `exact` how close halves do.
    """

    def __init__(
        self,
        problem: Problem,
        goal: Measure | None,
        *,
        tolerance: float,
        backend: Backend,
        clock: Clock,
        drinks: Drinks | None = None,
        exact: float = EXACT,
    ) -> None:
        self.problem = problem
        self.goal = goal
        self.tolerance = tolerance
        self.exact = exact
        self.backend = backend
        self.clock = clock
        self.incumbent: Drink | None = None
        self.value = math.inf
        self.bound = 0.0
        self.rounds = 0
        self.forbidden: list[Drink] = []
        self.any_will_do = False
        self.drinks = drinks or Drinks.of(problem)

    @cached_property
    def descent(self) -> Descent:
        """Exchanges of pours; many searches are settled without any."""
        return Descent(self.problem, self.goal, self.drinks.picks)

    @cached_property
    def descents(self) -> Iterator[Drink]:
        """Drinks that descents come to, without end."""
        return self.descent.drinks()

    def run(self, start: Drink | None = None, below: float = math.inf) -> Result:
        """Minimise, from a known drink if there is one.

        Only drinks with a goal under `below` count: where there are none, that is impossible.
        """
        self.value = below
        halves = self.drinks.halves
        try:
            if start is not None:
                self._offer(start)
            # A finite `below` is as good as an incumbent.
            elif below == math.inf and (halves is None or halves.drinks):
                self._offer_all(islice(self.descents, 1))
            return self._compare(halves) if halves else self._approach()
        except KeyboardInterrupt:
            return self._stopped(interrupted=True)

    def any(self, below: float = math.inf) -> Answered:
        """Whether there is a drink with a goal under `below`, and one if there is."""
        halves = self.drinks.halves
        if halves is None:
            self.any_will_do = True
            match self.run(below=below):
                case Optimal(drink=drink):
                    return Witness(drink)
                case Stopped(incumbent=drink, interrupted=False) if drink is not None:
                    return Witness(drink)
                case Impossible() | Stopped() as nothing:
                    return nothing
        try:
            found = halves.best(self.problem, self.goal, below, math.inf, self.clock)
        except KeyboardInterrupt:
            return self._stopped(interrupted=True)
        if found.drink is not None:
            return Witness(found.drink)
        if not found.complete:
            return self._stopped(interrupted=False)
        return Impossible(halves.drinks)

    def _compare(self, halves: Halves) -> Result:
        """Look at every drink that may be better than the incumbent."""
        least = self.value - self.exact
        found = halves.best(self.problem, self.goal, least, self.exact, self.clock)
        if found.drink is not None:
            self._keep(found.drink)
        if not found.complete:
            return self._stopped(interrupted=False)
        if self.incumbent is None:
            return Impossible(halves.drinks)
        return Optimal(self.incumbent, self.value, self.value, halves.drinks)

    def _approach(self) -> Result:
        """Solve the outer model, evaluate exactly, refine, until value and bound meet."""
        self._offer_all(islice(self.descents, STARTS))
        fineness = Fineness()
        work = FIRST_WORK
        while not (self.incumbent is not None and self._near()):
            outcome, drink = self._solve(fineness, work)
            if outcome.status is Status.INFEASIBLE:
                return self._refuted()
            self.bound = max(self.bound, min(outcome.bound, self.value))
            better = drink is not None and self._offer_all((drink, self.descent.descend(drink)))
            if outcome.interrupted or self.clock.left == 0:
                return self._stopped(interrupted=outcome.interrupted)
            if outcome.status is not Status.OPTIMAL or drink is None:
                work *= 1 if better else 4
                self._offer_all(islice(self.descents, STARTS))
            elif fineness.band > FINEST_BAND:
                fineness = fineness.finer()
            elif not better:
                self.forbidden.append(drink)
        return Optimal(self.incumbent, self.value, min(self.bound, self.value))

    def _near(self) -> bool:
        """Whether an incumbent of this value is good enough."""
        return self.any_will_do or self.value - self.bound <= self.tolerance

    def _solve(self, fineness: Fineness, work: float) -> tuple[Outcome, Drink | None]:
        """One round: the outer model of what would beat the incumbent."""
        self.rounds += 1
        below = self.value - self.tolerance if self.value < math.inf else None
        within = windows(self.problem, below if self.goal is None else None)
        if within.empty:
            return Outcome(Status.INFEASIBLE, None, float("inf")), None
        relaxation = formulate(
            self.problem, within, fineness, goal=self.goal, below=below, forbidden=self.forbidden
        )
        effort = Effort(self.clock.left, work, proof=self.rounds % 2 == 1)
        outcome = self.backend.minimise(relaxation, effort)
        if outcome.decisions is None:
            return outcome, None
        return outcome, relaxation.drink(outcome.decisions)

    def _offer_all(self, drinks: Iterable[Drink]) -> bool:
        """Offer drinks while there is time; whether one of them was better."""
        better = False
        for drink in drinks:
            better |= self._offer(drink)
            if self.clock.left == 0:
                break
        return better

    def _offer(self, drink: Drink) -> bool:
        """Evaluate a drink exactly; keep it if it is feasible and better than the incumbent."""
        evaluation = evaluate_one(self.problem, drink)
        if not evaluation.feasible[0] or evaluation.of(self.goal)[0] >= self.value:
            return False
        self._keep(drink)
        return True

    def _keep(self, drink: Drink) -> None:
        """Make a drink that the exact evaluator has accepted the incumbent.

        It is not asked twice: of a drink just on a limit, one among many and alone, rounding could
        answer differently, and what exists would be called impossible.
        """
        self.incumbent = drink
        self.value = float(evaluate_one(self.problem, drink).of(self.goal)[0])

    def _refuted(self) -> Result:
        """Nothing beats the incumbent by more than the tolerance; without one, nothing exists."""
        if self.incumbent is None:
            return Impossible()
        self.bound = max(self.bound, self.value - self.tolerance)
        return Optimal(self.incumbent, self.value, min(self.bound, self.value))

    def _stopped(self, *, interrupted: bool) -> Stopped:
        value = self.value if self.incumbent is not None else math.inf
        return Stopped(self.incumbent, value, min(self.bound, value), interrupted)
