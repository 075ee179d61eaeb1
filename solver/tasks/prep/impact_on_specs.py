"""The effect of a new batch on the specs that pour it."""

from __future__ import annotations

from dataclasses import dataclass

from solver.drinks.approval import NOTICED
from solver.drinks.assess import assess
from solver.measures import MEASURES, Measure
from solver.pantry.bar import Bar
from solver.pantry.spec import read_specs
from solver.tasks.prep.prepare import Prep

MOVED = ("abv", "sugar", "acid", "volume", "cost")
"""Measures of a finished drink that a house ingredient moves."""


@dataclass(frozen=True)
class ValueChange:
    """A measure of a finished drink with the batch in stock and with the new one."""

    measure: Measure
    before: float
    now: float

    @property
    def noticeable(self) -> float:
        """The change in noticeable differences."""
        return abs(self.now - self.before) / self.measure.tolerance(self.before)


@dataclass(frozen=True)
class SpecImpact:
    """A spec that pours the batch, by its file's name and its own, and its changes."""

    file: str
    spec: str
    changes: tuple[ValueChange, ...]

    @property
    def noticed(self) -> tuple[ValueChange, ...]:
        """The changes that are noticeable."""
        return tuple(change for change in self.changes if change.noticeable >= NOTICED)

    @property
    def most(self) -> float:
        """The largest change, in noticeable differences; 0 without changes."""
        return max((change.noticeable for change in self.changes), default=0.0)


def impacts_on_specs(prep: Prep, bar: Bar) -> tuple[SpecImpact, ...]:
    """Every spec of the bar that pours what the recipe makes, and how the batch changes it.

    Empty if the recipe's file states no figures: then nothing has been poured yet.

    Raises:
        BadInput, BadInputs: a spec is wrong, with its line.
    """
    if not prep.recipe.stated:
        return ()
    volume = prep.figures.volume_ml.value
    per_ml = None if prep.cost is None else prep.cost / volume
    after = bar.with_bottle(prep.ingredient, per_ml)
    found: list[SpecImpact] = []
    for spec in read_specs(bar.specs):
        pours = spec.poured(bar.bottles, bar.measures)
        if all(pour.ingredient.key != prep.recipe.key for pour in pours):
            continue
        old, new = assess(spec, bar).values, assess(spec, after).values
        changes = tuple(
            ValueChange(MEASURES[name], before, now)
            for name in MOVED
            if (before := old[name]) is not None and (now := new[name]) is not None
        )
        file = spec.origin.stem if spec.origin else spec.name
        found.append(SpecImpact(file, spec.name, changes))
    return tuple(found)
