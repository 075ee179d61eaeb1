"""Search for the drink nearest to a spec within its ranges, or else with the least movement."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from solver.clock import Clock
from solver.drinks.assess import Assessment, assess
from solver.errors import Unproven
from solver.explain.conflicts import ConflictOracle, Conflicts, all_conflicts
from solver.measures import Measure
from solver.pantry.bar import Bar
from solver.pantry.disclosure import together
from solver.requests.request import finer_bar, glass_bound
from solver.search.exact_evaluator import evaluate_one, kept_limits
from solver.search.lexicographic import best
from solver.search.milp.backend import Backend
from solver.search.minimise import Drinks, Search
from solver.search.problem import Aim, Drink, Goal, Limit, Problem
from solver.search.result import Impossible, Optimal, Stopped, decided
from solver.search.tolerances import OFF_AIM_GAP
from solver.tasks.respec.held_ranges import HeldRanges
from solver.tasks.respec.line_changes import line_changes
from solver.tasks.respec.rebalanced import Finer, Rebalanced
from solver.tasks.respec.similarity import Contributions
from solver.tasks.respec.slots import Slot, SlotProblem, refilled, slot_problem

NEARLY = 0.1
"""Where a drink cannot stay what it was, noticeable differences by which each measure may move
further than it must, so that fewer pours change: our own choice."""
OVER_ML = 5.0
"""How far over the line of its glass, not its brim, a drink goes that cannot stay what it was: half
a noticeable difference, our own choice."""
SECONDS = 60.0
"""How long a command searches at most, where nobody says: as with a design."""


def rebalance(
    slots: Sequence[Slot],
    made: Assessment,
    kept: HeldRanges,
    bar: Bar,
    backend: Backend,
    clock: Clock,
    *,
    reasons: bool = False,
) -> Rebalanced:
    """Fill the slots within the ranges that the drink is held to: fewest changed pours, then least
    change.

    If that is impossible, its measures move as little as they can. With `reasons`, that case is
    explained, and a finer jigger is tried.

    Raises:
        Unproven: the time was up.
        KeyboardInterrupt: the user stopped the search.
    """
    search = _Search(tuple(slots), made, kept, bar, backend, clock)
    same = search.same()
    if same is not None:
        return same
    moved = search.moved()
    return search.explained(moved) if reasons else moved


def nearest_within(
    slots: Sequence[Slot],
    made: Assessment,
    kept: HeldRanges,
    limits: tuple[Limit, ...],
    bar: Bar,
    backend: Backend,
    clock: Clock,
) -> Rebalanced | None:
    """The drink nearest to a spec within its ranges that keeps some more limits; None if proven
    impossible.

    Raises:
        Unproven: the time was up.
        KeyboardInterrupt: the user stopped the search.
    """
    return _Search(tuple(slots), made, kept, bar, backend, clock, limits).same()


def cheapest(
    slots: Sequence[Slot],
    made: Assessment,
    kept: HeldRanges,
    bar: Bar,
    backend: Backend,
    clock: Clock,
) -> Rebalanced | None:
    """The cheapest drink within the ranges of a spec; None if proven impossible.

    Raises:
        Unproven: the time was up.
        KeyboardInterrupt: the user stopped the search.
    """
    return _Search(tuple(slots), made, kept, bar, backend, clock).same(Goal.CHEAPEST)


@dataclass(frozen=True)
class _Nearest:
    """A proven optimum of a problem, and the number of ways to pour that were compared."""

    problem: Problem
    drink: Drink
    compared: int | None


@dataclass(frozen=True)
class _Search:
    """Searches for pours in some slots."""

    slots: tuple[Slot, ...]
    made: Assessment
    kept: HeldRanges
    bar: Bar
    backend: Backend
    clock: Clock
    limits: tuple[Limit, ...] = ()

    @cached_property
    def slot_problem(self) -> SlotProblem:
        """The problem without limits and aims."""
        contributions = Contributions.to(self.made, self.kept)
        return slot_problem(self.slots, self.made, contributions, self.bar)

    @cached_property
    def glass(self) -> tuple[Limit, ...]:
        """The limit of the glass."""
        if self.made.glass is None or self.kept.overfull:
            return ()
        return (glass_bound(self.made.glass, self.bar).limit,)

    @property
    def about_its_line(self) -> tuple[Limit, ...]:
        """The limit of the glass, exceeded a little at most, unless another glass is asked for."""
        if self.made.glass is None or self.kept.resized:
            return self.glass
        brim_ml = self.bar.glass(self.made.glass).brim_high_ml
        return tuple(
            replace(limit, high=max(limit.high or 0.0, min((limit.high or 0.0) + OVER_ML, brim_ml)))
            for limit in self.glass
        )

    @property
    def goal(self) -> Goal:
        """The goal among drinks within their ranges: fewest changes; closest values if every line
        changes."""
        return Goal.CLOSEST if self.kept.resized else Goal.NEAREST

    def same(self, goal: Goal | None = None) -> Rebalanced | None:
        """The best drink within the ranges, by default for `goal`; None if proven impossible."""
        limits = (*self.kept.limits, *self.limits, *self.glass)
        found = self._best(goal or self.goal, self.kept.aims, limits)
        return None if found is None else self._poured(found, held=True)

    def moved(self) -> Rebalanced:
        """The nearest of the drinks whose measures move least, over the wash line by a little if
        need be."""
        ranges = tuple(_range(aim) for aim in self.kept.aims)
        closest = self._best(Goal.CLOSEST, ranges, self.about_its_line)
        if closest is None:
            return self._impossible()
        values = evaluate_one(closest.problem, closest.drink).values
        wider = [_widened(aim, float(values[aim.measure.name][0])) for aim in ranges]
        nearest = self._best(self.goal, self.kept.aims, (*wider, *self.about_its_line))
        return self._poured(nearest or closest, held=False)

    def _impossible(self) -> Rebalanced:
        """That nothing fits the glass, or that nobody knows how much of something to pour."""
        told = (self.bar.told_of(item) for slot in self.slots for item in slot.fillers)
        return Rebalanced(
            self.made, None, self.kept, would_tell=together(told),
            unmeasured=self.slot_problem.unmeasured,
        )  # fmt: skip

    def _best(self, goal: Goal, aims: tuple[Aim, ...], limits: Sequence[Limit]) -> _Nearest | None:
        """The optimum; None if proven impossible."""
        problem = replace(self.slot_problem.problem, goal=goal, aims=aims, limits=tuple(limits))
        found = best(problem, self.backend, self.clock)
        match found.chosen:
            case Optimal(drink=drink, compared=compared):
                return _Nearest(found.problem, drink, compared)
            case Impossible():
                return None
            case Stopped(interrupted=True):
                raise KeyboardInterrupt
            case Stopped():
                raise Unproven("the time was up before the nearest drink was proven")

    def _poured(self, found: _Nearest, *, held: bool) -> Rebalanced:
        filled = self.slot_problem.poured(found.problem, found.drink, self.made)
        spec, pours = refilled(self.made, filled, self.bar), [each.pour for each in filled]
        after = assess(spec, self.bar, pours=pours)
        lines = line_changes(self.made, after, filled)
        solver = self.backend.name if found.compared is None else None
        return Rebalanced(
            self.made, after, self.kept, lines, held, compared=found.compared, solver=solver
        )

    def explained(self, moved: Rebalanced) -> Rebalanced:
        """The result with its reasons, as far as there is time."""
        if moved.after is not None:
            conflicts = self.conflicts()
            said = tuple(tuple(s for s in self.sides if s in each) for each in conflicts.found)
            moved = replace(moved, conflicts=said, undecided=conflicts.undecided)
        finer = finer_bar(self.bar)
        if finer is None or moved.undecided:
            return moved
        try:
            measured = replace(self, bar=finer).same()
        except Unproven:
            return replace(moved, undecided=True)
        return replace(moved, finer=Finer(finer.pour_set.name, measured) if measured else None)

    @cached_property
    def sides(self) -> list[Limit]:
        """The one-sided limits that are kept."""
        return _sides((*self.kept.limits, *self.glass))

    def conflicts(self) -> Conflicts[Limit]:
        """Every minimal conflict of the one-sided limits (MARCO)."""
        problem, drinks = self.slot_problem.problem, Drinks(self.slot_problem.problem)
        sides = self.sides

        def kept(asked: frozenset[Limit]) -> frozenset[Limit] | None:
            given = replace(problem, limits=tuple(side for side in sides if side in asked))
            search = Search(
                given, None, tolerance=OFF_AIM_GAP, backend=self.backend, clock=self.clock,
                drinks=drinks,
            )  # fmt: skip
            found = decided(search.any())
            return None if found is None else kept_limits(problem, found.drink, sides) | asked

        return all_conflicts(sides, ConflictOracle(kept))


def _range(aim: Aim) -> Aim:
    """The band within one noticeable difference of an aim."""
    low, high = max(0.0, aim.value - aim.tolerance), aim.value + aim.tolerance
    return replace(aim, value=low, until=high)


def _widened(aim: Aim, value: float) -> Limit:
    """The band of an aim, extended to `value` and a little beyond."""
    slack = NEARLY * aim.tolerance
    low, high = min(aim.range[0], value) - slack, max(aim.range[1], value) + slack
    return Limit("moved", aim.measure, low if low > 0 else None, high)


def _sides(limits: Sequence[Limit]) -> list[Limit]:
    """One-sided limits, the tightest of each measure and side."""
    lows: dict[Measure, Limit] = {}
    highs: dict[Measure, Limit] = {}
    for limit in limits:
        measure, name = limit.measure, limit.name
        if limit.low is not None:
            low = Limit(name, measure, limit.low, None)
            lows[measure] = max(lows.get(measure, low), low, key=lambda side: side.low or 0.0)
        if limit.high is not None:
            high = Limit(name, measure, None, limit.high)
            highs[measure] = min(highs.get(measure, high), high, key=lambda side: side.high or 0.0)
    return [*lows.values(), *highs.values()]
