"""Why a request has the answer it has: what binds, what is in conflict, what would help."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from solver.measures import Measure
from solver.pantry.ingredient import Ingredient
from solver.reasons.binding import binding
from solver.reasons.conflicts import Conflicts, Oracle, UndecidedError, all_conflicts
from solver.search.exact import RELATIVE_TOLERANCE
from solver.search.exact import measure as values_of
from solver.search.problem import Aim
from solver.tasks.answer import Answer, answer_of
from solver.tasks.demands import STRUCTURE, Demand, Kind
from solver.tasks.ground import SAME_BOTTLES, Ground, Solved

BETTER = 1e-6
"""What the goal must gain, in its own unit, for a demand to bind: far above rounding."""
MOST_BOUGHT = 3
"""Ingredients that are thought of buying at once."""
MOST_FRAMED = 2
"""Conflicts of which it is asked what of the profile and the jigger they need."""


@dataclass(frozen=True)
class Worth:
    """What loosening a binding limit is worth, in the goal's unit.

    `step` is one natural step of the measure, and `stepped` the best value with it; beyond a bound
    of `until` loosening helps no further: the best is then `dropped`. A demand that has no bound
    can only be dropped.
    """

    dropped: float
    step: float | None = None
    stepped: float | None = None
    until: float | None = None


@dataclass(frozen=True)
class Reason:
    """A demand, as the answer meets it.

    `value` is the answer's, `slack` how far it is from the bound, both None for demands without
    one; `binding` None where it was not asked or there was no time to tell.
    """

    demand: Demand
    value: float | None = None
    slack: float | None = None
    binding: bool | None = None
    worth: Worth | None = None


@dataclass(frozen=True)
class Change:
    """A demand that is moved to `bound`, or dropped where that is None."""

    demand: Demand
    bound: float | None = None

    @property
    def size(self) -> float:
        """How far it is moved, in noticeable differences; infinite for a demand that is dropped."""
        measure = self.demand.measure
        if measure is None or self.bound is None:
            return math.inf
        return abs(self.bound - self.demand.bound) / measure.tolerance(self.demand.bound)


@dataclass(frozen=True)
class Need:
    """An ingredient, and what all serves take of it: mL, or g of what is weighed."""

    ingredient: Ingredient
    amount: float


@dataclass(frozen=True)
class WayOut:
    """The least that makes a request possible, in one respect, and the drink that comes of it.

    `bought` is what would have to be bought; `needed` what the shelf would have to hold, of what it
    holds too little.
    """

    changes: tuple[Change, ...]
    answer: Answer
    bought: tuple[Ingredient, ...] = ()
    needed: tuple[Need, ...] = ()


@dataclass(frozen=True)
class Why:
    """Reasons for an answer, or conflicts and ways out where there is none.

    `complete` says that the conflicts are all there are. `undecided` says that there was no time
    for all of it, or that the user stopped it (`interrupted`): what is there holds. `value` and
    `goal` are the optimum's: reasons are about the best drink there is, of which the one offered
    may be a simpler neighbour.
    """

    goal: Measure | None
    value: float | None
    reasons: tuple[Reason, ...] = ()
    conflicts: tuple[tuple[Demand, ...], ...] = ()
    complete: bool = True
    ways_out: tuple[WayOut, ...] = ()
    undecided: bool = False
    interrupted: bool = False


def why_answer(ground: Ground, optimum: float, answer: Answer, *, structure: bool) -> Why:
    """What binds a proven answer; with `structure`, jigger, counts and pours are asked about too.

    `optimum` is the best value of the request's own goal.
    """
    demands = ground.asked.demands
    goal = ground.asked.request.goal.measure

    def helps(dropped: frozenset[Demand]) -> bool:
        return ground.any(dropped, optimum - BETTER) is not None

    def without(demand: Demand) -> float | None:
        found = ground.best((demand,), below=optimum - BETTER)
        return None if found is None else found.value

    asked = [d for d in demands if structure or d.kind not in STRUCTURE]
    groups = [[d for d in asked if d.kind in SAME_BOTTLES]]
    groups += [[d] for d in asked if d.kind not in SAME_BOTTLES]
    gains: dict[Demand, float] = {}
    settled: set[Demand] = set()
    worths: dict[Demand, Worth] = {}
    interrupted = False
    try:
        for group in groups:
            gains |= binding(group, helps, without)
            settled |= set(group)
        for demand, value in gains.items():
            worths[demand] = _worth(ground, demand, optimum, value)
    except UndecidedError:
        pass
    except KeyboardInterrupt:
        interrupted = True
    reasons = tuple(
        Reason(d, *_standing(d, answer), d in gains if d in settled else None, worths.get(d))
        for d in asked
    )
    undecided = interrupted or len(settled) < len(asked) or len(worths) < len(gains)
    return Why(goal, optimum, reasons, undecided=undecided, interrupted=interrupted)


def _standing(demand: Demand, answer: Answer) -> tuple[float | None, float | None]:
    """The answer's value of the demand's measure, and its slack."""
    if demand.measure is None:
        return None, None
    value = answer.values[demand.measure.name]
    if value is None:
        return None, None
    return value, abs(value - demand.bound)


def _worth(ground: Ground, demand: Demand, optimum: float, dropped: float) -> Worth:
    """What one step more is worth, and where loosening stops to help."""
    measure = demand.measure
    if measure is None:
        return Worth(dropped)
    sign = 1.0 if demand.kind is Kind.MOST else -1.0
    moved = {demand: demand.bound + sign * measure.step}
    better = ground.best((), moved, below=optimum + BETTER)
    stepped = optimum if better is None else better.value
    found = ground.best((demand,), below=dropped + BETTER)
    until = demand.bound
    # Of several drinks that are as good, the one that needs the least loosening counts.
    while found is not None:
        until = _measured(found, measure)
        found = ground.best((), {demand: until - sign * BETTER}, below=dropped + BETTER)
    return Worth(dropped, measure.step, stepped, until)


def _measured(found: Solved, measure: Measure) -> float:
    """The value of a measure of a solved problem's drink."""
    amounts = found.problem.amounts(found.drink)
    return float(values_of(found.problem, amounts, (measure,))[measure.name])


