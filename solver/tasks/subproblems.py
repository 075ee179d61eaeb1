"""Solve a request with some of its demands dropped or moved; what they share is built once."""

from __future__ import annotations

import itertools
import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from solver.clock import Clock, Work
from solver.drinks.answer import Answer, answer_of
from solver.harmony.harmony import SCALE, BottleWish, worth_of
from solver.measures import Measure
from solver.requests.asked_drink import AskedDrink
from solver.requests.choices import PURCHASES
from solver.requests.choose import Chosen, choose, choose_soon, closest
from solver.requests.demands import STRUCTURE, Demand, Kind
from solver.requests.in_keeping import InKeeping
from solver.search.exact import evaluate_one, kept_limits
from solver.search.exact import measure as measures_of
from solver.search.lexicographic import Agreed, Disagreed, Verdict, tolerance_of
from solver.search.milp.backend import Backend
from solver.search.minimise import EXACT, Drinks, Search
from solver.search.presolve import simple_drink, trivially_infeasible
from solver.search.problem import Aim, Choice, Drink, Limit, Problem
from solver.search.result import Impossible, Optimal, Result, Stopped, decided
from solver.search.symmetry import representatives

SAME_BOTTLES = frozenset({Kind.LEAST, Kind.MOST, Kind.WITH, Kind.CHARACTER})
"""Kinds of demands that can be dropped without another set of bottles and pours."""
BETTER = 1e-6
"""What the goal must gain, in its own unit, to be better at all: far above rounding."""


@dataclass(frozen=True)
class Solved:
    """A problem with its proven optimum."""

    problem: Problem
    drink: Drink
    value: float

    def measured(self, measure: Measure) -> float:
        """The value of a measure of the drink."""
        amounts = self.problem.amounts(self.drink)
        return float(measures_of(self.problem, amounts, (measure,))[measure.name])


class _Base:
    """What subproblems share that differ only in limits and wishes: a problem and its drinks.

    `shelf` has every bottle, `problem` one representative of interchangeable ones. Drinks and sets
    are built on first use: some subproblems are decided without them.
    """

    def __init__(self, asked: AskedDrink, shelf: Problem) -> None:
        self.asked = asked
        self.shelf = shelf
        self.problem = representatives(shelf)

    @cached_property
    def drinks(self) -> Drinks:
        """The drinks of the representatives."""
        return Drinks.of(self.problem, shelf=self.shelf)

    @cached_property
    def in_keeping(self) -> InKeeping:
        """The sets of ingredients of all bottles."""
        return InKeeping(self.asked, self.shelf)


