"""What a bar says of its own ingredients and drinks, from its files."""

from __future__ import annotations

from solver.harmony.taste import BarTaste, OwnDrink
from solver.harmony.words import said_of
from solver.pantry.bar import Bar
from solver.pantry.spec import read_specs


def taste_of(bar: Bar) -> BarTaste:
    """What a bar says of its own ingredients and drinks.

    Raises:
        BadInput, BadInputs: a spec, or a word of what goes with what, is not understood; with its
            line.
    """
    specs = read_specs(bar.specs)
    drinks = tuple(
        OwnDrink(
            spec.profile or "",
            tuple((p.part or "", p.ingredient.key) for p in spec.poured(bar.bottles, bar.measures)),
        )
        for spec in specs
    )
    own = [stocked.ingredient for stocked in bar.stock]
    return BarTaste(drinks=drinks, said=said_of(own, bar.library, bar.measures))
