"""The trade-off curve of two measures of a drink: its Pareto front."""

from __future__ import annotations

import math
import time
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial

from solver.clock import Clock, TimeUpError, Work
from solver.drinks.answer import Answer, answer_of
from solver.errors import BadInput
from solver.explain.pareto_front import Frontier, FrontPoint, frontier, over, under
from solver.measures import MEASURES, Measure
from solver.pantry.bar import Bar
from solver.pantry.profile import Profile
from solver.pantry.spec import Spec
from solver.requests.asked_drink import AskedDrink
from solver.requests.request import Request, check_prices
from solver.search.exact import measure, off_aim
from solver.search.in_keeping_curve import InKeepingCurve, down_to
from solver.search.lexicographic import OFF_AIM_TOLERANCE
from solver.search.milp.backend import Backend
from solver.search.minimise import Drinks, Search
from solver.search.problem import Drink, Goal, Limit, Problem
from solver.search.result import Answered, Impossible, Optimal, Result, Stopped, Witness
from solver.tasks.design import design
from solver.tasks.design_result import Design, Status
from solver.tasks.in_keeping_axis import InKeepingAxis
from solver.tasks.respec.order import asked_of
from solver.tasks.tradeoff_between import IN_KEEPING, OFF_AIM, Between, read_between, unnoticed


@dataclass(frozen=True)
class TradeoffPoint:
    """A drink in the plane of the two measures: its values, in the order asked for."""

    first: float
    second: float
    answer: Answer


@dataclass(frozen=True)
class Tradeoff:
    """The efficient drinks: none has less of one measure and no more of the other.

    `spots` ascend in the first measure. `design` is the plain result of the request, `chosen` its
    point. `unsearched` are rectangles (low, high), in the order asked for, that may hold further
    efficient drinks; the curve is complete if there are none and it was not `stopped`. `compared`
    is the number of ways to pour that were compared for each point; None if they were too many, and
    `solver` proved it to within `tolerance` noticeable differences.
    """

    between: Between
    design: Design
    chosen: TradeoffPoint | None
    spots: tuple[TradeoffPoint, ...]
    unsearched: tuple[tuple[tuple[float, float], tuple[float, float]], ...]
    stopped: bool
    interrupted: bool
    compared: int | None
    solver: str | None
    tolerance: float | None
    seconds: float

    @property
    def apart(self) -> tuple[TradeoffPoint, ...]:
        """Points that differ noticeably from the one before in either measure; the last in any
        case."""
        kept: list[TradeoffPoint] = []
        for spot in self.spots:
            last = kept[-1] if kept else None
            if last is None or spot is self.spots[-1] or _noticed(last, spot, self.between):
                kept.append(spot)
        return tuple(kept)

    @property
    def complete(self) -> bool:
        """Whether these are all efficient drinks."""
        return not self.unsearched and not self.stopped


def tradeoff_of_spec(
    spec: Spec, bar: Bar, request: Request, between: Between, backend: Backend, most: int,
    clock: Clock | None = None,
) -> Tradeoff:  # fmt: skip
    """As `tradeoff`, for all drinks that the lines of a spec can be poured to.

    The distance from the aims is that from the spec's present values.

    Raises:
        BadInput, BadInputs: as `tradeoff`; the spec is wrong, or asked how much it is in keeping.
    """
    if IN_KEEPING in between:
        what = f"{spec.name} is as in keeping as it is, however it is poured"
        remedy = f"Ask of its profile: `equipour tradeoff {spec.profile}`." if spec.profile else ""
        raise BadInput(what, remedy=remedy)
    read_between(between)
    asked = asked_of(spec, bar, request)
    return tradeoff(asked.profile, asked.bar, asked.request, between, backend, most, clock, asked)


def tradeoff(
    profile: Profile,
    bar: Bar,
    request: Request,
    between: Between,
    backend: Backend,
    most: int,
    clock: Clock | None = None,
    plain: AskedDrink | None = None,
) -> Tradeoff:
    """The trade-off for a request: every efficient drink, or `most` of them along the whole curve.

    The search ends with the `clock`, by default that of the request. `plain` is the request without
    comparisons, if known.

    Raises:
        BadInput, BadInputs: see `design`; `between` does not name two measures; the distance from
            aims is asked about where there are none.
    """
    started = time.monotonic()
    clock = clock or Clock.of(request.seconds)
    goals = read_between(between)
    if IN_KEEPING in between:
        request = replace(request, goal=Goal.IN_KEEPING)
    plain = plain or AskedDrink.of(profile, bar, replace(request, steps=()))
    found = design(profile, bar, request, backend, clock=clock, plain=plain)
    if OFF_AIM in between and not found.problem.aims:
        what = f"{profile.name} has no aims that a drink could be off"
        raise BadInput(what, remedy="Give one, like --abv 17%, or name two measures.")
    weighed = replace(found.problem, aims=tuple(down_to(goal) for goal in goals if goal))
    _check_prices(weighed, bar, between)
    axis, single = None, clock.unwatched
    if IN_KEEPING in between:
        axis = InKeepingAxis(found, plain, single)
    plane = _Plane(found, between, axis)
    oracle = plane.oracle(backend, single)
    curve = Frontier[Drink]((), undecided=found.interrupted)
    if found.answer is not None and not found.interrupted:
        curve = frontier(oracle, most, partial(clock.tell, Work.ITEMS))
    spots = [
        TradeoffPoint(
            *plane.told(p.first, p.second),
            answer_of(found.problem, p.found, profile, bar, plain.garnish_on),
        )
        for p in curve.points
    ]
    return Tradeoff(
        between=between,
        design=found,
        chosen=None if found.answer is None else plane.spot(found.answer),
        spots=tuple(reversed(spots) if plane.turned else spots),
        unsearched=tuple((plane.told(*gap.low), plane.told(*gap.high)) for gap in curve.gaps),
        stopped=curve.undecided or found.status is Status.STOPPED,
        interrupted=oracle.interrupted or found.interrupted,
        compared=None if oracle.on_rows else oracle.compared,
        solver=backend.name if oracle.on_rows else None,
        tolerance=OFF_AIM_TOLERANCE if oracle.on_rows else None,
        seconds=time.monotonic() - started,
    )


