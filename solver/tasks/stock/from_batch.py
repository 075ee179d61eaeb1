"""Pour sold drinks from their batch first, if one is on the shelf."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date
from typing import Final

from solver.drinks.serve import Serve, one_serve
from solver.mixture.blend import ETHANOL, SOLIDS, SUGAR
from solver.mixture.numeric import Floats
from solver.pantry.bar import Bar
from solver.pantry.batches import batch_key, is_batch_of
from solver.pantry.ingredient import Ingredient
from solver.pantry.pour import Pour
from solver.pantry.shelf import Shelf
from solver.pantry.spec import Spec
from solver.pantry.stocked import Stocked, together

_NEARLY: Final = 0.03
"""Share of a serve that the last one may lack: what was measured in steps, and stuck to the glass;
our own choice."""


@dataclass(frozen=True)
class FromBatch:
    """How a sold drink came out of its batch.

    `number` serves were poured from the batch called `key`, `each_ml` per serve, with the additions
    of `serve`; `past` is its row if it is past its last day, and was not poured.
    """

    spec: Spec
    key: str
    each_ml: float
    serve: Serve
    number: float
    past: Stocked | None = None


def from_batch(spec: Spec, number: float, shelf: Shelf, bar: Bar, day: date) -> FromBatch | None:
    """The share of some serves that a batch provides; None if the shelf counts none of that day.

    The content of the batch is what its file says it is made of; the rest of the spec is added at
    service. A serve is the amount that contains what its pours contribute, whatever water it has.
    """
    row = shelf.row(batch_key(spec.name))
    if row is None or not row.on_hand or not is_batch_of(row.ingredient, spec.name):
        return None
    lots = [lot for lot in row.lots if lot.opened is None or lot.opened <= day]
    each_ml = _serve_ml(spec, row.ingredient, bar)
    if not lots or not each_ml:
        return None
    good = together(lot for lot in lots if not lot.past(day))
    there_ml = 0.0 if good is None else good.on_hand or 0.0
    poured = min(number, math.floor(there_ml / each_ml + _NEARLY))
    if poured and abs(there_ml / poured - each_ml) < _NEARLY * each_ml / poured:
        each_ml = there_ml / poured
    return FromBatch(
        spec=spec,
        key=row.ingredient.key,
        each_ml=each_ml,
        serve=_serve(spec, row.ingredient, each_ml, bar),
        number=poured,
        past=row if good is None else None,
    )


def _serve_ml(spec: Spec, batch: Ingredient, bar: Bar) -> float:
    """The volume of a serve from the batch; 0 if it cannot be determined."""
    pours = spec.poured(bar.bottles, bar.measures)
    inside = (pour for pour in pours if _is_in(batch, pour))
    brought = sum(_without_water(p.amount * p.ingredient.composition()) for p in inside)
    per_ml = _without_water(batch.composition())
    return brought / per_ml if per_ml else 0.0


def _serve(spec: Spec, batch: Ingredient, each_ml: float, bar: Bar) -> Serve:
    """What a serve from the batch takes in all."""
    poured = {batch.key: each_ml}
    for pour in spec.poured(bar.bottles, bar.measures):
        if not _is_in(batch, pour):
            key = pour.ingredient.key
            poured[key] = poured.get(key, 0.0) + pour.amount
    return Serve(poured, one_serve(spec, bar).garnish)


def _is_in(batch: Ingredient, pour: Pour) -> bool:
    return pour.ingredient.key in (batch.made_of or ())


def _without_water(composition: Floats) -> float:
    """Grams without water."""
    return float(composition[[ETHANOL, SUGAR, SOLIDS]].sum())
