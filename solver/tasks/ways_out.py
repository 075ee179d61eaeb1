"""Ways out of an impossible request: minimal changes that make it possible, each with its drink."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from solver.drinks.answer import Answer
from solver.explain.conflicts import Conflicts
from solver.pantry.ingredient import Ingredient
from solver.requests.demands import Demand, Kind
from solver.requests.origin import From
from solver.search.exact import RELATIVE_TOLERANCE
from solver.search.problem import Aim
from solver.search.result import decided
from solver.tasks.offered import offered
from solver.tasks.subproblems import BETTER, Solved, Subproblems

CLOSE = 0.01
"""Noticeable differences by which several bounds may move further, together, than they must."""
MUCH_LESS = 0.5
"""Share of the smallest single change below which a joint one is told first."""
MOST_BOUGHT = 3
"""Ingredients that are thought of buying at once."""
MOST_TOGETHER = 3
"""Ways out of several changes that are worked out where no single change helps."""


@dataclass(frozen=True)
class Change:
    """A demand that is moved to `bound`; None if it is dropped."""

    demand: Demand
    bound: float | None = None

    @property
    def size(self) -> float:
        """Noticeable differences by which it is moved; infinite if it is dropped."""
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
    """A minimal change that makes a request possible, and the resulting drink.

    `bought` is what would have to be bought; `needed` what the shelf would have to hold and holds
    too little of. Two are for specs: `smaller` is the same drink at a smaller size than it is held
    to; `unchanged` is the drink as it is poured today.
    """

    changes: tuple[Change, ...]
    answer: Answer
    bought: tuple[Ingredient, ...] = ()
    needed: tuple[Need, ...] = ()
    smaller: bool = False
    unchanged: bool = False

    @property
    def size(self) -> float:
        """The sum of all movements, in noticeable differences."""
        return sum(change.size for change in self.changes)

    @property
    def weight(self) -> float:
        """The key by which ways out are ordered: the size, increased for joint changes.

        Infinite for a purchase, and if anything is dropped.
        """
        if not self.changes:
            return math.inf
        return self.size if len(self.changes) == 1 else self.size / MUCH_LESS


def ways_out(problems: Subproblems, conflicts: Conflicts[Demand]) -> Iterable[WayOut]:
    """Yield single changes, the smallest first, preceded by a joint change if it is much smaller;
    then joint changes and purchases; last those that make it another drink, by leaving a part empty
    or filling it with more."""
    shared = frozenset.intersection(*conflicts.found)
    # A finer jigger is always thought of; what else the frame might give, where it is to blame.
    ordered = [d for d in problems.asked.demands if d in shared or d.kind is Kind.JIGGER]
    moved = [way for d in ordered if d.measure and (way := _moved(problems, (d,)))]
    everything = frozenset.union(*conflicts.found)
    held = (d for d in problems.asked.demands if d in everything or d.origin.kind is From.SPEC)
    numeric = tuple(d for d in held if d.measure)
    joint = _moved(problems, numeric) if len(numeric) > 1 else None
    if joint is not None and len(joint.changes) == 1:
        joint = None
    moved.sort(key=lambda way: way.size)
    early = joint if joint and moved and joint.weight < moved[0].weight else None
    yield from filter(None, (early, *moved))
    dropped = [way for d in ordered if d.measure is None and (way := _dropped(problems, d))]
    yield from (way for way in dropped if way.changes[0].demand.kind is not Kind.COUNT)
    if joint is not None and early is None:
        yield joint
    if not moved and not dropped:
        yield from _together(problems, conflicts.corrections, joint)
    # More than one purchase is thought of only where nothing else helps.
    way = purchase(problems, MOST_BOUGHT if not moved and not dropped else 1)
    if way is not None:
        yield way
    yield from (way for way in dropped if way.changes[0].demand.kind is Kind.COUNT)


def way_past(problems: Subproblems, bound: Demand) -> WayOut | None:
    """The least movement of a single bound; None if that alone does not help."""
    return _moved(problems, (bound,))


def _together(
    problems: Subproblems, corrections: Sequence[frozenset[Demand]], joint: WayOut | None
) -> Iterable[WayOut]:
    """Yield joint changes for conflicts without a common demand, the fewest demands first."""
    known = {change.demand for change in joint.changes} if joint else set()
    found = 0
    for correction in corrections:
        if found == MOST_TOGETHER:
            return
        demands = tuple(d for d in problems.asked.demands if d in correction)
        if len(demands) > 1 and not known.issuperset(demands):
            way = _moved(problems, demands)
            if way is not None:
                found += 1
                yield way


def _moved(problems: Subproblems, demands: tuple[Demand, ...]) -> WayOut | None:
    """The least movement of the bounds of some demands, in noticeable differences together.

    Demands without a bound are dropped.
    """
    gone = tuple(demand for demand in demands if demand.measure is None)
    bounds = _least_bounds(problems, demands)
    answer = None if bounds is None else _answer(problems, problems.offer(gone, bounds))
    if bounds is None or answer is None:
        return None
    changes = (*(Change(demand, bound) for demand, bound in bounds.items()), *map(Change, gone))
    return WayOut(changes, answer, needed=_needed(problems, answer, gone))


def _least_bounds(problems: Subproblems, demands: tuple[Demand, ...]) -> dict[Demand, float] | None:
    """New bounds of the demands that must move so that there is a drink, all others kept; None if
    there is no such drink.

    Their movement together is minimal to within `CLOSE`; a single one is minimal to a unit of its
    last decimal.
    """
    aims = tuple(aim for demand in demands if (aim := _beyond(demand)))
    if not aims:
        return {}
    alone = demands[0] if len(demands) == 1 else None
    within = CLOSE if alone is None else _unit(alone) / aims[0].tolerance
    nearest = problems.nearest(demands, aims, within)
    if nearest is None:
        return None
    bounds: dict[Demand, float] = {}
    for demand in demands:
        if demand.measure is not None:
            value = nearest.measured(demand.measure)
            over = value - demand.bound
            if (over if demand.kind is Kind.MOST else -over) > BETTER:
                bounds[demand] = _outward(value, demand)
    if alone is None or alone not in bounds:
        return bounds
    inward = -_unit(alone) if alone.kind is Kind.MOST else _unit(alone)
    closer = {alone: _outward(bounds[alone] + inward, alone)}
    return bounds if problems.any((), closer) is None else closer


def _beyond(demand: Demand) -> Aim | None:
    """The distance from keeping a demand, as an aim."""
    if demand.measure is None:
        return None
    tolerance = demand.measure.tolerance(demand.bound)
    if demand.kind is Kind.MOST:
        return Aim(demand.measure, 0.0, tolerance, demand.bound)
    return Aim(demand.measure, demand.bound, tolerance, math.inf)


def _unit(demand: Demand) -> float:
    """One unit of the last decimal of a demand's measure."""
    return 10.0 ** -(demand.measure.decimals if demand.measure else 0)


