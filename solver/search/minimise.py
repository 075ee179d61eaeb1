"""Find a good drink, then prove that there is no better one.

The incumbent is the best drink seen that the exact evaluator accepts; local search finds it. Where
the halves of a problem can be enumerated, meeting in the middle is the proof. A larger problem is
solved by successive outer approximations: a MILP solver minimises the outer model, whose bound no
drink can beat, and every round encloses the nonlinear terms more finely, on windows that the
incumbent has narrowed, since a drink that is better than it is close to the aims.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from contextlib import suppress
from dataclasses import dataclass
from functools import cached_property
from itertools import islice
from typing import TYPE_CHECKING

from solver.clock import Clock, TimeUpError, Work
from solver.measures import Measure
from solver.search.enumeration.fillings import count_of_all_fillings
from solver.search.enumeration.local_search import Descent
from solver.search.enumeration.meet_in_the_middle import Halves
from solver.search.enumeration.pour_vectors import Picks
from solver.search.enumeration.sinks import TooManyError
from solver.search.exact import evaluate_one
from solver.search.intervals import windows
from solver.search.milp.backend import Backend, Effort, Outcome, SolverStatus
from solver.search.problem import Drink, Problem
from solver.search.result import Answered, Impossible, Optimal, Result, Stopped, Witness

if TYPE_CHECKING:
    from solver.search.milp.relaxation import Fineness

FINEST_BAND = 1e-5
"""Below this, enclosures are as fine as rounding allows: drinks are then cut off one by one."""

FIRST_WORK = 0.4
"""Deterministic effort of the first round; a round that ends without a better drink and without a
proof is tried again with four times as much, refuting and searching in turn."""

STARTS = 4
"""Random drinks that descents start from before the first round, and after each without a proof."""

EXACT = 1e-9
"""Drinks whose goals differ by less are equally good: it is the exact evaluator's own tolerance."""


@dataclass(eq=False)
class Drinks:
    """What candidates, parts and choices can make: shared by searches that differ in the rest.

    Picks and halves are made on first use. `problem` may hold representatives alone; `shelf` is the
    problem with all that they stand for. `by_halves` is False where a MILP solver is to be used.
    """

    problem: Problem
    shelf: Problem
    by_halves: bool = True
    _halves: Halves | None = None

    @classmethod
    def of(
        cls, problem: Problem, *, shelf: Problem | None = None, by_halves: bool = True
    ) -> Drinks:
        """The drinks of a problem; without `by_halves`, for a MILP solver."""
        return cls(problem, shelf or problem, by_halves)

    @cached_property
    def picks(self) -> Picks:
        """Every single pour."""
        return Picks.of(self.problem)

    @cached_property
    def compared(self) -> int:
        """The number of fillings of all parts from the whole shelf."""
        return count_of_all_fillings(self.shelf)

    def halves(self, clock: Clock) -> Halves | None:
        """The two halves of all drinks; None where a MILP solver is to be used.

        Raises:
            TimeUpError: there was no time to make them.
        """
        if self.by_halves and self._halves is None:
            self._halves = Halves.of(self.problem, self.picks, clock)
            self.by_halves = self._halves is not None
        return self._halves


@dataclass(frozen=True)
class _Seen:
    """A drink that the exact evaluator has accepted, and its goal."""

    drink: Drink
    value: float


