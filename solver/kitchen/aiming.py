"""What to add to a batch, in steps of a scale, so that it comes to what is aimed for.

By successive integer linear programs. Brix is a ratio of sums and so exact in each. Strength, sugar
and acid are shares of a volume, which is slightly nonlinear: it is linearised at the last answer
until the answers repeat, and every answer is evaluated by the exact mass balance.
"""

from __future__ import annotations

import enum
import itertools
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np

from solver.clock import Clock
from solver.kitchen.batch import (
    ACID_COLUMNS,
    ACID_READING,
    ETHANOL,
    OTHER,
    SUGAR,
    WATER,
    brix,
    liquid_g,
    mass_g,
    measured,
    titratable_g,
)
from solver.kitchen.rounded_program import BatchRow, minimise
from solver.mixture.ethanol import ETHANOL_G_ML
from solver.mixture.keeping import DELLE_PER_ABV
from solver.mixture.numeric import Floats

ROUNDS: Final = 12
_FINE: Final = 1e-3
"""Unit in which a miss is counted: that much of the tolerance of its aim."""
_MOST_MISS: Final = 10**8
EXCHANGED: Final = (-2, -1, 0, 1, 2)
"""Steps of every adder that local search adds to the best answer of the linear programs."""
WORTH: Final = 0.025
"""Share of the batch that is rather added than missing an aim by one tolerance: enough to meet an
aim that can be met, too little to fill a bath for the last hundredth."""


@enum.unique
class BatchMeasure(enum.StrEnum):
    """What can be aimed for: Brix, sugar and acid in g/100 mL, strength in % vol."""

    BRIX = "brix"
    SUGAR = "sugar"
    ACID = "acid"
    ABV = "abv"


TOLERANCES: Final = {
    BatchMeasure.BRIX: 0.1,
    BatchMeasure.SUGAR: 0.2,
    BatchMeasure.ACID: 0.02,
    BatchMeasure.ABV: 0.1,
}
"""A miss too small to be measured in a bar, in the measure's unit; misses are scaled by it."""


@dataclass(frozen=True)
class BatchAim:
    """A value that the batch is to come to."""

    measure: BatchMeasure
    value: float


@dataclass(frozen=True)
class Adder:
    """Something that may be added: a batch of one gram, the step of the scale, and the most.

    `dear` is how many grams of water a gram of it is worth sparing.
    """

    name: str
    per_gram: tuple[float, ...]
    step_g: float
    most_g: float
    dear: float = 1.0

    @property
    def most(self) -> int:
        """The most, in steps."""
        return int(self.most_g / self.step_g + 1e-9)


@dataclass(frozen=True)
class Shares:
    """Two adders, by position, that go in as `parts` to each other, to the nearest step."""

    adders: tuple[int, int]
    parts: tuple[float, float]


@dataclass(frozen=True, eq=False)
class Aiming:
    """A batch, what may be added, and what it must come to and keep.

    `least_delle`: units that it must have against yeast. `most_sugar`: share of sugar in sugar and
    water that stays dissolved, 0..1.
    """

    start: Floats
    adders: tuple[Adder, ...]
    aims: tuple[BatchAim, ...]
    shares: Shares | None = None
    least_delle: float | None = None
    most_sugar: float | None = None

    def batch(self, steps: tuple[int, ...]) -> Floats:
        """The batch with so many steps of each adder."""
        total = self.start.copy()
        for adder, count in zip(self.adders, steps, strict=True):
            total += count * adder.step_g * np.array(adder.per_gram)
        return total

    def cost(self, steps: tuple[int, ...]) -> float:
        """Weighted grams added plus misses as grams; infinite where a limit is broken."""
        batch = self.batch(steps)
        if not all(self._kept(batch)):
            return float("inf")
        misses = (
            abs(value_of(batch, aim.measure) - aim.value) / TOLERANCES[aim.measure]
            for aim in self.aims
        )
        pairs = zip(steps, self.adders, strict=True)
        grams = sum(n * adder.step_g * adder.dear for n, adder in pairs)
        return round(grams + self.worth_g * sum(misses), 6)

    @property
    def worth_g(self) -> float:
        """Grams that a miss of one tolerance counts for."""
        return WORTH * float(mass_g(self.start))

    def _kept(self, batch: Floats) -> Iterator[bool]:
        if self.least_delle is not None:
            sugar, abv = (value_of(batch, m) for m in (BatchMeasure.SUGAR, BatchMeasure.ABV))
            yield sugar + DELLE_PER_ABV * abv >= self.least_delle - 1e-6
        if self.most_sugar is not None:
            wet = float(batch[SUGAR] + batch[WATER])
            yield float(batch[SUGAR]) <= self.most_sugar * wet + 1e-6


