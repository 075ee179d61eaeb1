"""How long a batch is planned to keep: as any house ingredient, and as what is in it.

Below 20 % vol it keeps no longer than the shortest-lived thing in it. That figure is common
practice, no source; the one published is Delle's, of yeast alone, which alcohol comes to at 17.3 %
vol (78 / 4.5, see `solver.mixture.keeping`), so the higher of the two counts. Above it the alcohol
is said to keep it, and what would keep less long by itself is named.
"""

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
from solver.tasks.prep.house_recipes import keeping_as_stated
from solver.tasks.prep.shelf_life import ALWAYS, TRADE_ABV, Keeping, Life, keeping_of

AGEING: Final = ("fortified", "wine", "beer", "liqueur/cream", "liqueur/egg", "batch")
"""Kinds whose date counts in however strong a mixture: common practice, no source."""
SPOILING: Final = ("raw/nut", "raw/seed", "raw/grain", "raw/dairy", "dairy", "egg")
"""Kinds that make the date of what is made with them count so too: common practice, no source."""


@dataclass(frozen=True)
class KeepsAlone:
    """An ingredient of a batch, and how long it keeps by itself from the day of the batch."""

    item: Ingredient
    life: Life

    def hazards(self, bar: Bar) -> tuple[str, ...]:
        """The hazards of the ingredient that apply within the batch."""
        return keeping_as_stated(self.item, bar).hazards


@dataclass(frozen=True)
class BatchLife:
    """The planned life from the day it is made, with Delle units and water activity.

    `shortest` is the ingredient that keeps least by itself; None if none keeps less than the batch.
    """

    keeping: Keeping
    shortest: KeepsAlone | None
    made: date
    delle: float
    activity: float

    @property
    def use_by(self) -> date:
        """The last day of use."""
        return self.keeping.life.ends(self.made)

    @property
    def stops_yeast(self) -> bool:
        """Whether sugar and alcohol exceed what yeast was observed to ferment."""
        return self.delle >= DELLE_STABLE


def batch_life(
    items: Sequence[Ingredient], composition: Floats, bottle: Finished, made: date, bar: Bar,
    *, watered: bool,
) -> BatchLife:  # fmt: skip
    """The planned life of a batch of `items`; `watered` is true if water is added.

    A single item keeps as it always does. Several keep no longer than any of them that alcohol does
    not preserve.
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
    each = _each_alone(items, made, bar)
    lives = [one.life for one in each if alone or weak or _ages(one.item, bar, below)]
    keeping = replace(keeping, life=min([keeping.life, *lives], key=lambda life: life.days))
    shorter = [one for one in each if one.life.days < keeping.life.days]
    delle = float(delle_units(bottle.sugar_g_100ml, bottle.abv_pct))
    return BatchLife(
        keeping=_with_hazards(keeping, shorter, bar),
        shortest=min(shorter, key=lambda one: one.life.days, default=None),
        made=made,
        delle=delle,
        activity=activity,
    )


def _with_hazards(keeping: Keeping, shorter: Sequence[KeepsAlone], bar: Bar) -> Keeping:
    """The life with the hazards of the batch and of its shortest-lived ingredient."""
    *own, always = keeping.hazards
    more = (said for one in shorter for said in one.hazards(bar) if said != ALWAYS)
    return replace(keeping, hazards=(*dict.fromkeys((*own, *more)), always))


def _ages(item: Ingredient, bar: Bar, below: Collection[str]) -> bool:
    """Whether it ages or spoils in spite of alcohol."""
    made_of = everything_in(item.key, bar.inputs, bar.library, below)
    return any(map(item.is_kind, AGEING)) or any(
        each.is_kind(kind) for each in (item, *made_of) for kind in SPOILING
    )


def _each_alone(items: Sequence[Ingredient], made: date, bar: Bar) -> list[KeepsAlone]:
    """How long each ingredient keeps by itself, if known: to its last day, or for its days of
    life."""
    found = ((item, _life_of(item, made, bar)) for item in dict.fromkeys(items))
    return [KeepsAlone(item, life) for item, life in found if life is not None]


def _life_of(item: Ingredient, made: date, bar: Bar) -> Life | None:
    """The rest of its life if it has a date; of a newly opened one if it has none, or is past
    it."""
    row = bar.stocked(item.key)
    if row is not None and row.use_by is not None and row.use_by >= made:
        why = f"the {item.name} in it is to be used by {row.use_by}"
        return Life((row.use_by - made).days, why, "estimate", "its date on the shelf")
    if item.life is not None:
        why = f"the {item.name} in it keeps so long"
        return Life(int(item.life.value), why, item.life.basis, item.life.source)
    if item.key in bar.house or item.key in bar.recipes:
        life = keeping_as_stated(item, bar).life
        return replace(life, why=f"the {item.name} in it keeps so long ({life.why})")
    return None
