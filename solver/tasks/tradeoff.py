"""The trade-off between two measures of a drink: what less of one costs in the other."""

from __future__ import annotations

import math
import time
from collections.abc import Callable
from dataclasses import dataclass, replace

from solver.drinks.answer import Answer, answer_of
from solver.errors import BadInput
from solver.explain.pareto_front import Frontier, Point, frontier, over, under
from solver.files.near_words import near_words
from solver.measures import MEASURES, Measure
from solver.pantry.bar import Bar
from solver.pantry.profile import Profile
from solver.printable import short
from solver.requests.request import Request, check_prices
from solver.search.clock import Clock, TimeUpError
from solver.search.exact import measure, off_aim
from solver.search.lexicographic import OFF_AIM_TOLERANCE, UNNOTICED
from solver.search.milp.backend import Backend
from solver.search.minimise import Drinks, Search
from solver.search.problem import Aim, Drink, Goal, Limit, Problem
from solver.search.result import Answered, Impossible, Optimal, Result, Stopped, Witness
from solver.tasks.design import Design, Status, design

OFF_AIM = "off-aim"
"""The distance from all aims together, where a measure could be named."""

Between = tuple[str, str]
"""Two names of measures, or one and `OFF_AIM`."""


@dataclass(frozen=True)
class Spot:
    """A drink in the plane of the two: their values, in the order asked for."""

    first: float
    second: float
    answer: Answer


@dataclass(frozen=True)
class Tradeoff:
    """The efficient drinks: of none is there another with less of one and no more of the other.

    `spots` ascend in the first of the two. `design` is what the request gives by itself, and
    `chosen` its place in the plane. `unsearched` are rectangles, (low, high) in the order asked
    for, in which further efficient drinks may lie; the curve is whole where there are none and it
    was not `stopped` by the clock or the user. `compared` is how many ways to pour were, for each
    of these; None where there were too many, and a `solver` proved it, to within `tolerance`
    noticeable differences.
    """

    between: Between
    design: Design
    chosen: Spot | None
    spots: tuple[Spot, ...]
    unsearched: tuple[tuple[tuple[float, float], tuple[float, float]], ...]
    stopped: bool
    interrupted: bool
    compared: int | None
    solver: str | None
    tolerance: float | None
    seconds: float

    @property
    def apart(self) -> tuple[Spot, ...]:
        """Spots that somebody would tell apart, by either of the two; the last one in any case."""
        goals = read_between(self.between)
        kept: list[Spot] = []
        for spot in self.spots:
            last = kept[-1] if kept else None
            if last is None or spot is self.spots[-1] or _noticed(last, spot, goals):
                kept.append(spot)
        return tuple(kept)

    @property
    def complete(self) -> bool:
        """Whether these are all efficient drinks."""
        return not self.unsearched and not self.stopped


def tradeoff(
    profile: Profile, bar: Bar, request: Request, between: Between, backend: Backend, most: int
) -> Tradeoff:
    """The trade-off for a request: every efficient drink, or `most` all along the curve.

    Raises:
        BadInput, BadInputs: see `design`; `between` does not name two measures; the distance from
            aims is asked about where there are none.
    """
    started = time.monotonic()
    goals = read_between(between)
    found = design(profile, bar, request, backend)
    if OFF_AIM in between and not found.problem.aims:
        what = f"{profile.name} has no aims that a drink could be off"
        raise BadInput(what, remedy="Give one, like --abv 17%, or name two measures.")
    check_prices(replace(found.problem, aims=tuple(_down_to(goal) for goal in goals if goal)))
    left = max(0.0, request.seconds - (time.monotonic() - started))
    # A limit holds the first of the two down: the distance from the aims has to be the second.
    turned = goals[0] is None
    first, second = reversed(goals) if turned else goals
    oracle = Drawn(found.problem, (first, second), backend, Clock.of(left))
    curve = Frontier[Drink]((), undecided=found.interrupted)
    if found.answer is not None and not found.interrupted:
        curve = frontier(oracle, most)

    def ordered(one: float, other: float) -> tuple[float, float]:
        return (other, one) if turned else (one, other)

    garnish = None if found.answer is None else found.answer.garnish
    spots = [
        Spot(*ordered(p.first, p.second), answer_of(found.problem, p.found, profile, bar, garnish))
        for p in curve.points
    ]
    return Tradeoff(
        between=between,
        design=found,
        chosen=None if found.answer is None else _spot(found.answer, goals),
        spots=tuple(sorted(spots, key=lambda spot: spot.first)),
        unsearched=tuple((ordered(*gap.low), ordered(*gap.high)) for gap in curve.gaps),
        stopped=curve.undecided or found.status is Status.STOPPED,
        interrupted=oracle.interrupted or found.interrupted,
        compared=None if oracle.on_rows else oracle.drinks.ways,
        solver=backend.name if oracle.on_rows else None,
        tolerance=OFF_AIM_TOLERANCE if oracle.on_rows else None,
        seconds=time.monotonic() - started,
    )


