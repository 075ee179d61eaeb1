"""What is not certain about a drink: how much ice melts, and how good the volume is."""

from __future__ import annotations

from dataclasses import dataclass, replace

from solver.mixture.blend import Finished, volume_error_pct
from solver.mixture.drink import Drink
from solver.mixture.melt import TECHNIQUES, Technique
from solver.pantry.bar import Bar
from solver.search.exact import mixed
from solver.search.problem import Floats, Problem


@dataclass(frozen=True, eq=False)
class MeltSpread:
    """The drink where the ice melts as little (`least`) or as much (`most`) as practice allows."""

    technique: Technique
    least: Finished
    most: Finished


@dataclass(frozen=True, eq=False)
class Uncertainty:
    """`volume_error_pct` bounds the error of the volume model, per cent.

    `melt` is None where no ice melts, and where the bar weighed its own drink or set its own
    factor (`own_melt`): how far its hands stray from that, nobody has measured.
    """

    volume_error_pct: float
    own_melt: bool
    melt: MeltSpread | None


def uncertainty(
    problem: Problem, amounts: Floats, drink: Drink, technique: str, bar: Bar
) -> Uncertainty:
    """What is not certain about the `drink` of `amounts`, units of each candidate of `problem`."""
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
