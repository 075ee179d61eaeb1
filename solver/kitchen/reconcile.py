"""Making a recipe and what was measured agree: weighted least squares, and when they cannot.

Every stated amount and figure, every usual loss and every reading pulls with its own accuracy. The
best fit, its covariance and the misfit are those of data reconciliation (Narasimhan and Jordache,
Data Reconciliation and Gross Error Detection, 2000; from memory). Whether readings contradict each
other is asked without the usual losses, which are no readings: then only weights, sugar and
accuracies speak.
"""

from __future__ import annotations

import enum
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt

from solver.kitchen.batch import brix, mass_g, measured
from solver.kitchen.cooking import Cooked, Cooking
from solver.mixture.numeric import Floats

ROUNDS: Final = 200
_STEP: Final = 1e-4
_CONVERGED: Final = 1e-9
_SMALLEST: Final = 1e-15
"""Relative singular value below which a direction counts as undetermined."""
_WEAK: Final = 1e-3
"""Weight of the prior on losses where only readings count: enough to be nonsingular."""
_CHI2_IN_A_THOUSAND: Final = (10.83, 13.82, 16.27, 18.47, 20.52, 22.46, 24.32, 26.12)
"""Squared misfit that chance exceeds once in a thousand, by how many readings there are beyond
those that the losses take: tables of the chi-squared distribution, from memory."""


@enum.unique
class ReadingKind(enum.StrEnum):
    """What was read off: finished weight (g), volume (mL), Brix, steam (g), strained solids (g)."""

    WEIGHT = "weight"
    VOLUME = "volume"
    BRIX = "brix"
    LOST = "lost"
    LEFT = "left"


@dataclass(frozen=True)
class BatchReading:
    """One measurement with its standard deviation; `step` is the losing step that it belongs to."""

    kind: ReadingKind
    value: float
    sd: float
    step: int | None = None

    def predicted(self, outcome: Cooked) -> Floats:
        """What it should have been, for each guess."""
        if self.kind is ReadingKind.WEIGHT:
            return mass_g(outcome.batch)
        if self.kind is ReadingKind.VOLUME:
            return measured(outcome.batch).volume_ml
        if self.kind is ReadingKind.BRIX:
            return brix(outcome.batch)
        position = -1 if self.step is None else self.step
        if self.kind is ReadingKind.LOST:
            return outcome.steam_g[position]
        return mass_g(outcome.left[position])


@dataclass(frozen=True, eq=False)
class Fit:
    """The least-squares estimate of the unknowns.

    `scores` are standard scores, shape (unknowns,), with their `covariance`; `misfit` is the
    weighted sum of squared residuals.
    """

    scores: Floats
    covariance: Floats
    misfit: float

    def figures(self, cooking: Cooking, of: Callable[[Cooked], Floats]) -> tuple[Floats, Floats]:
        """Values and standard deviations of figures; `of` gives them as (guesses, figures)."""
        low, high = cooking.bounds()
        value, slope = _linear(lambda s: of(cooking.run(s)), self.scores, low, high)
        variance = np.einsum("ij,jk,ik->i", slope, self.covariance, slope)
        return value, np.sqrt(np.maximum(variance, 0.0))


@dataclass(frozen=True)
class Clash:
    """A reading that the rest contradicts: what the rest makes of it, and that one's deviation."""

    reading: BatchReading
    implied: float
    implied_sd: float


def reconcile(cooking: Cooking, readings: Sequence[BatchReading]) -> Fit:
    """The least-squares estimate, with the usual losses as prior.

    Where that fits worse than chance allows (chi-squared, one in a thousand), the losses were not
    the usual ones: their prior is all but dropped, and the
    readings are kept.
    """
    fit = _fit(cooking, readings, loss_weight=1.0)
    if fit.misfit <= _in_a_thousand(len(readings)):
        return fit
    return _fit(cooking, readings, loss_weight=_WEAK)