def _check_prices(weighed: Problem, bar: Bar, between: Between) -> None:
    """Check that everything has a price if the cost is asked about.

    Raises:
        BadInput: a price is missing; with what can be weighed without.
    """
    other = next((name for name in between if name != "cost"), "another measure")
    try:
        check_prices(weighed, bar, why=f"the cost of each drink is weighed against {other}")
    except BadInput as error:
        instead = f"{error.remedy} --between ethanol,{OFF_AIM} needs no price."
        raise BadInput(error.what, why=error.why, remedy=instead) from None


class _Plane:
    """The two goals, as they are searched and as they are reported.

    The first goal of the search is bounded (epsilon constraint), so it has to be a measure if
    possible: what is in keeping never is, the distance from the aims only beside that.
    """

    def __init__(self, found: Design, between: Between, axis: InKeepingAxis | None) -> None:
        self.found = found
        self.between = between
        self.axis = axis
        last = IN_KEEPING if axis else OFF_AIM
        self.turned = between[0] == last
        names = reversed(between) if self.turned else between
        self.first, self.second = (MEASURES.get(name) for name in names)

    def oracle(self, backend: Backend, clock: Clock) -> TwoGoals | InKeepingCurve:
        """The oracle that finds drinks on the curve."""
        if self.axis is not None:
            return self.axis.oracle(self.first, backend)
        return TwoGoals(self.found.problem, (self.first, self.second), backend, clock)

    def told(self, first: float, second: float) -> tuple[float, float]:
        """Two values of the search, in the order asked for."""
        if self.axis is not None:
            second = self.axis.pct(second)
        return (second, first) if self.turned else (first, second)

    def spot(self, answer: Answer) -> TradeoffPoint | None:
        """The point of an answer; None if it is not known how much in keeping it is."""
        values = tuple(self._value(name, answer) for name in self.between)
        first, second = values
        return None if first is None or second is None else TradeoffPoint(first, second, answer)

    def _value(self, name: str, answer: Answer) -> float | None:
        if name == IN_KEEPING:
            if self.axis is None or answer.evidence is None:
                return None
            return self.axis.pct(-answer.evidence.worth)
        value = answer.off_aim if name == OFF_AIM else answer.values[name]
        if value is None:
            message = "a price is missing where prices were checked"
            raise ValueError(message)
        return value


class TwoGoals:
    """Finds drinks of a problem by two goals; the second may be None, the distance from the aims.

    Each goal is minimised as a distance in noticeable differences: from zero, or from the aims.
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

    @property
    def compared(self) -> int:
        """The number of ways to pour that are compared."""
        return self.drinks.compared

    def least_first(self) -> FrontPoint[Drink] | None:
        """The lexicographic minimum, the first goal before the second; None if there is no
        drink."""
        lowest = self._look(self._minimising(self.first), Search.run)
        if lowest is None:
            return None
        held = self._limited(self._minimising(self.second), over(self._values(lowest)[0]))
        drink = self._look(held, Search.run)
        return self._point(drink or lowest)

    def least(self, first_below: float, second_below: float) -> FrontPoint[Drink] | None:
        """The minimum of the second goal below both bounds, then of the first; None if there is
        none."""
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
            # Nothing is under a minimum by a MILP solver's tolerance; as good will do.
            drink = self._look(held, lambda search: search.any(below=same), tolerance=0.0)
        return point

    def _look(
        self, problem: Problem, look: Callable[[Search], Result | Answered],
        tolerance: float = OFF_AIM_TOLERANCE,
    ) -> Drink | None:  # fmt: skip
        """The drink that a search finds; None if it proves that there is none."""
        search = Search(
            problem, None, tolerance=tolerance, backend=self.backend, clock=self.clock,
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
        return self.problem if goal is None else replace(self.problem, aims=(down_to(goal),))

    def _limited(self, problem: Problem, high: float) -> Problem:
        """The problem with an upper bound on the first goal."""
        if high == math.inf:
            return problem
        return problem.with_limits(Limit("the curve", self.first, None, high))

    def _point(self, drink: Drink) -> FrontPoint[Drink]:
        return FrontPoint(*self._values(drink), drink)

    def _values(self, drink: Drink) -> tuple[float, float]:
        """Both goals of a drink, by the exact evaluator."""
        values = measure(self.problem, self.problem.amounts(drink), MEASURES.values())
        other = values[self.second.name] if self.second else off_aim(self.problem, values)
        return float(values[self.first.name]), float(other)


def _noticed(one: TradeoffPoint, other: TradeoffPoint, between: Between) -> bool:
    """Whether two points differ noticeably in one of their values."""
    values = ((one.first, other.first), (one.second, other.second))
    return any(
        abs(a - b) > unnoticed(name, min(a, b))
        for name, (a, b) in zip(between, values, strict=True)
    )
