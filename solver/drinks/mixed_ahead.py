"""What a serve takes of the batch of its drink that stands mixed."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
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
from solver.pantry.shelf import Shelf, Stocked, together
from solver.pantry.spec import Spec

NEARLY: Final = 0.03
"""Share of a serve that the last one may lack: what was measured in steps, and stuck to the glass;
our own choice."""


@dataclass(frozen=True)
class MixedAhead:
    """A drink of which a batch stands on the shelf.

    `row` is all of it, `good_ml` what of it is not past its last day; a serve is `each_ml` of it.
    `inside` is what of a serve is in the batch, by key in the ingredient's own unit, and `outside`
    the rest.
    """

    spec: Spec
    row: Stocked
    good_ml: float
    each_ml: float
    inside: Mapping[str, float]
    outside: Mapping[str, float]

    @property
    def key(self) -> str:
        """The key of the batch."""
        return self.row.ingredient.key

    @property
    def serves(self) -> int:
        """The whole serves that are good."""
        return math.floor(self.good_ml / self.each_ml + NEARLY)

    def of_each(self, number: float) -> float:
        """What each of so many serves takes, mL: all there is, where they nearly empty it."""
        each = self.good_ml / number if number else self.each_ml
        return each if abs(each - self.each_ml) * number < NEARLY * self.each_ml else self.each_ml

    def serve(self, each_ml: float, bar: Bar) -> Serve:
        """All that a serve out of the batch takes."""
        return Serve({self.key: each_ml, **self.outside}, one_serve(self.spec, bar).garnish)


def mixed_ahead(spec: Spec, shelf: Shelf, bar: Bar, day: date) -> MixedAhead | None:
    """The batch of a spec that stands on the shelf; None where the shelf counts none of that day.

    What went into the batch is what its file says that it is made of; the rest of the spec is added
    at service. A serve is so much of it as holds what its pours bring, whatever water is with it.
    """
    row = shelf.row(batch_key(spec.name))
    if row is None or not row.on_hand or not is_batch_of(row.ingredient, spec.name):
        return None
    lots = [lot for lot in row.lots if lot.opened is None or lot.opened <= day]
    pours = spec.poured(bar.bottles, bar.measures)
    each_ml = _serve_ml([pour for pour in pours if _is_in(row.ingredient, pour)], row.ingredient)
    if not lots or not each_ml:
        return None
    good = together(lot for lot in lots if not lot.past(day))
    return MixedAhead(
        spec=spec,
        row=row,
        good_ml=0.0 if good is None else good.on_hand or 0.0,
        each_ml=each_ml,
        inside=_by_key(pour for pour in pours if _is_in(row.ingredient, pour)),
        outside=_by_key(pour for pour in pours if not _is_in(row.ingredient, pour)),
    )


def _serve_ml(inside: list[Pour], batch: Ingredient) -> float:
    """How much of the batch is one serve; 0 where that can't be told."""
    brought = sum(_without_water(p.amount * p.ingredient.composition()) for p in inside)
    per_ml = _without_water(batch.composition())
    return brought / per_ml if per_ml else 0.0


def _by_key(pours: Iterable[Pour]) -> dict[str, float]:
    found: dict[str, float] = {}
    for pour in pours:
        key = pour.ingredient.key
        found[key] = found.get(key, 0.0) + pour.amount
    return found


def _is_in(batch: Ingredient, pour: Pour) -> bool:
    return pour.ingredient.key in (batch.made_of or ())


def _without_water(composition: Floats) -> float:
    """Grams of what does not come with ice."""
    return float(composition[[ETHANOL, SUGAR, SOLIDS]].sum())
