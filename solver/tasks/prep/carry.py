"""A change carries through: what a new batch does to the drinks that pour it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from solver.measures import MEASURES, Measure
from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.pantry.shelf import Stocked
from solver.pantry.spec import read_specs
from solver.tasks.assess import assess
from solver.tasks.prep.prepare import Prep

CARRIED = ("abv", "sugar", "acid", "volume", "cost")
"""Measures of a finished drink that a house ingredient moves."""


@dataclass(frozen=True)
class Change:
    """A measure of a finished drink, with what is in the bottle now and with the new batch."""

    measure: Measure
    before: float
    now: float

    @property
    def noticeable(self) -> float:
        """How far it moved, in noticeable differences."""
        return abs(self.now - self.before) / self.measure.tolerance(self.before)


@dataclass(frozen=True)
class Carried:
    """A spec that pours the batch, by its file's name and its own, and what changes in it."""

    file: str
    spec: str
    changes: tuple[Change, ...]

    @property
    def most(self) -> float:
        """The largest change, in noticeable differences."""
        return max((change.noticeable for change in self.changes), default=0.0)


def carried_through(prep: Prep, bar: Bar) -> tuple[Carried, ...]:
    """Every spec of the bar that pours what the recipe makes, and how the batch changes it.

    None where the recipe's file states no figures: then nothing has been poured yet.

    Raises:
        BadInput, BadInputs: a spec is wrong, with its line.
    """
    if not prep.recipe.stated:
        return ()
    volume = prep.figures.volume_ml.value
    per_ml = None if prep.cost is None else prep.cost / volume
    after = with_bottle(bar, prep.ingredient, per_ml)
    found: list[Carried] = []
    for spec in read_specs(bar.specs):
        pours = spec.poured(bar.bottles, bar.measures)
        if all(pour.ingredient.key != prep.recipe.key for pour in pours):
            continue
        old, new = assess(spec, bar).values, assess(spec, after).values
        changes = tuple(
            Change(MEASURES[name], before, now)
            for name in CARRIED
            if (before := old[name]) is not None and (now := new[name]) is not None
        )
        file = spec.origin.stem if spec.origin else spec.name
        found.append(Carried(file, spec.name, changes))
    return tuple(found)


def with_bottle(bar: Bar, ingredient: Ingredient, per_ml: float | None = None) -> Bar:
    """The bar with another batch of something in its bottle, at another price a millilitre."""

    def renewed(stocked: Stocked) -> Stocked:
        if stocked.ingredient.key != ingredient.key:
            return stocked
        if per_ml is None or not stocked.bottle:
            return replace(stocked, ingredient=ingredient)
        return replace(stocked, ingredient=ingredient, price=per_ml * stocked.bottle)

    stock = tuple(map(renewed, bar.stock))
    if bar.stocked(ingredient.key) is None:
        stock = (*stock, Stocked(ingredient))
    return replace(bar, library=bar.library.shadowed_by([ingredient]), stock=stock)
