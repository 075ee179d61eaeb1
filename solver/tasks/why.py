"""Why a request has the answer it has: what binds, what is in conflict, what would help."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass, replace

from solver.clock import TimeUpError
from solver.drinks.answer import Answer
from solver.explain.binding import binding
from solver.explain.conflicts import ConflictOracle, Conflicts, all_conflicts
from solver.measures import Measure
from solver.requests.crossed import crossed
from solver.requests.demands import STRUCTURE, Demand, Kind
from solver.requests.origin import ASKED
from solver.tasks.held_back import HeldBack
from solver.tasks.subproblems import BETTER, SAME_BOTTLES, Solved, Subproblems
from solver.tasks.ways_out import WayOut, way_past, ways_out

MOST_FRAMED = 2
"""Conflicts of which it is asked what of the profile and the jigger they need."""


Helps = Callable[[frozenset[Demand]], bool]
Without = Callable[[Demand], float | None]


@dataclass(frozen=True)
class Worth:
    """What loosening a binding limit is worth, in the goal's unit.

    `step` is one natural step of the measure, and `stepped` the best value with it; beyond a bound
    of `until` loosening helps no further: the best is then `dropped`. A demand that has no bound
    can only be dropped. Where the goal is what is in keeping, `instead` is what would be poured.
    """

    dropped: float
    step: float | None = None
    stepped: float | None = None
    until: float | None = None
    instead: Answer | None = None


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


def why_answer(problems: Subproblems, optimum: float, answer: Answer, *, structure: bool) -> Why:
    """What binds a proven answer; with `structure`, jigger, counts and pours are asked about too.

    `optimum` is the best value of the request's own goal.
    """
    goal = problems.asked.request.goal.measure
    floored = problems.asked.request.as_in_keeping_as is not None
    helps, without = (_with_floor if floored else _of_all)(problems, optimum)
    asked, groups = _groups(problems, structure=structure, counts=not floored)
    gains: dict[Demand, float] = {}
    settled: set[Demand] = set()
    worths: dict[Demand, Worth] = {}
    interrupted = False
    try:
        for group in groups:
            gains |= binding(group, helps, without)
            settled |= set(group)
        for demand, value in gains.items():
            # How far to loosen it would be a search of all sets for each step.
            worths[demand] = Worth(value) if floored else _worth(problems, demand, optimum, value)
    except TimeUpError:
        pass
    except KeyboardInterrupt:
        interrupted = True
    reasons = tuple(
        Reason(d, *_standing(d, answer), d in gains if d in settled else None, worths.get(d))
        for d in asked
    )
    undecided = interrupted or len(settled) < len(asked) or len(worths) < len(gains)
    return Why(goal, optimum, reasons, undecided=undecided, interrupted=interrupted)


def _of_all(problems: Subproblems, optimum: float) -> tuple[Helps, Without]:
    """What tells whether dropping demands helps, and the best value without one of them."""

    def helps(dropped: frozenset[Demand]) -> bool:
        return problems.any(dropped, below=optimum - BETTER) is not None

    def without(demand: Demand) -> float | None:
        found = problems.best((demand,), below=optimum - BETTER)
        return None if found is None else found.value

    return helps, without


def _with_floor(problems: Subproblems, optimum: float) -> tuple[Helps, Without]:
    """The same, of what is as much in keeping as was asked."""

    def offered(dropped: Collection[Demand]) -> float | None:
        found = problems.offer(dropped)
        return found.value if found and found.value < optimum - BETTER else None

    return lambda dropped: offered(dropped) is not None, lambda demand: offered((demand,))


def why_in_keeping(problems: Subproblems, answer: Answer, *, structure: bool) -> Why:
    """What keeps a drink on target from being more in keeping: without it, another is poured.

    With `structure`, jigger, counts and pours are asked about too.
    """
    parts = [part.name for part in problems.asked.profile.parts]
    poured = frozenset((parts.index(p.part), p.ingredient.key) for p in answer.pours)
    asked, groups = _groups(problems, structure=structure)
    questions = [(group, HeldBack(problems, group, poured).without) for group in groups]
    return _instead(problems, answer, asked, questions)


def why_beneath(problems: Subproblems, answer: Answer, *, structure: bool) -> Why:
    """What keeps even the drink that is most in keeping from being as much so as was asked: without
    it, another is poured that is.

    With `structure`, jigger and pours are asked about too.
    """
    asked, groups = _groups(problems, structure=structure, counts=False)
    return _instead(problems, answer, asked, [(group, problems.offer) for group in groups])


def _groups(
    problems: Subproblems, *, structure: bool, counts: bool = True
) -> tuple[list[Demand], list[list[Demand]]]:
    """The demands that are asked about, and those together that leave the same bottles.

    Sets are of as many ingredients as the profile counts: without counts those are left out.
    """
    asked = [
        demand
        for demand in problems.asked.demands
        if (structure or demand.kind not in STRUCTURE) and (counts or demand.kind is not Kind.COUNT)
    ]
    alike = [demand for demand in asked if demand.kind in SAME_BOTTLES]
    return asked, [alike, *([d] for d in asked if d.kind not in SAME_BOTTLES)]


def _instead(
    problems: Subproblems, answer: Answer, asked: list[Demand],
    groups: Sequence[tuple[list[Demand], Callable[[Collection[Demand]], Solved | None]]],
) -> Why:  # fmt: skip
    """What would be poured without each demand, as the question of its group tells; what nothing
    comes of without a whole group is not asked one by one."""
    found: dict[Demand, Solved | None] = {}
    interrupted = False
    try:
        for group, without in groups:
            nothing = len(group) != 1 and without(group) is None
            for demand in sorted(group, key=lambda each: each.origin != ASKED):
                found[demand] = None if nothing else without((demand,))
    except TimeUpError:
        pass
    except KeyboardInterrupt:
        interrupted = True
    reasons: list[Reason] = []
    for demand in asked:
        better = found.get(demand)
        settled = better is not None if demand in found else None
        worth = None if better is None else Worth(0.0, instead=problems.answer(better))
        reasons.append(Reason(demand, *_standing(demand, answer), settled, worth))
    undecided = interrupted or len(found) < len(asked)
    return Why(None, 0.0, tuple(reasons), undecided=undecided, interrupted=interrupted)


def _standing(demand: Demand, answer: Answer) -> tuple[float | None, float | None]:
    """The answer's value of the demand's measure, and its slack."""
    if demand.measure is None:
        return None, None
    value = answer.values[demand.measure.name]
    if value is None:
        return None, None
    return value, abs(value - demand.bound)


def _worth(problems: Subproblems, demand: Demand, optimum: float, dropped: float) -> Worth:
    """What one step more is worth, and where loosening stops to help."""
    measure = demand.measure
    if measure is None:
        return Worth(dropped)
    sign = 1.0 if demand.kind is Kind.MOST else -1.0
    moved = {demand: demand.bound + sign * measure.step}
    better = problems.best((), moved, below=optimum + BETTER)
    stepped = optimum if better is None else better.value
    found = problems.best((demand,), below=dropped + BETTER)
    until = demand.bound
    # Of several drinks that are as good, the one that needs the least loosening counts.
    while found is not None:
        until = found.measured(measure)
        found = problems.best((), {demand: until - sign * BETTER}, below=dropped + BETTER)
    return Worth(dropped, measure.step, stepped, until)


def why_impossible(problems: Subproblems) -> Why:
    """Every minimal conflict of an impossible request, and the ways out of it.

    What was found before the time ran out, or before the user stopped it, is told.
    """
    conflicts = Conflicts[Demand]((), (), complete=False)
    ways: list[WayOut] = []
    undecided = interrupted = False
    try:
        # What lies past a profile's own bound is known at once; all conflicts may take long.
        both = crossed(problems.asked.demands)
        past = way_past(problems, both[0]) if both else None
        ways.extend([past] if past else [])
        alone = _only_these(problems, frozenset(both)) if both and past else None
        conflicts = alone or _conflicts(problems.asked.demands, ConflictOracle(problems.kept))
        undecided = conflicts.undecided
        if conflicts.found:
            known = [way.changes for way in ways]
            ways.extend(w for w in ways_out(problems, conflicts) if w.changes not in known)
    except TimeUpError:
        undecided = True
    except KeyboardInterrupt:
        undecided = interrupted = True
    said = tuple(tuple(d for d in problems.asked.demands if d in each) for each in conflicts.found)
    return Why(
        problems.asked.request.goal.measure, None, conflicts=said, complete=conflicts.complete,
        ways_out=tuple(ways), undecided=undecided, interrupted=interrupted,
    )  # fmt: skip


def _only_these(problems: Subproblems, demands: frozenset[Demand]) -> Conflicts[Demand] | None:
    """Some demands as the only conflict there is; None where they are not that.

    Where doing without any one of them helps, every conflict has them all; where they cannot hold
    together in the frame of profile and jigger, there is none but that.
    """
    frame = frozenset(demand for demand in problems.asked.demands if demand.kind in STRUCTURE)
    if any(problems.any((demand,)) is None for demand in demands):
        return None
    if problems.kept(frame | demands) is not None:
        return None
    return Conflicts((demands,), tuple(frozenset({demand}) for demand in demands), complete=True)


def _conflicts(demands: Sequence[Demand], oracle: ConflictOracle[Demand]) -> Conflicts[Demand]:
    """Minimal conflicts of what was asked, in the frame of profile and jigger.

    Where the frame alone is impossible, some part cannot be filled: the conflicts are then among
    the counts of the parts.
    """
    frame = [demand for demand in demands if demand.kind in STRUCTURE]
    try:
        possible = oracle.possible(frozenset(frame))
    except TimeUpError:
        return Conflicts((), (), complete=False, undecided=True)
    if possible:
        return _framed([d for d in demands if d.kind not in STRUCTURE], frame, oracle)
    counts = [demand for demand in frame if demand.kind is Kind.COUNT]
    rest = [demand for demand in frame if demand.kind is not Kind.COUNT]
    return replace(_framed(counts, rest, oracle), complete=False)


def _framed(
    asked: list[Demand], frame: list[Demand], oracle: ConflictOracle[Demand]
) -> Conflicts[Demand]:
    """Minimal conflicts of `asked` while the whole frame is in force.

    To each belongs what of the frame it needs: without that alone there would be no conflict. Only
    of few conflicts is this asked.
    """
    force = frozenset(frame)
    found = all_conflicts(
        asked, ConflictOracle(lambda items: _but(oracle.kept(items | force), force))
    )
    if len(found.found) > MOST_FRAMED or found.undecided:
        return found
    try:
        needing = tuple(core | _needed_of(force, core, oracle) for core in found.found)
    except TimeUpError:
        return replace(found, undecided=True)
    return replace(found, found=needing)


def _needed_of(
    force: frozenset[Demand], core: frozenset[Demand], oracle: ConflictOracle[Demand]
) -> frozenset[Demand]:
    """What of the frame a conflict needs, each part by itself."""
    return frozenset(part for part in force if oracle.possible(core | force - {part}))


def _but(kept: frozenset[Demand] | None, force: frozenset[Demand]) -> frozenset[Demand] | None:
    return None if kept is None else kept - force