class Search:
    """One minimisation; `goal` None is the distance from the aims.

    `tolerance` is the absolute gap at which a MILP solver may stop, `exact` that of enumeration.
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
        self.seen: _Seen | None = None
        self.below = math.inf
        self.bound = 0.0
        self.rounds = 0
        self.forbidden: list[Drink] = []
        self.any_will_do = False
        self.drinks = drinks or Drinks.of(problem)

    @cached_property
    def descent(self) -> Descent:
        """Exchanges of pours; many searches are settled without any."""
        return Descent(self.problem, self.goal, self.drinks.picks, self.clock)

    @cached_property
    def descents(self) -> Iterator[Drink]:
        """Local optima from random starts, indefinitely."""
        return self.descent.drinks()

    @property
    def value(self) -> float:
        """What a drink must be under to be better than what is known."""
        return self.below if self.seen is None else self.seen.value

    def run(self, start: Drink | None = None, below: float = math.inf) -> Result:
        """Minimise, from a known drink if there is one.

        Only drinks with a goal under `below` count (for a MILP solver, under it by more than the
        tolerance): where there are none, that is impossible.
        """
        self.below = below
        return self._search(start, self.exact)

    def any(self, below: float = math.inf) -> Answered:
        """Whether there is a drink with a goal under `below`, and one if there is.

        For a MILP solver, under it by more than the tolerance.
        """
        self.below = below
        self.any_will_do = True
        match self._search(None, math.inf):
            case Optimal(drink=drink):
                return Witness(drink)
            case Stopped(incumbent=drink, interrupted=False) if drink is not None:
                return Witness(drink)
            case Impossible() | Stopped() as nothing:
                return nothing

    def _search(self, start: Drink | None, tolerance: float) -> Result:
        """By meeting in the middle where memory allows it, else by outer approximation."""
        if not self.problem.candidates:
            return Impossible(0)
        try:
            if start is not None:
                self._offer(start)
            halves = self.drinks.halves(self.clock)
            if halves is not None:
                with suppress(TooManyError):
                    return self._by_halves(halves, tolerance)
            return self._approach()
        except TimeUpError:
            return self._stopped(interrupted=False)
        except KeyboardInterrupt:
            return self._stopped(interrupted=True)

    def _by_halves(self, halves: Halves, tolerance: float) -> Result:
        """Minimise by meeting in the middle.

        Raises:
            TimeUpError: there was no time for it.
            TooManyError: it takes too much memory.
        """
        # A finite `below` is as good as an incumbent.
        if self.value == math.inf and not self.any_will_do and not halves.empty:
            self._offer_all(islice(self.descents, 1))
        below = self.value if self.any_will_do else self.value - self.exact
        halves.look(self.problem, self.goal, below, tolerance, self.clock, self._keep)
        if self.seen is None:
            return Impossible(self.drinks.compared)
        return Optimal(self.seen.drink, self.seen.value, self.seen.value, self.drinks.compared)

    def _approach(self) -> Result:
        """By outer approximation: solve, evaluate exactly, refine, until the gap closes."""
        from solver.search.milp.relaxation import Fineness  # only where halves are too large

        self._offer_all(islice(self.descents, STARTS))
        fineness = Fineness()
        work = FIRST_WORK
        while self.seen is None or not self._near(self.seen):
            outcome, drink = self._solve(fineness, work)
            if outcome.status is SolverStatus.INFEASIBLE:
                return self._refuted()
            self.bound = max(self.bound, min(outcome.bound, self.value))
            better = drink is not None and self._offer_all((drink, self.descent.descend(drink)))
            if outcome.interrupted:
                return self._stopped(interrupted=True)
            self.clock.check()
            if outcome.status is not SolverStatus.OPTIMAL or drink is None:
                work *= 1 if better else 4
                self._offer_all(islice(self.descents, STARTS))
            elif fineness.band > FINEST_BAND:
                fineness = fineness.finer()
            elif not better:
                self.forbidden.append(drink)
        return self._proven(self.seen)

    def _near(self, seen: _Seen) -> bool:
        """Whether the gap of a drink is closed."""
        return self.any_will_do or seen.value - self.bound <= self.tolerance

    def _solve(self, fineness: Fineness, work: float) -> tuple[Outcome, Drink | None]:
        """One round: the outer model of what would beat the incumbent."""
        from solver.search.milp.relaxation import formulate

        self.rounds += 1
        below = self.value - self.tolerance if self.value < math.inf else None
        within = windows(self.problem, below if self.goal is None else None)
        if within.empty:
            return Outcome(SolverStatus.INFEASIBLE, None, float("inf")), None
        relaxation = formulate(
            self.problem, within, fineness, goal=self.goal, below=below, forbidden=self.forbidden,
            clock=self.clock,
        )  # fmt: skip
        self.clock.tell(Work.ROUNDS, self.rounds)
        effort = Effort(self.clock.left, work, proof=self.rounds % 2 == 1, watch=self.clock.watch)
        outcome = self.backend.minimise(relaxation, effort)
        if outcome.decisions is None:
            return outcome, None
        return outcome, relaxation.drink(outcome.decisions)

    def _offer_all(self, drinks: Iterable[Drink]) -> bool:
        """Offer drinks, as long as there is time; whether one of them was better."""
        better = False
        for drink in drinks:
            better |= self._offer(drink)
            self.clock.check()
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
        self.seen = _Seen(drink, float(evaluate_one(self.problem, drink).of(self.goal)[0]))

    def _refuted(self) -> Result:
        """Nothing beats the incumbent by more than the tolerance; without one, nothing exists."""
        if self.seen is None:
            return Impossible()
        self.bound = max(self.bound, self.seen.value - self.tolerance)
        return self._proven(self.seen)

    def _proven(self, seen: _Seen) -> Optimal:
        return Optimal(seen.drink, seen.value, min(self.bound, seen.value))

    def _stopped(self, *, interrupted: bool) -> Stopped:
        if self.seen is None:
            return Stopped(None, math.inf, self.bound, interrupted)
        bound = min(self.bound, self.seen.value)
        return Stopped(self.seen.drink, self.seen.value, bound, interrupted)
