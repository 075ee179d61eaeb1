"""The batch of a drink that is on the shelf, and what a serve takes of it."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

from solver.drinks.in_the_bottle import not_heard, told_in_bottle
from solver.drinks.serve import Serve, one_serve
from solver.mixture.blend import ETHANOL, SOLIDS, SUGAR
from solver.mixture.numeric import Floats
from solver.pantry.bar import Bar
from solver.pantry.batches import batch_key, is_batch_of
from solver.pantry.ingredient import Ingredient
from solver.pantry.pour import Pour, by_key
from solver.pantry.shelf import Shelf
from solver.pantry.spec import Spec
from solver.pantry.stocked import Stocked, together

NEARLY: Final = 0.03
"""Share of a serve that the last one may lack: what was measured in steps, and stuck to the glass;
our own choice."""

SAME: Final = 0.01
"""What amounts may differ by and be of one recipe: our own choice."""

AS_STRONG: Final = 0.05
"""What alcohol may differ by and be of one recipe, as what goes in is rounded to measuring steps,
and another bottle is of 43 % and not of 45: our own choice."""


@dataclass(frozen=True)
class MixedAhead:
    """A drink with a batch on the shelf.

    `row` is the whole batch, `good_ml` the part that is not past its last day, `each_ml` the volume
    of a serve. `inside` has what the batch contains of a serve, by key in the ingredient's own
    unit by the spec, and `outside` the rest; `held` has what it was mixed of. It is `older` if it
    was mixed by other amounts, which a serve then has, or for another technique.

    It is `another` drink, and no serve comes out of it, if a guest who was told of the spec would
    be told too little: it contains what the spec pours no more (`gone`, names), or is stronger. So
    it is where nobody knows how much a serve is: `each_ml` is 0.
    """

    spec: Spec
    row: Stocked
    good_ml: float
    each_ml: float
    inside: Mapping[str, float]
    outside: Mapping[str, float]
    held: Mapping[str, float]
    older: bool = False
    gone: tuple[str, ...] = ()
    stronger: bool = False

    @property
    def key(self) -> str:
        """The key of the batch."""
        return self.row.ingredient.key

    @property
    def another(self) -> bool:
        """Whether it is another drink than its spec, to somebody who must know."""
        return bool(self.gone) or self.stronger or not self.each_ml

    @property
    def serves(self) -> int:
        """The whole serves that are good, and of the spec."""
        if self.another:
            return 0
        return math.floor(self.good_ml / self.each_ml + NEARLY)

    def of_each(self, number: float) -> float:
        """The volume of each of some serves, mL: all there is if they nearly empty the batch."""
        each = self.good_ml / number if number else self.each_ml
        return each if abs(each - self.each_ml) * number < NEARLY * self.each_ml else self.each_ml

    def serve(self, each_ml: float, bar: Bar) -> Serve:
        """What a serve from the batch takes in all."""
        return Serve({self.key: each_ml, **self.outside}, one_serve(self.spec, bar).garnish)


def mixed_ahead(spec: Spec, shelf: Shelf, bar: Bar, day: date) -> MixedAhead | None:
    """The batch of a spec on the shelf; None if the shelf counts none of that day.

    The content of the batch is what its file says it is made of; the rest of the spec is added at
    service. A serve is what its file says; else the amount that contains what its pours contribute,
    whatever water it has: what they were when it was mixed, if its file says that.
    """
    row = shelf.row(batch_key(spec.name))
    if row is None or not row.on_hand or not is_batch_of(row.ingredient, spec.name):
        return None
    lots = [lot for lot in row.lots if lot.opened is None or lot.opened <= day]
    pours = spec.poured(bar.bottles, bar.measures)
    waits = [_is_in(row.ingredient, pour, pours) for pour in pours]
    inside = by_key(pour for pour, waited in zip(pours, waits, strict=True) if waited)
    stated = {key: row.ingredient.holds[key] for key in row.ingredient.holds if key in bar.bottles}
    held = stated or inside
    each_ml = row.ingredient.serve_ml or _serve_ml(held, row.ingredient, bar)
    if not lots:
        return None
    strong, now = each_ml * _ethanol_g_ml(row.ingredient), _ethanol_g(inside, bar)
    good = together(lot for lot in lots if not lot.past(day))
    return MixedAhead(
        spec=spec,
        row=row,
        good_ml=0.0 if good is None else good.on_hand or 0.0,
        each_ml=each_ml,
        inside=inside,
        outside=by_key(pour for pour, waited in zip(pours, waits, strict=True) if not waited),
        held=held,
        older=not are_near(held, inside, SAME)
        or not math.isclose(strong, now, rel_tol=AS_STRONG)
        or _is_made_otherwise(row.ingredient, spec),
        gone=_gone(row.ingredient, spec, pours, bar),
        stronger=strong > (1 + AS_STRONG) * now,
    )


def _gone(batch: Ingredient, spec: Spec, pours: Sequence[Pour], bar: Bar) -> tuple[str, ...]:
    """Names of what a batch was mixed of and its spec pours no more; or, if it is of the same
    things, what it alone must be told to contain: a syrup may have been cooked otherwise since.
    """
    poured = {pour.ingredient.key for pour in pours}
    keys = dict.fromkeys([*(batch.made_of or ()), *batch.holds])
    known = {key: bar.bottles.get(key) for key in keys if key not in poured}
    names = [key if item is None else item.name for key, item in known.items()]
    now = told_in_bottle((pour.ingredient for pour in pours), spec, bar)
    return tuple(names) or not_heard(batch, now, bar)


def _ethanol_g(amounts: Mapping[str, float], bar: Bar) -> float:
    """Grams of ethanol in amounts by key."""
    return math.fsum(
        amount * float(bar.bottles.find(key).composition()[ETHANOL])
        for key, amount in amounts.items()
    )


def _ethanol_g_ml(batch: Ingredient) -> float:
    """Grams of ethanol in a millilitre of a batch, by its own figures."""
    return float(batch.composition()[ETHANOL])


def are_near(one: Mapping[str, float], other: Mapping[str, float], within: float) -> bool:
    """Whether amounts are of the same keys, each `within` a share of the other."""
    return one.keys() == other.keys() and all(
        math.isclose(one[key], other[key], rel_tol=within) for key in one
    )


def _is_made_otherwise(batch: Ingredient, spec: Spec) -> bool:
    """Whether the spec states another technique: the batch may hold the water of its own."""
    both = spec.technique is not None and batch.technique is not None
    return both and spec.technique != batch.technique


def _serve_ml(inside: Mapping[str, float], batch: Ingredient, bar: Bar) -> float:
    """The volume of a serve from the batch; 0 if it cannot be determined."""
    brought = sum(
        _without_water(amount * bar.bottles.find(key).composition())
        for key, amount in inside.items()
    )
    per_ml = _without_water(batch.composition())
    return brought / per_ml if per_ml else 0.0


def _is_in(batch: Ingredient, pour: Pour, pours: Sequence[Pour]) -> bool:
    """Whether a pour is in the batch; of a bottle that goes in and on top, what goes in."""
    of_it = [each for each in pours if each.ingredient.key == pour.ingredient.key]
    in_and_on_top = pour.top and not all(each.top for each in of_it)
    return pour.ingredient.key in (batch.made_of or ()) and not in_and_on_top


def _without_water(composition: Floats) -> float:
    """Grams without water."""
    return float(composition[[ETHANOL, SUGAR, SOLIDS]].sum())