def _outward(value: float, demand: Demand) -> float:
    """A rounded bound that `value` keeps."""
    scale = 10.0 ** (demand.measure.decimals if demand.measure else 0)
    nearest = round(value * scale)
    if abs(nearest - value * scale) <= RELATIVE_TOLERANCE / 2 * abs(value * scale):
        return nearest / scale
    outward = math.ceil if demand.kind is Kind.MOST else math.floor
    return outward(value * scale) / scale


def _dropped(problems: Subproblems, demand: Demand) -> WayOut | None:
    if demand.kind is Kind.WITH and demand.subject in problems.asked.request.feature:
        return _not_shown(problems, demand)
    if problems.any((demand,)) is None:
        return None
    answer = _answer(problems, problems.offer((demand,)))
    if answer is None:
        return None
    return WayOut((Change(demand),), answer, needed=_needed(problems, answer, (demand,)))


def _not_shown(problems: Subproblems, demand: Demand) -> WayOut | None:
    """The request without something that it is to show, as whoever asks that is answered."""
    request = problems.asked.request
    feature = tuple(key for key in request.feature if key != demand.subject)
    wanted = tuple(wish for wish in request.wanted if wish.key != demand.subject)
    asked = problems.asked.again(replace(request, feature=feature, wanted=wanted))
    there, found, _ = offered(Subproblems(asked, problems.backend, problems.clock))
    known = decided(found.result)
    if known is None:
        return None
    return WayOut((Change(demand),), there.answer_of(found.problem, known.drink))


def _needed(problems: Subproblems, answer: Answer, gone: Sequence[Demand]) -> tuple[Need, ...]:
    """What the shelf has too little of for all serves of a drink, if the demand on the stock is
    dropped."""
    if all(demand.kind is not Kind.STOCK for demand in gone):
        return ()
    found: list[Need] = []
    for pour in answer.pours:
        stocked = problems.asked.bar.stocked(pour.ingredient.key)
        needed = math.ceil(pour.amount * problems.asked.request.serves - BETTER)
        if stocked is not None and not stocked.has(needed):
            found.append(Need(pour.ingredient, needed))
    return tuple(found)


def purchase(problems: Subproblems, most: int) -> WayOut | None:
    """The fewest purchases from the library that make the request possible, and the nearest drink;
    None if none do."""
    if problems.any((), bought=most) is None:
        return None
    fewest = 1
    while fewest < most and problems.any((), bought=fewest) is None:
        fewest += 1
    answer = _answer(problems, problems.offer(bought=fewest))
    if answer is None:
        return None
    stocked = {item.ingredient.key for item in problems.asked.bar.stock}
    new = tuple(i for i in answer.ingredients if i.key not in stocked)
    return WayOut((), answer, new)


def _answer(problems: Subproblems, solved: Solved | None) -> Answer | None:
    return None if solved is None else problems.answer(solved)
