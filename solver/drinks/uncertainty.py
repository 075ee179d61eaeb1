"""Uncertainty of a drink: the spread of melt, and the error of the volume model."""

from __future__ import annotations

from dataclasses import dataclass, replace

from solver.mixture.blend import Finished, volume_error_pct
from solver.mixture.drink import MixedDrink
from solver.mixture.melt import TECHNIQUES, Technique
from solver.pantry.bar import Bar
from solver.search.exact_evaluator import mixed
from solver.search.problem import Floats, Problem


@dataclass(frozen=True, eq=False)
class MeltSpread:
    """The drink with the least and with the most melt of practice."""

    technique: Technique
    least: Finished
    most: Finished


@dataclass(frozen=True, eq=False)
class Uncertainty:
    """`volume_error_pct` is a bound on the error of the volume model, in per cent.

    `melt` is None if no ice melts, or if the bar stated its own melt (`own_melt`), the spread of
    which nobody has measured.
    """

    volume_error_pct: float
    own_melt: bool
    melt: MeltSpread | None


def uncertainty(
    problem: Problem, amounts: Floats, drink: MixedDrink, technique: str, bar: Bar
) -> Uncertainty:
    """The uncertainty of `drink`; `amounts` are units of each candidate of `problem`."""
    error = volume_error_pct(
        drink.finished.abv_pct, drink.finished.sugar_g_100ml, drink.finished.acid_g_100ml
    )
    own = technique in bar.weighed or technique in bar.melt_factors
    spread = None if own or float(drink.melt_ml) == 0 else _spread(problem, amounts, technique)
    return Uncertainty(float(error), own, spread)


def _spread(problem: Problem, amounts: Floats, name: str) -> MeltSpread:
    technique = TECHNIQUES[name]

    def finished(factor: float) -> Finished:
        return mixed(replace(problem, curve=problem.curve.scaled(factor)), amounts).finished

    return MeltSpread(technique, finished(technique.spread_low), finished(technique.spread_high))