def read_between(between: Between) -> tuple[Measure | None, Measure | None]:
    """The measures that two names stand for, None for the distance from the aims.

    Raises:
        BadInput: a name is not known, or they are the same.
    """
    known = (*MEASURES, OFF_AIM)
    for name in between:
        if name not in known:
            what = f"'{short(name)}' is not a measure"
            remedy = f"Known: {', '.join(known)}."
            raise BadInput(what, near=near_words(name, known), remedy=remedy)
    if between[0] == between[1]:
        what = f"there is no trade-off between {between[0]} and itself"
        raise BadInput(what, remedy=f"Name two of {', '.join(known)}.")
    return MEASURES.get(between[0]), MEASURES.get(between[1])


class Drawn:
    """Finds drinks of a problem by two goals; None, the distance from the aims, may be the second.

    A goal is minimised as a distance: from nothing, in noticeable differences, or from the aims.
    """

    def __init__(
        self, problem: Problem, goals: tuple[Measure | None, Measure | None], backend: Backend,
        clock: Clock,
    ) -> None:  # fmt: skip
        first, second = goals
        if first is None:
            message = "the distance from the aims cannot be held down by a limit"
            raise ValueError(message)
        self.problem = replace(problem, goal=Goal.CLOSEST)
        self.first, self.second = first, second
        self.backend = backend
        self.clock = clock
        self.drinks = Drinks.of(problem)
        self.interrupted = False
        self.on_rows = False
        self._scale = second.noticeable if second else 1.0

    def least_first(self) -> Point[Drink] | None:
        """The least of the first goal, and of those with it the least of the second."""
        lowest = self._look(self._minimising(self.first), Search.run)
        if lowest is None:
            return None
        held = self._limited(self._minimising(self.second), over(self._values(lowest)[0]))
        drink = self._look(held, Search.run)
        return self._point(drink or lowest)

    def least(self, first_below: float, second_below: float) -> Point[Drink] | None:
        """The least of the second goal below both bounds, and of those the least of the first."""
        problem = self._minimising(self.second)
        below = under(second_below) / self._scale
        held = self._limited(problem, under(first_below))
        drink = self._look(held, lambda search: search.run(below=below))
        if drink is None:
            return None
        point = self._point(drink)
        same = over(point.second) / self._scale
        while drink is not None:
            point = self._point(drink)
            held = self._limited(problem, under(point.first))
            drink = self._look(held, lambda search: search.any(below=same))
        return point

    def _look(self, problem: Problem, look: Callable[[Search], Result | Answered]) -> Drink | None:
        """The drink that a search comes to, None if it proves that there is none."""
        search = Search(
            problem, None, tolerance=OFF_AIM_TOLERANCE, backend=self.backend, clock=self.clock,
            drinks=self.drinks,
        )  # fmt: skip
        match look(search):
            case Optimal(drink=drink, compared=compared):
                self.on_rows |= compared is None
                return drink
            case Witness(drink=drink):
                return drink
            case Impossible():
                return None
            case Stopped(interrupted=interrupted):
                self.interrupted = interrupted
                raise TimeUpError

    def _minimising(self, goal: Measure | None) -> Problem:
        return self.problem if goal is None else replace(self.problem, aims=(_down_to(goal),))

    def _limited(self, problem: Problem, high: float) -> Problem:
        """The problem with the first goal held down."""
        if high == math.inf:
            return problem
        return problem.with_limits(Limit("the curve", self.first, None, high))

    def _point(self, drink: Drink) -> Point[Drink]:
        return Point(*self._values(drink), drink)

    def _values(self, drink: Drink) -> tuple[float, float]:
        """Both goals of a drink, exactly."""
        values = measure(self.problem, self.problem.amounts(drink), MEASURES.values())
        other = values[self.second.name] if self.second else off_aim(self.problem, values)
        return float(values[self.first.name]), float(other)


def _down_to(goal: Measure) -> Aim:
    """How much there is of a measure, as a distance in its noticeable differences."""
    return Aim(goal, 0.0, goal.noticeable)


def _noticed(one: Spot, other: Spot, goals: tuple[Measure | None, Measure | None]) -> bool:
    """Whether two drinks differ in one of their values by more than nobody would notice."""
    values = ((one.first, other.first), (one.second, other.second))
    return any(
        abs(a - b) > UNNOTICED * (goal.tolerance(min(a, b)) if goal else 1.0)
        for goal, (a, b) in zip(goals, values, strict=True)
    )


def _spot(answer: Answer, goals: tuple[Measure | None, Measure | None]) -> Spot:
    first, second = (answer.off_aim if goal is None else answer.values[goal.name] for goal in goals)
    if first is None or second is None:
        message = "a price is missing where prices were checked"
        raise ValueError(message)
    return Spot(first, second, answer)
