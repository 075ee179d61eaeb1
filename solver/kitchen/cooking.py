"""A recipe as numbers: inputs, steps, and what comes out for any guess of what nobody knows.

What nobody knows exactly is a vector of standard scores, 0 where everything is as stated or usual:
for each input its amount, sugar, acid and alcohol, then for each losing step what it lost. One
forward pass takes many such vectors at once.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from solver.kitchen.batch import (
    ACID_COLUMNS,
    COLUMNS,
    ETHANOL,
    INSOLUBLE,
    OTHER,
    SUGAR,
    WATER,
    brix,
    liquid_g,
    mass_g,
    titratable_g,
)
from solver.kitchen.steps import boil, strain
from solver.mixture.numeric import Floats

PER_INPUT = 4
"""Unknowns of an input: amount, sugar, acid, alcohol."""
MOST_LOST = 0.98
"""No step loses all of the water or all of the liquid."""
_WET = 0.05
"""Grams of water in a gram above which sugar and acid are known against water, and not against the
other dry matter."""


@dataclass(frozen=True)
class Input:
    """Something that goes in: grams, what a gram of it is, and how well both are known.

    `per_gram` is a batch of one gram. Standard deviations: of the amount in g; of sugar, titratable
    acid and ethanol in g per g. `holds` is how many grams of liquid a gram of it that does not
    dissolve holds back in a strainer.
    """

    name: str
    grams: float
    grams_sd: float
    per_gram: tuple[float, ...]
    sugar_sd: float = 0.0
    acid_sd: float = 0.0
    ethanol_sd: float = 0.0
    holds: float = 0.0


@dataclass(frozen=True)
class Add:
    """Puts an input, by its position, into the pan."""

    input: int


@dataclass(frozen=True)
class Boil:
    """Loses water as steam: how many grams are usual, and their standard deviation."""

    grams: float
    spread_g: float


@dataclass(frozen=True)
class Strain:
    """Loses what does not dissolve, and liquid with it.

    Usual liquid held back: what the wet matter holds, and the share `film` of the liquid; `spread`
    is the standard deviation as a share. `passes` is the share that runs through undissolved.
    """

    film: float
    spread: float
    passes: float


Step = Add | Boil | Strain


@dataclass(frozen=True, eq=False)
class Cooked:
    """What comes out, for each guess: the batch (n, columns), and what each step lost.

    `steam_g`, `boiled_brix` and `left` hold one entry for each step, by its position: grams of
    steam and the Brix it leaves in the pan (n,), and batches (n, columns).
    """

    batch: Floats
    steam_g: dict[int, Floats]
    boiled_brix: dict[int, Floats]
    left: dict[int, Floats]


@dataclass(frozen=True)
class Cooking:
    """Inputs and the steps they go through; the first step adds the first input."""

    inputs: tuple[Input, ...]
    steps: tuple[Step, ...]
    _losses: tuple[tuple[float, float], ...] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        """Work out what share each losing step usually loses: mean and standard deviation."""
        object.__setattr__(self, "_losses", tuple(self._usual()))

    @property
    def unknowns(self) -> int:
        """How many numbers nobody knows exactly."""
        return PER_INPUT * len(self.inputs) + len(self._losses)

    def losses(self) -> range:
        """Positions of the losses among the unknowns."""
        return range(PER_INPUT * len(self.inputs), self.unknowns)

    def bounds(self) -> tuple[Floats, Floats]:
        """Least and greatest standard score of each unknown: no step loses less than nothing."""
        low, high = np.full(self.unknowns, -8.0), np.full(self.unknowns, 8.0)
        for at, (mean, sd) in zip(self.losses(), self._losses, strict=True):
            low[at], high[at] = (0.0 - mean) / sd, (MOST_LOST - mean) / sd
        return low, high

    def run(self, scores: Floats) -> Cooked:
        """Cook for each guess; `scores` has shape (n, unknowns)."""
        batch = np.zeros((len(scores), len(COLUMNS)))
        steam: dict[int, Floats] = {}
        boiled: dict[int, Floats] = {}
        left: dict[int, Floats] = {}
        loss = iter(self.losses())
        for position, step in enumerate(self.steps):
            if isinstance(step, Add):
                batch = batch + self._added(step.input, scores)
                continue
            at = next(loss)
            mean, sd = self._losses[at - self.losses().start]
            share = np.clip(mean + sd * scores[:, at], 0.0, MOST_LOST)
            if isinstance(step, Boil):
                batch, gone = boil(batch, share)
                steam[position] = mass_g(gone)
                boiled[position] = brix(batch)
            else:
                batch, gone = strain(batch, share, step.passes)
                left[position] = gone
        return Cooked(batch, steam, boiled, left)

    def usual(self) -> Cooked:
        """Cook with everything as stated and every loss as usual; one guess."""
        return self.run(np.zeros((1, self.unknowns)))

    def everything(self) -> Floats:
        """All that goes in, as stated, in one batch (columns,)."""
        total = np.zeros(len(COLUMNS))
        for item in self.inputs:
            total += item.grams * np.array(item.per_gram)
        return total

    def scaled(self, factor: float) -> Cooking:
        """The same recipe for `factor` times as much; what steams off grows with it."""
        inputs = tuple(
            replace(i, grams=i.grams * factor, grams_sd=i.grams_sd * factor) for i in self.inputs
        )
        steps = tuple(
            Boil(s.grams * factor, s.spread_g * factor) if isinstance(s, Boil) else s
            for s in self.steps
        )
        return Cooking(inputs, steps)

    def _added(self, index: int, scores: Floats) -> Floats:
        item = self.inputs[index]
        amount, sugar, acid, ethanol = (scores[:, PER_INPUT * index + k] for k in range(PER_INPUT))
        gram = np.tile(np.array(item.per_gram), (len(scores), 1))
        own = gram[0].copy()
        swap = WATER if own[WATER] > _WET else OTHER
        for column, change in (
            (SUGAR, item.sugar_sd * sugar),
            (ETHANOL, item.ethanol_sd * ethanol),
        ):
            gram[:, column] += change
            gram[:, swap] -= change
        titratable = float(titratable_g(own))
        if titratable:
            more = np.outer(acid * item.acid_sd / titratable, own[ACID_COLUMNS])
            gram[:, ACID_COLUMNS] += more
            gram[:, swap] -= more.sum(axis=1)
        grams = np.maximum(item.grams + item.grams_sd * amount, 0.0)
        added: Floats = grams[:, np.newaxis] * gram
        return added

    def _usual(self) -> Sequence[tuple[float, float]]:
        """Mean and standard deviation of the share that each losing step loses."""
        none = np.zeros((1, PER_INPUT * len(self.inputs)))
        batch = np.zeros((1, len(COLUMNS)))
        found: list[tuple[float, float]] = []
        held = 0.0
        for step in self.steps:
            if isinstance(step, Add):
                batch = batch + self._added(step.input, none)
                item = self.inputs[step.input]
                held += item.holds * item.grams * item.per_gram[INSOLUBLE]
            elif isinstance(step, Boil):
                water = max(float(batch[0, WATER]), 1e-9)
                found.append(_share(step.grams, step.spread_g, water))
                batch, _ = boil(batch, found[-1][0])
            else:
                liquid = max(float(liquid_g(batch)[0]), 1e-9)
                usual = (1.0 - step.passes) * held + step.film * liquid
                found.append(_share(usual, step.spread * usual, liquid))
                batch, _ = strain(batch, found[-1][0], step.passes)
                held *= step.passes
        return found


def _share(grams: float, spread_g: float, whole_g: float) -> tuple[float, float]:
    """A loss as a share of what there is: at most nine tenths, and never known exactly."""
    return min(0.9, grams / whole_g), max(1e-6, spread_g / whole_g)