def value_of(batch: Floats, measure: BatchMeasure) -> float:
    """What one batch measures, in the unit of the measure."""
    if measure is BatchMeasure.BRIX:
        return float(brix(batch))
    done = measured(batch)
    fields = {
        BatchMeasure.SUGAR: done.sugar_g_100ml,
        BatchMeasure.ACID: done.acid_g_100ml,
        BatchMeasure.ABV: done.abv_pct,
    }
    return float(fields[measure])


def reach(aiming: Aiming, clock: Clock) -> tuple[int, ...] | None:
    """Steps of each adder that meet the aims, or come nearest, with as little added as can be.

    A local optimum: no exchange of up to two steps of each adder is better by the exact mass
    balance. None where no answer keeps the limits, which is no proof that there is none, as each
    linear program is exact at one batch only.

    Raises:
        TimeUpError: there was no time for it.
    """
    seen: set[tuple[int, ...]] = set()
    steps = (0,) * len(aiming.adders)
    for _ in range(ROUNDS):
        found = _solve(aiming, steps, clock)
        if found is None or found in seen:
            break
        seen.add(found)
        steps = found
    if not seen:
        return None
    best = _exchanged(aiming, min(seen, key=aiming.cost), clock)
    return None if aiming.cost(best) == float("inf") else best


def _exchanged(aiming: Aiming, steps: tuple[int, ...], clock: Clock) -> tuple[int, ...]:
    """Local search by exchanges of steps, by the exact cost."""
    while True:
        better = min(_around(aiming, steps, clock), key=aiming.cost, default=steps)
        if aiming.cost(better) >= aiming.cost(steps):
            return steps
        steps = better


def _around(aiming: Aiming, steps: tuple[int, ...], clock: Clock) -> Iterator[tuple[int, ...]]:
    for change in itertools.product(EXCHANGED, repeat=len(steps)):
        clock.check()
        moved = tuple(a + b for a, b in zip(steps, change, strict=True))
        inside = all(0 <= m <= a.most for m, a in zip(moved, aiming.adders, strict=True))
        if any(change) and inside and _shares_kept(aiming, moved):
            yield moved


def _shares_kept(aiming: Aiming, steps: tuple[int, ...]) -> bool:
    if aiming.shares is None:
        return True
    (one, other), (a, b) = aiming.shares.adders, aiming.shares.parts
    grams = [steps[k] * aiming.adders[k].step_g for k in (one, other)]
    return abs(b * grams[0] - a * grams[1]) <= _room(aiming.shares, aiming) + 1e-9


def _room(shares: Shares, aiming: Aiming) -> float:
    """How far whole steps may be from the stated shares, in grams times parts."""
    return max(shares.parts) * max(aiming.adders[k].step_g for k in shares.adders) / 2


def _solve(aiming: Aiming, at: tuple[int, ...], clock: Clock) -> tuple[int, ...] | None:
    """The best steps with the volume linearised at `at`; None where no steps keep the rows.

    Variables are the steps of each adder, then the miss of each aim.
    """
    here = aiming.batch(at)
    count, aims = len(aiming.adders), len(aiming.aims)
    rows: list[BatchRow] = []
    for k, aim in enumerate(aiming.aims):
        excess, slopes = _excess(aiming, here, aim)
        misses = [0.0] * aims
        misses[k] = -_FINE * TOLERANCES[aim.measure]
        rows += [
            BatchRow((*(sign * slope for slope in slopes), *misses), -sign * excess)
            for sign in (1.0, -1.0)
        ]
    rows += [BatchRow((*r.coefficients, *([0.0] * aims)), r.most) for r in _limits(aiming, here)]
    highs = [*(adder.most for adder in aiming.adders), *([_MOST_MISS] * aims)]
    costs = [*(a.step_g * a.dear for a in aiming.adders), *([aiming.worth_g * _FINE] * aims)]
    found = minimise(costs, rows, highs, clock)
    return None if found is None else found[:count]