class Subproblems:
    """Solves one request with demands dropped or moved.

    Results are a drink, or None as the proof that there is none. Raises TimeUpError if there was no
    time to decide.
    """

    def __init__(
        self, asked: AskedDrink, backend: Backend, clock: Clock, targets: Sequence[Limit] = ()
    ) -> None:
        self.asked = asked
        self.backend = backend
        self.clock = clock
        self.targets = targets
        self._bases: dict[tuple[frozenset[Demand], bool], _Base] = {}
        self._number = itertools.count(1)

    def within(self, seconds: float, targets: Sequence[Limit] = ()) -> Subproblems:
        """The same request with a share of the time and additional `targets`; built parts are
        shared."""
        share = Subproblems(self.asked, self.backend, self.clock.within(seconds), targets)
        share._bases, share._number = self._bases, self._number
        return share

    def _posed(
        self, dropped: Collection[Demand], moved: Mapping[Demand, float] | None = None,
        *, bought: int = 0,
    ) -> tuple[Problem, _Base]:  # fmt: skip
        """The subproblem without some demands and with others moved, and its shared base."""
        gone = frozenset(dropped)
        if gone or moved or bought:
            self.clock.tell(Work.QUESTIONS, next(self._number))
        other_bottles = frozenset(demand for demand in gone if demand.kind not in SAME_BOTTLES)
        key = (other_bottles, bought > 0)
        if key not in self._bases:
            shelf = self.asked.problem(other_bottles, bought=bought)
            self._bases[key] = _Base(self.asked, shelf)
        base = self._bases[key]
        moved = moved or {}
        limits: list[Limit] = [*self.targets]
        for demand in self.asked.demands:
            if demand not in gone:
                limit = replace(demand, bound=moved.get(demand, demand.bound)).limit
                if limit is not None:
                    limits.append(replace(limit, name=demand.name))
        free = {demand.name for demand in (*gone, *moved)}
        choices = tuple(_eased(choice, free, bought) for choice in base.problem.choices)
        return replace(base.problem, limits=tuple(limits), choices=choices), base

    def best(
        self, dropped: Collection[Demand] = (), moved: Mapping[Demand, float] | None = None, *,
        below: float = math.inf,
    ) -> Solved | None:  # fmt: skip
        """The optimum of the request's own goal among drinks with a goal below `below`; None if
        none."""
        problem, base = self._posed(dropped, moved)
        if trivially_infeasible(problem):
            return None
        search = self._search(problem, base.drinks, problem.goal.measure)
        return _solved(problem, search.run(below=below))

    def offer(
        self, dropped: Collection[Demand] = (), moved: Mapping[Demand, float] | None = None,
        *, bought: int = 0,
    ) -> Solved | None:  # fmt: skip
        """The drink that would be offered; None if there is none.

        It is the optimum, or a simpler drink that nobody tells from it.
        """
        few, base = self._posed(dropped, moved, bought=bought)
        if trivially_infeasible(few):
            return None
        whole = _whole(few, base, (*dropped, *(moved or ())), bought)
        if bought:  # the whole library is to choose from
            soon = choose_soon(whole, base.in_keeping, self.backend, self.clock)
            found = soon or self._closest_bought(few, self.any(dropped, moved, bought=bought))
        else:
            found = choose(
                whole, base.in_keeping, self.backend, self.clock, few=few, drinks=base.drinks
            )
        return None if found is None else _solved(found.problem, found.result)

    def _closest_bought(self, few: Problem, example: Drink | None) -> Chosen | None:
        """The closest drink with the purchases of a known drink.

        No other purchases are tried: that would be a search of the whole library.
        """
        if example is None:
            return None
        poured = {few.candidates[i].ingredient for i, _ in example}
        at_hand = poured | {item.ingredient.key for item in self.asked.bar.stock}
        kept = [i for i, c in enumerate(few.candidates) if c.ingredient in at_hand]
        narrowed = few.of_candidates(kept)
        return closest(narrowed, Drinks.of(narrowed), self.backend, self.clock)

    def choose(self, unlike: Sequence[BottleWish] = ()) -> Chosen:
        """The drink that is offered for the request, narrowed by `unlike`."""
        few, base = self._posed(())
        whole = _whole(few, base, (), 0)
        if not unlike:
            return choose(
                whole, base.in_keeping, self.backend, self.clock, few=few, drinks=base.drinks
            )
        return choose(_narrowed(whole, unlike), base.in_keeping, self.backend, self.clock)

    def with_every_bottle(self, dropped: Collection[Demand]) -> tuple[Problem, InKeeping]:
        """The subproblem with every bottle instead of representatives, and its ingredient sets."""
        few, base = self._posed(dropped)
        return _whole(few, base, dropped, 0), base.in_keeping

    def any(
        self, dropped: Collection[Demand], moved: Mapping[Demand, float] | None = None, *,
        below: float = math.inf, bought: int = 0,
    ) -> Drink | None:  # fmt: skip
        """Any drink without some demands, with the request's own goal below `below`; None if
        none."""
        problem, base = self._posed(dropped, moved, bought=bought)
        if trivially_infeasible(problem):
            return None
        if not problem.limits and below == math.inf and (drink := simple_drink(problem)):
            return drink
        goal = problem.goal.measure if below < math.inf else None
        found = decided(self._search(problem, base.drinks, goal).any(below))
        return None if found is None else found.drink

    def nearest(
        self, dropped: Collection[Demand], aims: tuple[Aim, ...], within: float
    ) -> Solved | None:
        """The drink nearest to `aims` without some demands, whatever the request's aims; None if
        none.

        It is optimal to `within` noticeable differences.
        """
        problem, base = self._posed(dropped)
        if trivially_infeasible(problem):
            return None
        aimed = replace(problem, aims=aims)
        return _solved(aimed, self._search(aimed, base.drinks, None, within).run())

    def kept(self, active: frozenset[Demand]) -> frozenset[Demand] | None:
        """All demands kept by some drink that keeps `active`; None if there is no such drink.

        Of the profile's structure and the jigger, only what is in `active` is reported.
        """
        dropped = frozenset(self.asked.demands) - active
        drink = self.any(dropped)
        if drink is None:
            return None
        problem, _ = self._posed(dropped)
        limits = {limit: demand for demand in dropped if (limit := demand.limit)}
        kept = {limits[limit] for limit in kept_limits(problem, drink, tuple(limits))}
        candidates = problem.candidates
        poured = [(candidates[i].ingredient, candidates[i].part, candidates[i].amounts[k])
                  for i, k in drink]  # fmt: skip
        wishes = (d for d in dropped if d.measure is None and d.kind not in STRUCTURE)
        return active | kept | {wish for wish in wishes if self.asked.keeps(wish, poured)}

    def answer(self, solved: Solved) -> Answer:
        """The drink of a solved problem as an answer."""
        return self.answer_of(solved.problem, solved.drink)

    def answer_of(self, problem: Problem, drink: Drink) -> Answer:
        """A drink of a problem as an answer, with its evidence."""
        asked = self.asked
        answer = answer_of(problem, drink, asked.profile, asked.bar, asked.garnish_on)
        _, base = self._posed(())
        return replace(answer, evidence=base.in_keeping.evidence(problem, drink))

    def verified(self, searched: Problem, drink: Drink) -> Verdict:
        """The verdict of one MILP model on the drink that is most in keeping."""
        from solver.search.milp.in_keeping_rows import Witnessed, most_in_keeping_by_rows

        _, in_keeping = self.with_every_bottle(())
        question = in_keeping.question(searched)
        ingredients = in_keeping.set_of(searched, drink)
        worth = None if ingredients is None else question.worth(ingredients)
        if worth is None:
            message = "the drink most in keeping is of none of the sets"
            raise AssertionError(message)
        first = Optimal(drink, -worth / SCALE, -worth / SCALE)
        second = most_in_keeping_by_rows(
            searched, question, in_keeping.bottles, self.backend, self.clock
        )
        match second:
            case Stopped():
                return second
            case Impossible():
                return Disagreed(self.backend.name, first, second)
            case Witnessed(found=found) if found.worth == worth:
                return Agreed(self.backend.name)
            case Witnessed(found=found, drink=other):
                value = -found.worth / SCALE
                return Disagreed(self.backend.name, first, Optimal(other, value, value))

    def verified_with_floor(self, searched: Problem, share: float, best: Optimal) -> Verdict:
        """The verdict of one MILP model on the optimum of a measured goal under a floor on what is
        in keeping.

        It looks for a drink with a lower goal that is as much in keeping as `share` of published
        drinks.
        """
        from solver.explain.pareto_front import under
        from solver.search.milp.in_keeping_rows import Witnessed, most_in_keeping_by_rows

        _, in_keeping = self.with_every_bottle(())
        floor = in_keeping.floor(share)
        goal = searched.goal.measure
        if goal is None:
            message = "what is most in keeping is not measured"
            raise ValueError(message)
        less = searched.with_limits(Limit("less", goal, None, under(best.value)))
        question = in_keeping.question(less)
        second = most_in_keeping_by_rows(
            less, question, in_keeping.bottles, self.backend, self.clock
        )
        match second:
            case Stopped():
                return second
            case Witnessed(found=found, drink=other) if worth_of(found.worth) >= floor:
                value = float(evaluate_one(less, other).of(goal)[0])
                return Disagreed(self.backend.name, best, Optimal(other, value, value))
        return Agreed(self.backend.name)

    def _search(
        self, problem: Problem, drinks: Drinks, goal: Measure | None, within: float | None = None
    ) -> Search:
        tolerance, exact = (tolerance_of(goal), EXACT) if within is None else (within, within)
        return Search(
            problem, goal, tolerance=tolerance, backend=self.backend, clock=self.clock,
            drinks=drinks, exact=exact,
        )  # fmt: skip