def why_impossible(ground: Ground) -> Why:
    """Every minimal conflict of an impossible request, and the ways out of it."""
    goal = ground.asked.request.goal.measure
    oracle = Oracle(ground.kept)
    conflicts = Conflicts[Demand]((), complete=False)
    ways: list[WayOut] = []
    undecided = interrupted = False
    try:
        conflicts = _conflicts(ground.asked.demands, oracle)
        undecided = conflicts.undecided
        ways.extend(() if undecided else _ways_out(ground, conflicts))
    except UndecidedError:
        undecided = True
    except KeyboardInterrupt:
        undecided = interrupted = True
    said = tuple(tuple(d for d in ground.asked.demands if d in each) for each in conflicts.found)
    return Why(
        goal,
        None,
        conflicts=said,
        complete=conflicts.complete,
        ways_out=tuple(ways),
        undecided=undecided,
        interrupted=interrupted,
    )


def _conflicts(demands: Sequence[Demand], oracle: Oracle[Demand]) -> Conflicts[Demand]:
    """Minimal conflicts of what was asked, in the frame of profile and jigger.

    Where the frame alone is impossible, some part cannot be filled: the conflicts are then among
    the counts of the parts.
    """
    frame = [demand for demand in demands if demand.kind in STRUCTURE]
    if oracle.possible(frozenset(frame)):
        return _framed([d for d in demands if d.kind not in STRUCTURE], frame, oracle)
    counts = [demand for demand in frame if demand.kind is Kind.COUNT]
    rest = [demand for demand in frame if demand.kind is not Kind.COUNT]
    return replace(_framed(counts, rest, oracle), complete=False)


def _framed(asked: list[Demand], frame: list[Demand], oracle: Oracle[Demand]) -> Conflicts[Demand]:
    """Minimal conflicts of `asked` while the whole frame is in force.

    To each belongs what of the frame it needs: without that alone there would be no conflict. Only
    of few conflicts is this asked.
    """
    force = frozenset(frame)
    found = all_conflicts(asked, Oracle(lambda items: _but(oracle.kept(items | force), force)))
    if found.undecided or len(found.found) > MOST_FRAMED:
        return found
    try:
        framed = tuple(
            core | {part for part in frame if oracle.possible(core | force - {part})}
            for core in found.found
        )
    except UndecidedError:
        return replace(found, undecided=True)
    return replace(found, found=framed)


def _but(kept: frozenset[Demand] | None, force: frozenset[Demand]) -> frozenset[Demand] | None:
    return None if kept is None else kept - force


