"""What a guest must be told of a drink: its standard drinks, allergens and cautions."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from solver.mixture.blend import Finished
from solver.pantry.bar import Bar
from solver.pantry.defaults import StandardDrink, load_defaults
from solver.pantry.ingredient import Ingredient


@dataclass(frozen=True)
class ForGuest:
    """`standard_drinks` are the jurisdiction's; `allergens_not_known` are ingredients, by name."""

    jurisdiction: str
    standard_drink: StandardDrink
    standard_drinks: float
    allergens: tuple[str, ...]
    may_contain: tuple[str, ...]
    allergens_not_known: tuple[str, ...]
    cautions: tuple[str, ...]


def for_guest(ingredients: Sequence[Ingredient], finished: Finished, bar: Bar) -> ForGuest:
    """Gather it from what is poured, and from the alcohol in the glass."""
    drink = load_defaults().jurisdiction(bar.jurisdiction).standard_drink
    known = {a for each in ingredients for a in each.allergens or ()}
    possible = {a for each in ingredients for a in each.may_contain} - known
    unknown = [each.name for each in ingredients if each.allergens is None]
    return ForGuest(
        jurisdiction=bar.jurisdiction,
        standard_drink=drink,
        standard_drinks=float(finished.ethanol_g) / drink.g,
        allergens=tuple(sorted(known)),
        may_contain=tuple(sorted(possible)),
        allergens_not_known=tuple(dict.fromkeys(unknown)),
        cautions=tuple(dict.fromkeys(c for each in ingredients for c in each.cautions)),
    )
