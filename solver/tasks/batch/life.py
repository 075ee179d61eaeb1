"""How long a batch is planned to keep: as any house ingredient, and as what is in it."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Final

from solver.mixture.blend import SUGAR, WATER, Finished
from solver.mixture.keeping import DELLE_STABLE, delle_units, water_activity
from solver.mixture.numeric import Floats, ratio
from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.pantry.recipe_inputs import everything_in
from solver.tasks.prep.shelf_life import TRADE_ABV, Keeping, Life, keeping_of

AGEING: Final = ("fortified", "wine", "beer", "liqueur/cream", "liqueur/egg", "batch")
"""Kinds whose date counts in however strong a mixture: common practice, no source."""
SPOILING: Final = ("raw/nut", "raw/seed", "raw/grain", "raw/dairy", "dairy", "egg")
"""Kinds that make the date of what is made with them count so too: common practice, no source."""


@dataclass(frozen=True)
class BatchLife:
    """The planned life from the day it is made, Delle units, water activity and what they say."""

    keeping: Keeping
    made: date
    delle: float
    activity: float

    @property
    def use_by(self) -> date:
        """The last day it is planned to be used on."""
        return self.keeping.life.ends(self.made)

    @property
    def stops_yeast(self) -> bool:
        """Whether sugar and alcohol are above what yeast was seen to ferment."""
        return self.delle >= DELLE_STABLE


def kept(
    items: Sequence[Ingredient], composition: Floats, bottle: Finished, made: date, bar: Bar,
    *, watered: bool,
) -> BatchLife:  # fmt: skip
    """How long what `items` make together is planned to keep; `watered` says that water is added.

    One that is alone keeps as it always does. They keep no longer than what is dated on the shelf
    and is not kept by their alcohol.
    """
    below = {*bar.recipes, *bar.house}
    inputs = [
        each
        for item in items
        for each in (item, *everything_in(item.key, bar.inputs, bar.library, below))
    ]
    activity = float(water_activity(composition))
    sweet = composition[SUGAR] + composition[WATER]
    keeping = keeping_of(
        inputs,
        strained=False,
        brix=float(100.0 * ratio(composition[SUGAR], sweet)),
        sugar_g_100ml=float(bottle.sugar_g_100ml),
        acid_g_100ml=float(bottle.acid_g_100ml),
        abv_pct=float(bottle.abv_pct),
        activity=activity,
    )
    alone = len(items) == 1 and not watered
    if alone and (own := items[0].life) is not None:
        life = Life(int(own.value), f"so the {items[0].name} keeps", own.basis, own.source)
        keeping = replace(keeping, life=life)
    weak = float(bottle.abv_pct) < TRADE_ABV
    dated = [item for item in items if alone or weak or _ages(item, bar, below)]
    lives = [keeping.life, *_dated(dated, made, bar)]
    keeping = replace(keeping, life=min(lives, key=lambda life: life.days))
    delle = float(delle_units(bottle.sugar_g_100ml, bottle.abv_pct))
    return BatchLife(keeping, made, delle, activity)


def _ages(item: Ingredient, bar: Bar, below: Collection[str]) -> bool:
    """Whether alcohol does not stop it from ageing or spoiling."""
    made_of = everything_in(item.key, bar.inputs, bar.library, below)
    return any(map(item.is_kind, AGEING)) or any(
        each.is_kind(kind) for each in (item, *made_of) for kind in SPOILING
    )


def _dated(items: Sequence[Ingredient], made: date, bar: Bar) -> list[Life]:
    """What is left of the life of each that has a date; what is past it is opened fresh."""
    found: list[Life] = []
    for item in items:
        row = bar.stocked(item.key)
        if row is not None and row.use_by is not None and row.use_by >= made:
            why = f"the {item.name} in it is to be used by {row.use_by}"
            found.append(Life((row.use_by - made).days, why, "estimate", "its date on the shelf"))
    return found
