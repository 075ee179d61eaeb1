"""The ice of a night."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from typing import Final

from solver.drinks.assess import Assessment, assess
from solver.drinks.card import serve_of
from solver.drinks.mixed_ahead import MixedAhead
from solver.kitchen.practice import ICE_IN_GLASS_G, ICE_TO_MIX_G
from solver.mixture.blend import WATER
from solver.mixture.ethanol import WATER_G_ML
from solver.mixture.melt import TECHNIQUES
from solver.pantry.bar import Bar
from solver.pantry.spec import Spec
from solver.tasks.plan.standing_batches import standing_batch

WATERED: Final = 0.75
"""Share of its melt from which on a batch is poured cold, and not stirred once more: between half
of it, which is stirred briefly, and all; our own choice."""


class Ice:
    """Grams of ice for a serve of a bar's drinks, each worked out once."""

    def __init__(self, bar: Bar) -> None:
        self._bar = bar
        self._known: dict[str, tuple[float, float]] = {}

    def kilograms(self, poured: Iterable[tuple[Spec, int]], from_batch: Mapping[str, int]) -> float:
        """The ice of drinks, of which some come out of a batch, by their names."""
        grams: list[float] = []
        for spec, count in poured:
            fresh, batched = self._each(spec)
            mixed = from_batch.get(spec.name, 0)
            grams += [fresh * (count - mixed), batched * mixed]
        return math.fsum(grams) / 1000

    def _each(self, spec: Spec) -> tuple[float, float]:
        """What a serve takes that is mixed when it is poured, and one out of the batch."""
        if spec.name not in self._known:
            self._known[spec.name] = self._worked_out(spec)
        return self._known[spec.name]

    def _worked_out(self, spec: Spec) -> tuple[float, float]:
        """To mix with and to serve on; the bar's own figure is of both together."""
        bar, found = self._bar, assess(spec, self._bar)
        serve = serve_of(found, bar.glass(found.glass) if found.glass else None)
        in_glass = ICE_IN_GLASS_G.get(serve.value, 0.0)
        fresh = ICE_TO_MIX_G.get(found.technique, 0.0) + in_glass
        if bar.costing.ice_stated and TECHNIQUES[found.technique].iced:
            fresh = bar.costing.ice_g
        mixed = standing_batch(spec, bar)
        cold = mixed is not None and _holds_its_melt(mixed, found, bar)
        return fresh, min(fresh, in_glass) if cold else fresh


def _holds_its_melt(mixed: MixedAhead, found: Assessment, bar: Bar) -> bool:
    """Whether the water that ice would have melted into a drink is in its batch."""
    brought = math.fsum(
        amount * float(bar.bottles.find(key).composition()[WATER])
        for key, amount in mixed.held.items()
    )
    there = mixed.each_ml * float(mixed.row.ingredient.composition()[WATER])
    melt = float(found.drink.melt_ml) * WATER_G_ML
    return melt > 0 and there - brought >= WATERED * melt
