"""An oracle for the trade-off between a measure and what is in keeping (epsilon constraint).

What is in keeping depends on the ingredients alone. So below a bound of the measure the best drink
has the first set, in the order of worth, that has any drink below the bound; of that set it is the
drink with the least of the measure. Bounds below which a set has no drink are remembered. Where few
drinks are below a bound, they are enumerated and their sets compared, as most sets have none.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import replace

from solver.clock import Clock, TimeUpError
from solver.explain.pareto_front import FrontPoint, over, under
from solver.measures import MEASURES, Measure
from solver.search.exact_evaluator import measures_of_drinks, off_aim
from solver.search.front_by_enumeration import front_by_enumeration
from solver.search.milp.backend import Backend
from solver.search.minimise import Drinks, Search
from solver.search.most_in_keeping import RankedSets, problem_of_set
from solver.search.nogoods import CandidateSet, Nogoods
from solver.search.problem import Aim, Drink, Goal, Limit, Problem
from solver.search.result import decided
from solver.search.symmetry import representatives
from solver.search.tolerances import OFF_AIM_GAP

SETS_BEFORE_ENUMERATION = 48
"""Sets without a drink below a bound that are tried before the drinks below it are enumerated."""


class InKeepingOracle:
    """A `FrontOracle` for a measure against what is in keeping.

    The first goal is `first`, None for the distance from the aims; the second is `loss`, the
    negated worth of a drink's set, which is None for a drink whose ingredients are no set. Only
    drinks within the limits of `problem` count.
    """

    def __init__(
        self, problem: Problem, sets: RankedSets, loss: Callable[[Drink], float | None],
        first: Measure | None, backend: Backend, clock: Clock,
    ) -> None:  # fmt: skip
        aims = problem.aims if first is None else (aim_of_zero(first),)
        self.problem = replace(problem, aims=aims, goal=Goal.CLOSEST)
        self.first = first
        self.loss = loss
        self.backend = backend
        self.clock = clock
        self.compared: int | None = None
        """None: sets are searched, and fillings are not counted."""
        self.on_rows = False
        """Whether a MILP solver was used for some of it."""
        self.interrupted = False
        self._all = sets()
        self._listed: list[CandidateSet] = []
        self._drinks: dict[CandidateSet, Drinks] = {}
        self._none_to: dict[CandidateSet, float] = {}
        """For each set the greatest first goal up to which it is proven to have no drink."""
        self._whole = Drinks(self.problem)
        self._known: tuple[float, list[FrontPoint[Drink]]] = (-math.inf, [])
        """The first goal up to which all efficient drinks are known, and these drinks."""
        self._too_many = math.inf
        """The least first goal below which there are too many drinks to enumerate."""

    def least_first(self) -> FrontPoint[Drink] | None:
        """The lexicographic minimum, the first goal before the second; None if there is no drink.

        Raises:
            TimeUpError: there was no time to tell, or the user stopped it.
        """
        return self._guarded(self._least_first)

    def least(self, first_below: float, second_below: float) -> FrontPoint[Drink] | None:
        """The lexicographic minimum, the second goal before the first, below both bounds; None if
        there is no such drink.

        Raises:
            TimeUpError: as `least_first`.
        """
        found = self._guarded(lambda: self._best(under(first_below)))
        return None if found is None or found.second > under(second_below) else found

    def least_with(self, second: float) -> FrontPoint[Drink] | None:
        """The lexicographic minimum, the first goal before the second, with at most `second` of
        the second; None if there is no such drink.

        Raises:
            TimeUpError: as `least_first`.
        """
        return self._guarded(lambda: self._least_with(second))

    def _least_with(self, second: float) -> FrontPoint[Drink] | None:
        best, found = None, self._best(math.inf)
        while found is not None and found.second <= second:
            best = found
            found = self._best(under(found.first))
        return best

    def _guarded(self, ask: Callable[[], FrontPoint[Drink] | None]) -> FrontPoint[Drink] | None:
        try:
            return ask()
        except KeyboardInterrupt:
            self.interrupted = True
            raise TimeUpError from None

    def _least_first(self) -> FrontPoint[Drink] | None:
        few = representatives(self.problem)
        found = self._least(few, Drinks(few, shelf=self.problem))
        if found is None:
            return None
        lowest = self._value(few, found)
        # What is never poured together is in no set, and may be all that has so little.
        return self._best(over(lowest)) or self._least_of_all()

    def _best(self, most: float) -> FrontPoint[Drink] | None:
        """The best set with a drink of at most so much of the first goal, and its least drink."""
        if most <= self._known[0]:
            return self._of_known(most)
        nogoods = None
        if self.first is not None:
            nogoods = Nogoods(self._at_most(self.problem, most), self.clock)
        tried = 0
        for candidates in self._sets():
            if self._none_to.get(candidates, -math.inf) >= most:
                continue
            if tried == SETS_BEFORE_ENUMERATION and self._gather(most):
                return self._of_known(most)
            if nogoods is None or not nogoods.rule_out(candidates, tried):
                found = self._of_set(candidates, most)
                if found is not None:
                    return found
            self._none_to[candidates] = most
            tried += 1
        return None

    def _gather(self, most: float) -> bool:
        """Whether all efficient drinks with at most so much of the first goal are known."""
        if self.first is None or most >= self._too_many:
            return False
        held = self._at_most(self.problem, most)
        found = front_by_enumeration(held, self._whole, self.first, self.loss, self.clock)
        if found is None:
            self._too_many = most
            return False
        self._known = most, found
        return True

    def _of_known(self, most: float) -> FrontPoint[Drink] | None:
        """The best of what is known, with at most so much of the first goal."""
        few = (point for point in self._known[1] if point.first <= most)
        return min(few, key=lambda point: (point.second, point.first), default=None)

    def _least_of_all(self) -> FrontPoint[Drink] | None:
        """The least of the first goal of any set, by asking all of them."""
        best: FrontPoint[Drink] | None = None
        for candidates in self._sets():
            most = math.inf if best is None else under(best.first)
            best = self._of_set(candidates, most) or best
        return best

    def _of_set(self, candidates: CandidateSet, most: float) -> FrontPoint[Drink] | None:
        """The least drink of a set, where it has at most so much of the first goal."""
        given, kept = problem_of_set(self.problem, candidates)
        drinks = self._drinks.setdefault(candidates, Drinks(given))
        below = most if self.first is None else math.inf
        found = self._least(self._at_most(given, most), drinks, below)
        if found is None:
            return None
        drink = tuple(sorted((kept[index], at) for index, at in found))
        lost = self.loss(drink)
        if lost is None:
            message = "a drink of a set is of none of the sets"
            raise AssertionError(message)
        return FrontPoint(self._value(self.problem, drink), lost, drink)

    def _sets(self) -> Iterator[CandidateSet]:
        """All sets, the best first; listed once."""
        yield from self._listed
        for candidates in self._all:
            self._listed.append(candidates)
            yield candidates

    def _at_most(self, given: Problem, most: float) -> Problem:
        """The problem with an upper limit on `first`; a distance is bounded by `Search.run`."""
        if self.first is None or most == math.inf:
            return given
        return given.with_limits(Limit("the curve", self.first, None, most))

    def _least(self, given: Problem, drinks: Drinks, below: float = math.inf) -> Drink | None:
        """The drink with the least of the first goal, if that is under `below`."""
        search = Search(
            given, None, tolerance=OFF_AIM_GAP, backend=self.backend, clock=self.clock,
            drinks=drinks,
        )  # fmt: skip
        found = decided(search.run(below=below))
        if found is None:
            return None
        self.on_rows |= found.compared is None
        return found.drink

    def _value(self, given: Problem, drink: Drink) -> float:
        """The first goal of a drink, exactly."""
        values = measures_of_drinks(given, given.amounts(drink), MEASURES.values())
        return float(off_aim(given, values) if self.first is None else values[self.first.name])


def aim_of_zero(goal: Measure) -> Aim:
    """An aim of 0: the distance from it is the measure, in noticeable differences."""
    return Aim(goal, 0.0, goal.noticeable)
