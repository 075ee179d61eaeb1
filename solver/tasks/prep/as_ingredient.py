"""The result of a recipe as an ingredient."""

from __future__ import annotations

import math
from collections.abc import Mapping
from datetime import date
from typing import Final

from solver.kitchen.batch import INSOLUBLE, OTHER, acid_shares, measured, titratable_g
from solver.mixture.numeric import Floats
from solver.pantry.figure import Figure
from solver.pantry.ingredient import Ingredient
from solver.pantry.recipe import Recipe
from solver.tasks.prep.batch_figures import Estimate, Figures
from solver.tasks.prep.shelf_life import Keeping

LEAST_OTHER: Final = 1.0
"""Other matter in g/100 mL below which the density alone tells all that is to be told."""


def as_ingredient(
    recipe: Recipe,
    figures: Figures,
    batch: Floats,
    keeping: Keeping,
    made: date,
) -> Ingredient:
    """The result as an ingredient to be poured.

    Its guest notice is only what its file states: what goes into it adds the rest.
    """
    dish, life = recipe.dish, keeping.life
    source = f"from its recipe and what was measured, {made.isoformat()}"
    if not recipe_measured(recipe):
        source = f"expected from its recipe, nothing measured, {made.isoformat()}"
    acid = figures.acid_g_100ml if titratable_g(batch) > 0 else Estimate(0.0, 0.0)
    return Ingredient(
        key=dish.key,
        name=dish.name,
        aliases=dish.aliases,
        kind=dish.kind,
        character=dish.character,
        abv=_figure(figures.abv_pct, 2, source, most=100.0),
        sugar=_figure(figures.sugar_g_100ml, 1, source),
        acid=_figure(acid, 3, source),
        acids=rounded_shares(acid_shares(batch)) if acid.value >= 0.0005 else {},
        density=_figure(figures.density_g_ml, 4, source),
        other=other_matter(batch, source),
        allergens=dish.allergens,
        may_contain=dish.may_contain,
        animal=dish.animal,
        may_animal=dish.may_animal,
        declare=dish.declare,
        made_of=dish.made_of,
        allergens_source="from everything that goes into it",
        life=Figure(value=life.days, basis=life.basis, source=f"{life.why}: {life.source}"),
        cautions=dish.cautions,
        kitchen_cautions=dish.kitchen_cautions,
        tool="jigger",
        origin=recipe.file.path,
    )


def recipe_measured(recipe: Recipe) -> bool:
    """Whether anything of a recipe was weighed or read."""
    table = recipe.table.measured
    steps = any(step.lost or step.left for step in recipe.table.steps)
    return steps or bool(table.weight or table.volume or table.brix)


def other_matter(batch: Floats, source: str) -> Figure | None:
    """Dissolved matter other than sugar and acid, in g/100 mL; None if negligible.

    With the density it determines the volume of that matter: fat takes twice that of sugar.
    """
    dry = float(batch[OTHER] + batch[INSOLUBLE])
    share = 100.0 * dry / float(measured(batch).volume_ml)
    if share < LEAST_OTHER:
        return None
    return Figure(value=round(share, 2), basis="computed", source=source)


def _figure(known: Estimate, digits: int, source: str, most: float = math.inf) -> Figure:
    value = round(known.value, digits)
    low = max(0.0, round(known.value - known.within, digits))
    high = min(most, round(known.value + known.within, digits))
    spread = {} if low == high else {"low": min(low, value), "high": max(high, value)}
    return Figure(value=value, basis="computed", source=source, **spread)


def rounded_shares(shares: Mapping[str, float]) -> dict[str, float]:
    """Shares with three digits that still add up to one."""
    rounded = {name: round(share, 3) for name, share in shares.items()}
    largest = max(rounded, key=lambda name: rounded[name])
    rounded[largest] = round(rounded[largest] + 1 - math.fsum(rounded.values()), 3)
    return {name: share for name, share in rounded.items() if share > 0}
