"""A spec poured anew: what it was, what it is now, and how far it is from what it was."""

from __future__ import annotations

from dataclasses import dataclass

from solver.drinks.assess import AimMet, Assessment
from solver.requests.origin import From
from solver.search.problem import Limit
from solver.tasks.respec.consequences import Consequences, consequences
from solver.tasks.respec.held_ranges import HeldRanges
from solver.tasks.respec.line_changes import LineChange

LITTLE = 1.5
"""Noticeable differences up to which a measure that is beyond its range misses it by little: what
to pour is said then, and not what stands in the way. Our own choice."""


@dataclass(frozen=True)
class Rebalanced:
    """A spec as it is, and poured anew; `after` None where its slots cannot be filled at all.

    `lines` are those of both, side by side. `held` says that it keeps strength, sugar, acid and
    volume, and fits what it is poured into. Where it does not, and the reasons were asked for,
    `conflicts` are the limits that cannot hold together, and `finer` is the drink that would keep
    them with the next finer jigger, if there is one; `undecided` says that there was no time to
    tell. `compared` is how many ways to pour were, all there are; None where a MILP solver
    proved it.
    """

    before: Assessment
    after: Assessment | None
    kept: HeldRanges
    lines: tuple[LineChange, ...] = ()
    held: bool = False
    conflicts: tuple[tuple[Limit, ...], ...] = ()
    finer: Finer | None = None
    undecided: bool = False
    compared: int | None = None
    solver: str | None = None

    @property
    def moved(self) -> tuple[AimMet, ...]:
        """Measures that are further from what was than one noticeable difference."""
        return self.kept.moved(self.after.values) if self.after else ()

    @property
    def nearly(self) -> bool:
        """Whether it is not quite what it was, but misses that by little."""
        missed = bool(self.moved) or self.over_line_ml > 0
        return missed and all(abs(met.distance or 0.0) <= LITTLE for met in self.moved)

    @property
    def over_line_ml(self) -> float:
        """How far the new drink goes over the line of its glass, which the old one did not."""
        glass = (
            [met for met in self.after.limits if met.origin.kind is From.GLASS]
            if self.after
            else []
        )
        over = [(met.value or 0.0) - (met.limit.high or 0.0) for met in glass if met.kept is False]
        return 0.0 if self.kept.overfull else max(over, default=0.0)

    @property
    def excess(self) -> float:
        """How far the measures have moved beyond their ranges together, in noticeable differences.

        Infinite where nothing can be poured.
        """
        if self.after is None:
            return float("inf")
        return sum(abs(met.distance or 0.0) - 1 for met in self.moved)

    @property
    def changes(self) -> tuple[LineChange, ...]:
        """The lines that are not what they were, as in the new spec; then what is gone."""
        changed = (row for row in self.lines if not row.same)
        return tuple(sorted(changed, key=lambda row: row.now is None))

    @property
    def changed_pours(self) -> int:
        """How many lines of the new spec are not as they were, and how many it has fewer."""
        fewer = len(self.before.lines) - len(self.after.lines) if self.after else 0
        return sum(row.now is not None for row in self.changes) + max(0, fewer)

    @property
    def consequences(self) -> Consequences:
        """What a guest is told of the new drink and was not told of the old, and the other way."""
        old = self.before.guest.told
        return consequences(old, self.after.guest.told if self.after else old)

    @property
    def off(self) -> float:
        """How far it is from what was, all measures together, in noticeable differences."""
        values = self.after.values if self.after else self.before.values
        return sum(abs(met.distance or 0.0) for met in self.kept.met(values))


@dataclass(frozen=True)
class Finer:
    """A drink that a finer pour set can pour, by the name of that."""

    pour_set: str
    result: Rebalanced