def _ways_out(ground: Ground, conflicts: Conflicts[Demand]) -> Iterable[WayOut]:
    """Single changes first, the smallest before larger ones; then joint changes and purchases."""
    shared = frozenset.intersection(*conflicts.found)
    # A finer jigger is always thought of; what else the frame might give, where it is to blame.
    ordered = [d for d in ground.asked.demands if d in shared or d.kind is Kind.JIGGER]
    moved = [way for d in ordered if d.measure and (way := _moved(ground, (d,)))]
    yield from sorted(moved, key=lambda way: way.changes[0].size)
    dropped = [way for d in ordered if d.measure is None and (way := _dropped(ground, d))]
    yield from dropped
    everything = frozenset.union(*conflicts.found)
    numeric = tuple(d for d in ground.asked.demands if d in everything and d.measure)
    if len(numeric) > 1:
        joint = _moved(ground, numeric)
        if joint is not None and len(joint.changes) > 1:
            yield joint
    # More than one purchase is thought of only where nothing else helps.
    bought = _bought(ground, MOST_BOUGHT if not moved and not dropped else 1)
    if bought is not None:
        yield bought


def _moved(ground: Ground, demands: tuple[Demand, ...]) -> WayOut | None:
    """The least movement of the bounds of some demands, in noticeable differences together."""
    aims = tuple(aim for demand in demands if (aim := _beyond(demand)))
    nearest = ground.nearest(demands, aims)
    if nearest is None:
        return None
    bounds: dict[Demand, float] = {}
    for demand in demands:
        if demand.measure is not None:
            value = _measured(nearest, demand.measure)
            over = value - demand.bound
            if (over if demand.kind is Kind.MOST else -over) > BETTER:
                bounds[demand] = _outward(value, demand)
    answer = _answer(ground, ground.offer((), bounds))
    changes = tuple(Change(demand, bound) for demand, bound in bounds.items())
    return None if answer is None else WayOut(changes, answer)


def _beyond(demand: Demand) -> Aim | None:
    """The distance from keeping a demand, as an aim."""
    if demand.measure is None:
        return None
    tolerance = demand.measure.tolerance(demand.bound)
    if demand.kind is Kind.MOST:
        return Aim(demand.measure, 0.0, tolerance, demand.bound)
    return Aim(demand.measure, demand.bound, tolerance, math.inf)


def _outward(value: float, demand: Demand) -> float:
    """A bound that `value` keeps, rounded to what people read."""
    scale = 10.0 ** (demand.measure.decimals if demand.measure else 0)
    nearest = round(value * scale)
    if abs(nearest - value * scale) <= RELATIVE_TOLERANCE / 2 * abs(value * scale):
        return nearest / scale
    outward = math.ceil if demand.kind is Kind.MOST else math.floor
    return outward(value * scale) / scale


def _dropped(ground: Ground, demand: Demand) -> WayOut | None:
    answer = _answer(ground, ground.offer((demand,)))
    if answer is None:
        return None
    needed = _needed(ground, answer) if demand.kind is Kind.STOCK else ()
    return WayOut((Change(demand),), answer, needed=needed)


def _needed(ground: Ground, answer: Answer) -> tuple[Need, ...]:
    """What the shelf holds too little of for all serves of a drink."""
    found: list[Need] = []
    for pour in answer.pours:
        stocked = ground.asked.bar.stocked(pour.ingredient.key)
        needed = math.ceil(pour.amount * ground.asked.request.serves - BETTER)
        if stocked is not None and stocked.on_hand is not None and needed > stocked.on_hand:
            found.append(Need(pour.ingredient, needed))
    return tuple(found)


def _bought(ground: Ground, most: int) -> WayOut | None:
    """The fewest ingredients of the library that would have to be bought, and the drink nearest."""
    for count in range(1, most + 1):
        answer = _answer(ground, ground.offer(bought=count))
        if answer is not None:
            stocked = {item.ingredient.key for item in ground.asked.bar.stock}
            bought = tuple(i for i in answer.ingredients if i.key not in stocked)
            return WayOut((), answer, bought)
    return None


def _answer(ground: Ground, solved: Solved | None) -> Answer | None:
    if solved is None:
        return None
    return answer_of(solved.problem, solved.drink, ground.asked.profile, ground.asked.bar)