def clashes(cooking: Cooking, readings: Sequence[BatchReading]) -> tuple[Clash, ...]:
    """The readings that cannot be true together, worst first; none where all agree.

    They agree where chance alone makes them differ as much more than once in a thousand times
    (chi-squared). Given are those without which the rest agrees; all, where no single one is.
    """
    fit = _fit(cooking, readings, loss_weight=_WEAK)
    if fit.misfit <= _allowed(cooking, readings):
        return ()
    mending: list[tuple[float, Clash]] = []
    mended: list[tuple[float, Clash]] = []
    for index, reading in enumerate(readings):
        rest = [*readings[:index], *readings[index + 1 :]]
        without = _fit(cooking, rest, loss_weight=_WEAK)
        value, sd = without.figures(cooking, lambda o, r=reading: r.predicted(o)[:, np.newaxis])  # type: ignore[misc]
        mending.append((without.misfit, Clash(reading, float(value[0]), float(sd[0]))))
        if without.misfit <= _allowed(cooking, rest):
            mended.append(mending[-1])
    return tuple(clash for _, clash in sorted(mended or mending, key=lambda item: item[0]))


def _allowed(cooking: Cooking, readings: Sequence[BatchReading]) -> float:
    return _in_a_thousand(len(readings) - len(cooking.losses()))


def _in_a_thousand(readings: int) -> float:
    """The misfit that chance exceeds once in a thousand, of so many readings or one."""
    return _CHI2_IN_A_THOUSAND[min(max(1, readings), len(_CHI2_IN_A_THOUSAND)) - 1]


def _fit(cooking: Cooking, readings: Sequence[BatchReading], *, loss_weight: float) -> Fit:
    """Weighted least squares by Levenberg-Marquardt, projected onto the bounds of the unknowns."""
    low, high = cooking.bounds()
    weight = np.ones(cooking.unknowns)
    weight[list(cooking.losses())] = loss_weight

    def misses(scores: Floats) -> Floats:
        outcome = cooking.run(scores)
        columns = [(r.predicted(outcome) - r.value) / r.sd for r in readings]
        return np.stack(columns, axis=-1) if columns else np.zeros((len(scores), 0))

    scores = np.clip(np.zeros(cooking.unknowns), low, high)
    damping = 1e-3
    miss, slope = _linear(misses, scores, low, high)
    cost = _cost(miss, weight * scores)
    for _ in range(ROUNDS):
        downhill = -(slope.T @ miss + weight**2 * scores)
        free = ~(((scores <= low) & (downhill < 0)) | ((scores >= high) & (downhill > 0)))
        tried = np.clip(scores + _move(scores, miss, slope, weight, free, damping), low, high)
        again, new_slope = _linear(misses, tried, low, high)
        worse = _cost(again, weight * tried) > cost
        damping = min(damping * 8, 1e12) if worse else max(damping / 8, 1e-12)
        step = float(np.max(np.abs(tried - scores), initial=0.0))
        if not worse:
            scores, miss, slope, cost = tried, again, new_slope, _cost(again, weight * tried)
        if step < _CONVERGED:
            break
    inverse = np.linalg.pinv(np.vstack([slope, np.diag(weight)]), rcond=_SMALLEST)
    return Fit(scores, inverse @ inverse.T, cost)


def _move(
    scores: Floats,
    miss: Floats,
    slope: Floats,
    weight: Floats,
    free: npt.NDArray[np.bool_],
    damping: float,
) -> Floats:
    """The step of the free unknowns, damped in proportion to the diagonal of the normal matrix."""
    steep = np.sqrt(damping * (np.sum(slope**2, axis=0) + weight**2))
    rows = np.vstack([slope, np.diag(weight), np.diag(steep)])[:, free]
    wanted = np.concatenate([-miss, -weight * scores, np.zeros_like(scores)])
    move = np.zeros_like(scores)
    move[free] = np.linalg.lstsq(rows, wanted, rcond=_SMALLEST)[0]
    return move


def _cost(miss: Floats, scores: Floats) -> float:
    return float(miss @ miss + scores @ scores)


def _linear(
    function: Callable[[Floats], Floats], at: Floats, low: Floats, high: Floats
) -> tuple[Floats, Floats]:
    """Values (m,) and Jacobian (m, n) of `function` at `at`, shape (n,), by finite differences."""
    size = len(at)
    up = np.minimum(at + _STEP * (1 + np.abs(at)), high)
    down = np.maximum(at - _STEP * (1 + np.abs(at)), low)
    guesses = np.tile(at, (2 * size + 1, 1))
    guesses[range(1, size + 1), range(size)] = up
    guesses[range(size + 1, 2 * size + 1), range(size)] = down
    values = function(guesses)
    slope = (values[1 : size + 1] - values[size + 1 :]).T / (up - down)
    return values[0], slope
