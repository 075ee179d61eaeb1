"""Specs and bars that a test changes."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from solver.drinks.assess import Assessment, assess
from solver.measures import MEASURES
from solver.pantry.bar import Bar
from solver.pantry.library import Library
from solver.pantry.load_bar import load_bar
from solver.pantry.own_figures import with_own_figures
from solver.pantry.spec import Approved, Spec, find_spec
from solver.pantry.stocked import Stocked
from solver.tasks.respec.rebalanced import Rebalanced

DEMO = Path(__file__).parents[2] / "demo"
SPECS = (
    "dry-dock", "harbour-light", "last-ferry", "low-water", "pilot-cutter", "rope-store",
    "weighbridge",
)  # fmt: skip


def demo() -> Bar:
    return load_bar(DEMO)


def spec_of(name: str, bar: Bar) -> Spec:
    """A spec of the demo bar that nobody approved: it is held to what it is."""
    return find_spec(name, bar.specs).model_copy(update={"approved": None})


def with_twin(bar: Bar, key: str, figures: Mapping[str, float] | None = None) -> Bar:
    """The bar with one more bottle, "twin": like another in all, but for some figures."""
    twin = bar.bottles.find(key).model_copy(update={"key": "twin", "name": "twin", "aliases": ()})
    if figures:
        twin = with_own_figures(twin, figures)
    row = bar.stocked(key) or Stocked(twin)
    stock = (*bar.stock, replace(row, ingredient=twin))
    return replace(bar, library=Library((*bar.library, twin)), stock=stock)


def poured(made: Assessment | None) -> dict[str, float]:
    """The amount of each ingredient."""
    return {line.ingredient.key: line.amount for line in made.lines} if made else {}


def beyond(found: Rebalanced, bar: Bar) -> set[str]:
    """The measures that left their range, worked out from the spec that is offered alone."""
    assert found.after is not None
    again = assess(found.after.spec, bar)
    return {
        aim.measure.name
        for aim in found.kept.aims
        if abs((again.values[aim.measure.name] or 0.0) - aim.value) > aim.tolerance * (1 + 1e-6)
    }


def approved_as(made: Assessment) -> Approved:
    """The record of a drink as it is, without any rounding."""
    record = {measure.key: made.values[measure.name] for measure in MEASURES.values()}
    fields = {key: value for key, value in record.items() if key in Approved.model_fields}
    return Approved.model_validate({"date": datetime.date(2026, 5, 1), **fields})
