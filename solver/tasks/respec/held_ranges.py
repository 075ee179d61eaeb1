"""What a drink must stay in the glass, whatever it is poured from."""

from __future__ import annotations

import datetime
import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from solver.drinks.assess import AimMet, Assessment
from solver.measures import SENSED, Measure
from solver.pantry.bar import Bar
from solver.requests.origin import From
from solver.search.problem import Aim, Limit

KEPT = "kept"
"""Name of a range that a drink is held to, as a limit."""

UNNOTICED = 1 / 3
"""Share of what a drink spreads over by itself, from the least melt of practice to the most, that
nobody would notice of it, where that is more than one noticeable difference: our own choice."""

ROUNDING = 1e-6
"""Noticeable differences by which a drink may be beyond its range that was proven to keep it: a
pour is written in a file with seven digits."""


@dataclass(frozen=True)
class HeldRanges:
    """What a drink was in the glass, measure by measure; one noticeable difference is its range.

    `approved` is the day on which somebody said so; None where it is only what the spec was before.
    `overfull` says that it was never approved and went over its glass's line already: then the
    glass is no reason to change it. `spreads` are the measures of which the range is wider, as
    the drink spreads by itself, each with the least and the most of it.
    `resized` says that its volume follows another glass, so that every line of it changes.
    """

    aims: tuple[Aim, ...]
    approved: datetime.date | None
    overfull: bool = False
    spreads: Mapping[Measure, tuple[float, float]] = field(default_factory=dict)
    resized: bool = False

    def limit(self, aim: Aim) -> Limit:
        """The range that a measure must keep."""
        low = aim.value - aim.tolerance
        return Limit(KEPT, aim.measure, low if low > 0 else None, aim.value + aim.tolerance)

    @property
    def limits(self) -> tuple[Limit, ...]:
        """The ranges of all measures."""
        return tuple(self.limit(aim) for aim in self.aims)

    @property
    def tolerances(self) -> Mapping[Measure, float]:
        """One noticeable difference of each measure, in its unit."""
        return {aim.measure: aim.tolerance for aim in self.aims}

    def at_volume(self, volume_ml: float) -> HeldRanges:
        """The same strength, sugar and acid in another volume."""
        *others, volume = self.aims
        return replace(self, aims=(*others, replace(volume, value=volume_ml)), resized=True)

    def met(self, values: Mapping[str, float | None]) -> tuple[AimMet, ...]:
        """How far a drink is from it."""
        return tuple(AimMet(aim, values[aim.measure.name]) for aim in self.aims)

    def moved(self, values: Mapping[str, float | None]) -> tuple[AimMet, ...]:
        """The measures in which a drink is further from it than one noticeable difference."""
        return tuple(met for met in self.met(values) if abs(met.distance or 0.0) > 1 + ROUNDING)


def held_ranges(was: Assessment, bar: Bar) -> HeldRanges:
    """What a spec must stay: as it was approved, or else what it is in the glass as assessed.

    A profile may say what one noticeable difference is; where the drink spreads over much more by
    itself, a part of that is it.
    """
    approved, profile = was.spec.approved, was.profile
    own = profile.targets(bar.measures, bar.currency).tolerances if profile else ()
    tolerances = {each.measure: each.value for each in own}
    aims: list[Aim] = []
    spreads: dict[Measure, tuple[float, float]] = {}
    for measure in SENSED:
        value = getattr(approved, measure.key) if approved else was.values[measure.name] or 0.0
        tolerance = tolerances.get(measure.name, measure.tolerance(value))
        low, high = _spread(measure, was)
        if UNNOTICED * (high - low) > tolerance:
            tolerance, spreads[measure] = UNNOTICED * (high - low), (low, high)
        aims.append(Aim(measure, value, tolerance))
    found = HeldRanges(tuple(aims), approved.date if approved else None, spreads=spreads)
    if not fits(was):
        return found if approved else replace(found, overfull=True)
    return _in_its_glass(found, was, bar)


def _in_its_glass(kept: HeldRanges, was: Assessment, bar: Bar) -> HeldRanges:
    """What a drink must stay in the glass as it is now: filled to its line where it is smaller."""
    line_ml = bar.glass(was.glass).wash_line_ml if was.glass else math.inf
    volume = kept.aims[-1]
    if volume.value <= line_ml:
        return kept
    return kept.at_volume(line_ml - volume.tolerance)


def _spread(measure: Measure, was: Assessment) -> tuple[float, float]:
    """From where to where a measure goes by itself, with the melt of practice."""
    melt = was.uncertain.melt
    if melt is None:
        return 0.0, 0.0
    ends = sorted(float(getattr(each, measure.key)) for each in (melt.least, melt.most))
    return ends[0], ends[1]


def fits(made: Assessment) -> bool:
    """Whether a drink fits its glass, if it has one."""
    return all(met.kept is not False for met in made.limits if met.origin.kind is From.GLASS)
