"""How much may be poured of what a profile says nothing about."""

from __future__ import annotations

import pytest

from solver.drinks.assess import assess
from solver.pantry.load_bar import load_bar
from solver.pantry.spec import Spec, SpecPour
from solver.tasks.respec.held_ranges import held_ranges
from solver.tasks.respec.similarity import Contributions
from solver.tasks.respec.slots import Slot, _around


def test_from_half_to_twice_what_there_was() -> None:
    spec = Spec(name="a drink", pours=(SpecPour(ingredient="gin", amount="60 ml"),))
    bar = load_bar(None)
    made = assess(spec, bar)
    (line,) = made.lines
    contributions = Contributions(held_ranges(made, bar).tolerances, 100.0)
    span = _around(line.ingredient, Slot(0, line, (line.ingredient,)), contributions)
    assert [span.low, span.high] == pytest.approx([30.0, 120.0])
