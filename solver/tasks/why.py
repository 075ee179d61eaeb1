"""Explain the result of a request: binding demands, conflicts, and ways out."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass, replace

from solver.clock import TimeUpError
from solver.drinks.answer import Answer
from solver.explain.binding import binding
from solver.explain.conflicts import ConflictOracle, Conflicts, all_conflicts
from solver.measures import Measure
from solver.requests.crossed_bounds import crossed_bounds
from solver.requests.demands import STRUCTURE, Demand, DemandKind
from solver.requests.origin import ASKED
from solver.tasks.more_in_keeping import MoreInKeeping
from solver.tasks.subproblems import BETTER, SAME_BOTTLES, Solved, Subproblems
from solver.tasks.ways_out import WayOut, way_past, ways_out

MOST_FRAMED = 2
"""Conflicts that are extended by what they need of profile and jigger."""


Helps = Callable[[frozenset[Demand]], bool]
BestWithout = Callable[[Demand], float | None]


@dataclass(frozen=True)
class Worth:
    """The gain from loosening a binding demand, in the goal's unit.

    `step` is a natural step of its measure, and `stepped` the optimum with it; beyond a bound of
    `until` loosening gains nothing more, and the optimum is `dropped`. A demand without a bound can
    only be dropped. If the goal is what is in keeping, `instead` is the drink without the demand.
    """

    dropped: float
    step: float | None = None
    stepped: float | None = None
    until: float | None = None
    instead: Answer | None = None


@dataclass(frozen=True)
class Reason:
    """A demand and how the answer meets it.

    `value` is the answer's, `slack` its distance from the bound; both are None for demands without
    one. `binding` is None if it was not asked, or there was no time.
    """

    demand: Demand
    value: float | None = None
    slack: float | None = None
    binding: bool | None = None
    worth: Worth | None = None


@dataclass(frozen=True)
class Why:
    """Reasons for an answer; conflicts and ways out if there is none.

    `complete` is true if there are no other conflicts. `undecided` is true if there was no time for
    everything, or the user stopped it (`interrupted`): what is listed holds. `value` and `goal` are
    of the optimum, of which the drink offered may be a simpler neighbour.
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
    """The binding demands of a proven answer; with `structure`, also of jigger, counts and pours.

    `optimum` is the optimum of the request's own goal.
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


def _of_all(problems: Subproblems, optimum: float) -> tuple[Helps, BestWithout]:
    """Oracles for the goal: whether dropping demands improves it, and its optimum without one."""

    def helps(dropped: frozenset[Demand]) -> bool:
        return problems.any(dropped, below=optimum - BETTER) is not None

    def without(demand: Demand) -> float | None:
        found = problems.best((demand,), below=optimum - BETTER)
        return None if found is None else found.value

    return helps, without


def _with_floor(problems: Subproblems, optimum: float) -> tuple[Helps, BestWithout]:
    """The same among drinks as much in keeping as was asked."""

    def offered(dropped: Collection[Demand]) -> float | None:
        found = problems.offer(dropped)
        return found.value if found and found.value < optimum - BETTER else None

    return lambda dropped: offered(dropped) is not None, lambda demand: offered((demand,))


def why_in_keeping(problems: Subproblems, answer: Answer, *, structure: bool) -> Why:
    """The demands that keep a drink on target from being more in keeping.

    With `structure`, jigger, counts and pours are asked about too.
    """
    parts = [part.name for part in problems.asked.profile.parts]
    poured = frozenset((parts.index(p.part), p.ingredient.key) for p in answer.pours)
    asked, groups = _groups(problems, structure=structure)
    questions = [(group, MoreInKeeping(problems, group, poured).without) for group in groups]
    return _instead(problems, answer, asked, questions)


def why_beneath(problems: Subproblems, answer: Answer, *, structure: bool) -> Why:
    """The demands that keep even the drink most in keeping below what was asked.

    With `structure`, jigger and pours are asked about too.
    """
    asked, groups = _groups(problems, structure=structure, counts=False)
    return _instead(problems, answer, asked, [(group, problems.offer) for group in groups])


def _groups(
    problems: Subproblems, *, structure: bool, counts: bool = True
) -> tuple[list[Demand], list[list[Demand]]]:
    """The demands that are asked about, grouped by the set of bottles that is left without them.

    Sets have as many ingredients as the profile counts: without `counts` those demands are left
    out.
    """
    asked = [
        demand
        for demand in problems.asked.demands
        if (structure or demand.kind not in STRUCTURE)
        and (counts or demand.kind is not DemandKind.COUNT)
    ]
    alike = [demand for demand in asked if demand.kind in SAME_BOTTLES]
    return asked, [alike, *([d] for d in asked if d.kind not in SAME_BOTTLES)]


def _instead(
    problems: Subproblems, answer: Answer, asked: list[Demand],
    groups: Sequence[tuple[list[Demand], Callable[[Collection[Demand]], Solved | None]]],
) -> Why:  # fmt: skip
    """The drink without each demand, as the subproblem of its group tells.

    If dropping a whole group changes nothing, its demands are not asked about one by one.
    """
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
    """The gain from one more step, and the bound beyond which loosening gains nothing."""
    measure = demand.measure
    if measure is None:
        return Worth(dropped)
    sign = 1.0 if demand.kind is DemandKind.MOST else -1.0
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

    After a time-out or an interrupt, what was found until then is returned.
    """
    conflicts = Conflicts[Demand]((), (), complete=False)
    ways: list[WayOut] = []
    undecided = interrupted = False
    try:
        # What lies past a profile's own bound is known at once; all conflicts may take long.
        both = crossed_bounds(problems.asked.demands)
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
    """Some demands as the only minimal conflict; None if they are not.

    If dropping any one of them helps, every conflict contains them all; if they conflict within the
    frame of profile and jigger, there is no other.
    """
    frame = frozenset(demand for demand in problems.asked.demands if demand.kind in STRUCTURE)
    if any(problems.any((demand,)) is None for demand in demands):
        return None
    if problems.kept(frame | demands) is not None:
        return None
    return Conflicts((demands,), tuple(frozenset({demand}) for demand in demands), complete=True)


def _conflicts(demands: Sequence[Demand], oracle: ConflictOracle[Demand]) -> Conflicts[Demand]:
    """Minimal conflicts of what was asked, within the frame of profile and jigger (MARCO).

    If the frame alone is impossible, some part cannot be filled: the conflicts are then among the
    counts of the parts.
    """
    frame = [demand for demand in demands if demand.kind in STRUCTURE]
    try:
        possible = oracle.possible(frozenset(frame))
    except TimeUpError:
        return Conflicts((), (), complete=False, undecided=True)
    if possible:
        return _framed([d for d in demands if d.kind not in STRUCTURE], frame, oracle)
    counts = [demand for demand in frame if demand.kind is DemandKind.COUNT]
    rest = [demand for demand in frame if demand.kind is not DemandKind.COUNT]
    return replace(_framed(counts, rest, oracle), complete=False)


def _framed(
    asked: list[Demand], frame: list[Demand], oracle: ConflictOracle[Demand]
) -> Conflicts[Demand]:
    """Minimal conflicts of `asked` with the whole frame in force.

    Each is extended by the parts of the frame without which it would be no conflict; only a few
    conflicts are extended.
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
    """The demands of the frame without which a conflict dissolves, each by itself."""
    return frozenset(part for part in force if oracle.possible(core | force - {part}))


def _but(kept: frozenset[Demand] | None, force: frozenset[Demand]) -> frozenset[Demand] | None:
    return None if kept is None else kept - force
