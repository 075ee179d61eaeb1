"""The result of pouring a spec anew: before, after, and the distance between them."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from solver.drinks.assess import AimMet, Assessment
from solver.pantry.disclosure import Disclosure
from solver.pantry.ingredient import Ingredient
from solver.requests.origin import From
from solver.search.problem import Limit
from solver.tasks.respec.consequences import Consequences, consequences
from solver.tasks.respec.held_ranges import HeldRanges
from solver.tasks.respec.line_changes import LineChange

LITTLE = 2.0
"""Noticeable differences up to which a measure that is beyond its range misses it by little: what
to pour is said then, and not what stands in the way. Our own choice."""


@dataclass(frozen=True)
class Rebalanced:
    """A spec before and after it is poured anew; `after` is None if its slots cannot be filled.

    `lines` are those of both, aligned. `held` is true if strength, sugar, acid and volume stay in
    range and the drink fits its vessel. If not, and reasons were asked for, `conflicts` are minimal
    sets of limits that exclude each other, and `finer` is the drink that the next finer jigger
    would allow, if there is one; `undecided` is true if there was no time. `compared` is the number
    of ways to pour that were compared, all there are; None if a MILP solver proved it. Without an
    `after`, `unmeasured` is what no amount is known of, if that is why, and `would_tell` what the
    pours that were tried are to a guest.
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
    unmeasured: tuple[Ingredient, ...] = ()
    would_tell: Disclosure = field(default_factory=Disclosure)

    @property
    def moved(self) -> tuple[AimMet, ...]:
        """Measures that are out of range."""
        return self.kept.moved(self.after.values) if self.after else ()

    @property
    def nearly(self) -> bool:
        """Whether the drink is out of range, but only by little."""
        missed = bool(self.moved) or self.over_line_ml > 0
        return missed and all(abs(met.distance or 0.0) <= LITTLE for met in self.moved)

    @property
    def over_line_ml(self) -> float:
        """How far the new drink goes over its wash line, if the old one did not; mL."""
        glass = (
            [met for met in self.after.limits if met.origin.kind is From.GLASS]
            if self.after
            else []
        )
        over = [(met.value or 0.0) - (met.limit.high or 0.0) for met in glass if met.kept is False]
        return 0.0 if self.kept.overfull else max(over, default=0.0)

    @property
    def excess(self) -> float:
        """The sum of what measures are beyond their ranges, in noticeable differences.

        Infinite if nothing can be poured.
        """
        if self.after is None:
            return float("inf")
        return sum(abs(met.distance or 0.0) - 1 for met in self.moved)

    @property
    def changes(self) -> tuple[LineChange, ...]:
        """The changed lines in the order of the new spec, then those that are gone."""
        changed = (row for row in self.lines if not row.same)
        return tuple(sorted(changed, key=lambda row: row.now is None))

    @property
    def changed_pours(self) -> int:
        """The number of changed lines in the new spec, and of lines that it has fewer."""
        fewer = len(self.before.lines) - len(self.after.lines) if self.after else 0
        return sum(row.now is not None for row in self.changes) + max(0, fewer)

    @property
    def consequences(self) -> Consequences:
        """What a guest is told of only one of the two drinks."""
        old = self.before.guest.told
        if self.after is None:  # what of the old one is gone cannot be said
            return replace(consequences(old, self.would_tell), lost=())
        return consequences(old, self.after.guest.told)

    @property
    def cautions_gained(self) -> tuple[str, ...]:
        """Cautions of the new drink that the old one has not; none where nothing can be poured."""
        new = self.after.guest.cautions if self.after else ()
        return tuple(each for each in new if each not in self.before.guest.cautions)

    @property
    def cautions_lost(self) -> tuple[str, ...]:
        """Cautions of the old drink that the new one has not; none where nothing can be poured."""
        new = self.after.guest.cautions if self.after else self.before.guest.cautions
        return tuple(each for each in self.before.guest.cautions if each not in new)

    @property
    def off(self) -> float:
        """The sum of distances from all reference values, in noticeable differences."""
        values = self.after.values if self.after else self.before.values
        return sum(abs(met.distance or 0.0) for met in self.kept.met(values))


@dataclass(frozen=True)
class Finer:
    """The result with a finer pour set, and its name."""

    pour_set: str
    result: Rebalanced
