"""The ranges that a drink is held to, whatever it is poured from."""

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

UNNOTICED_SPREAD = 1 / 3
"""Share of what a drink spreads over by itself, from the least melt of practice to the most, that
nobody would notice of it, where that is more than one noticeable difference: our own choice."""

ROUNDING = 1e-6
"""Noticeable differences by which a drink may be beyond its range that was proven to keep it: a
pour is written in a file with seven digits."""


@dataclass(frozen=True)
class HeldRanges:
    """The reference values of a drink, each with a range of one noticeable difference.

    `approved` is the day of their approval; None if they are the spec's previous values. `overfull`
    is true if it was never approved and went over its wash line before: then the glass is no reason
    to change it. `spreads` are measures whose range is wider because the melt of practice varies
    more, each with its least and greatest value. `resized` is true if the volume follows another
    glass, so that every line changes.
    """

    aims: tuple[Aim, ...]
    approved: datetime.date | None
    overfull: bool = False
    spreads: Mapping[Measure, tuple[float, float]] = field(default_factory=dict)
    resized: bool = False

    def limit(self, aim: Aim) -> Limit:
        """The range of a measure."""
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
        """The same strength, sugar and acid at another volume."""
        *others, volume = self.aims
        return replace(self, aims=(*others, replace(volume, value=volume_ml)), resized=True)

    def met(self, values: Mapping[str, float | None]) -> tuple[AimMet, ...]:
        """The distance of a drink from each reference value."""
        return tuple(AimMet(aim, values[aim.measure.name]) for aim in self.aims)

    def moved(self, values: Mapping[str, float | None]) -> tuple[AimMet, ...]:
        """The measures that are out of range."""
        return tuple(met for met in self.met(values) if abs(met.distance or 0.0) > 1 + ROUNDING)


def held_ranges(was: Assessment, bar: Bar) -> HeldRanges:
    """The ranges of a spec, around its approved values, or else around those assessed.

    One noticeable difference is that of the profile, if it states one; if the melt of practice
    makes the measure vary much more, a share of that variation.
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
        if UNNOTICED_SPREAD * (high - low) > tolerance:
            tolerance, spreads[measure] = UNNOTICED_SPREAD * (high - low), (low, high)
        aims.append(Aim(measure, value, tolerance))
    found = HeldRanges(tuple(aims), approved.date if approved else None, spreads=spreads)
    if not fits(was):
        return found if approved else replace(found, overfull=True)
    return _in_its_glass(found, was, bar)


def _in_its_glass(kept: HeldRanges, was: Assessment, bar: Bar) -> HeldRanges:
    """The same ranges with the volume of the present wash line, if that is smaller."""
    line_ml = bar.glass(was.glass).wash_line_ml if was.glass else math.inf
    volume = kept.aims[-1]
    if volume.value <= line_ml:
        return kept
    return kept.at_volume(line_ml - volume.tolerance)


def _spread(measure: Measure, was: Assessment) -> tuple[float, float]:
    """The least and greatest value of a measure over the melt of practice."""
    melt = was.uncertain.melt
    if melt is None:
        return 0.0, 0.0
    ends = sorted(float(getattr(each, measure.key)) for each in (melt.least, melt.most))
    return ends[0], ends[1]


def fits(made: Assessment) -> bool:
    """Whether a drink fits its glass; true if it has none."""
    return all(met.kept is not False for met in made.limits if met.origin.kind is From.GLASS)