def _whole(few: Problem, base: _Base, eased: Collection[Demand], bought: int) -> Problem:
    """The problem with every bottle instead of representatives; choices of `eased` demands are
    relaxed."""
    free = {demand.name for demand in eased}
    choices = tuple(_eased(choice, free, bought) for choice in base.shelf.choices)
    return replace(base.shelf, limits=few.limits, choices=choices)


def _narrowed(problem: Problem, wishes: Sequence[BottleWish]) -> Problem:
    """The problem with some wishes as further choices."""
    return problem.with_choices(
        *(
            Choice(
                "unlike an earlier answer",
                frozenset(
                    i for i, c in enumerate(problem.candidates) if c.ingredient in wish.bottles
                ),
                wish.low,
                wish.high,
            )
            for wish in wishes
        )
    )


def _eased(choice: Choice, free: set[str], bought: int) -> Choice:
    """A choice as a subproblem has it: without bounds if its demand is dropped or moved; purchases
    are bounded by `bought`."""
    if choice.name == PURCHASES:
        return replace(choice, high=bought)
    return replace(choice, low=0, high=None) if choice.name in free else choice


def _solved(problem: Problem, found: Result) -> Solved | None:
    optimum = decided(found)
    return None if optimum is None else Solved(problem, optimum.drink, optimum.value)