def _excess(aiming: Aiming, here: Floats, aim: BatchAim) -> tuple[float, list[float]]:
    """By how much the start exceeds an aim, and what a step of each adder adds to that."""
    if aim.measure is BatchMeasure.BRIX:
        whole = float(liquid_g(here)) / 100.0

        def over(batch: Floats) -> float:
            return (_shown(batch) - aim.value / 100.0 * float(liquid_g(batch))) / whole

    else:
        volume = _volume_at(here)
        amount = _amount(aim.measure)
        room = float(measured(here).volume_ml)

        def over(batch: Floats) -> float:
            return (100.0 * amount(batch) - aim.value * volume(batch)) / room

    return over(aiming.start), [_per_step(over, adder) for adder in aiming.adders]


def _limits(aiming: Aiming, here: Floats) -> Iterator[BatchRow]:
    if aiming.least_delle is not None:
        least, volume = aiming.least_delle, _volume_at(here)
        sugar, ethanol = _amount(BatchMeasure.SUGAR), _amount(BatchMeasure.ABV)

        def lacking(batch: Floats) -> float:
            units = 100.0 * (sugar(batch) + DELLE_PER_ABV * ethanol(batch))
            return least * volume(batch) - units

        yield _at_most_zero(aiming, lacking)
    if aiming.most_sugar is not None:
        most = aiming.most_sugar

        def undissolved(batch: Floats) -> float:
            return float(batch[SUGAR] - most * (batch[SUGAR] + batch[WATER]))

        yield _at_most_zero(aiming, undissolved)
    if aiming.shares is not None:
        (one, other), (a, b) = aiming.shares.adders, aiming.shares.parts
        row = [0.0] * len(aiming.adders)
        row[one], row[other] = b * aiming.adders[one].step_g, -a * aiming.adders[other].step_g
        for sign in (1.0, -1.0):
            yield BatchRow(tuple(sign * c for c in row), _room(aiming.shares, aiming))


def _at_most_zero(aiming: Aiming, linear: Callable[[Floats], float]) -> BatchRow:
    slopes = tuple(_per_step(linear, adder) for adder in aiming.adders)
    return BatchRow(slopes, -linear(aiming.start))


def _per_step(linear: Callable[[Floats], float], adder: Adder) -> float:
    return adder.step_g * linear(np.array(adder.per_gram))


def _amount(measure: BatchMeasure) -> Callable[[Floats], float]:
    """What a share of the volume is a share of: grams of sugar or acid, millilitres of ethanol."""
    return {
        BatchMeasure.SUGAR: lambda batch: float(batch[SUGAR]),
        BatchMeasure.ACID: lambda batch: float(titratable_g(batch)),
        BatchMeasure.ABV: lambda batch: float(batch[ETHANOL]) / ETHANOL_G_ML,
    }[measure]


def _shown(batch: Floats) -> float:
    acids = float(batch[ACID_COLUMNS].sum())
    return float(batch[SUGAR] + batch[OTHER]) + ACID_READING * acids


def _volume_at(here: Floats) -> Callable[[Floats], float]:
    """The volume as a linear function that is exact at `here`, in mL.

    A batch twice as large has twice the volume, so the slopes alone add up to it (Euler).
    """
    step = 1e-4 * float(np.abs(here).max())
    size = len(here)
    around = np.tile(here, (2 * size, 1))
    around[range(size), range(size)] += step
    around[range(size, 2 * size), range(size)] -= step
    volumes = measured(around).volume_ml
    slopes = (volumes[:size] - volumes[size:]) / (2.0 * step)
    slopes = slopes + (float(measured(here).volume_ml) - float(slopes @ here)) * here / float(
        here @ here
    )
    return lambda batch: float(slopes @ batch)
