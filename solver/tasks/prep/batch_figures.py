"""The figures of a finished batch, each with its standard deviation."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from solver.kitchen.batch import brix, composition, measured
from solver.kitchen.cooking import Cooked, Cooking
from solver.kitchen.reconcile import Fit
from solver.mixture.blend import volume_error_pct
from solver.mixture.keeping import delle_units, water_activity
from solver.mixture.numeric import Floats

TWICE = 2.0
"""How many standard deviations are said: nineteen times in twenty the truth lies within two."""


@dataclass(frozen=True)
class Estimate:
    """A figure and its standard deviation."""

    value: float
    sd: float

    @property
    def within(self) -> float:
        """Two standard deviations, as shown after ±."""
        return TWICE * self.sd


@dataclass(frozen=True)
class Figures:
    """The figures of a batch at 20 °C. Acid is titratable, as citric; Brix only without alcohol."""

    mass_g: Estimate
    volume_ml: Estimate
    density_g_ml: Estimate
    brix: Estimate
    sugar_g_100ml: Estimate
    acid_g_100ml: Estimate
    abv_pct: Estimate
    activity: Estimate
    delle: Estimate


def figure_columns(outcome: Cooked) -> Floats:
    """The figures of `Figures`, in their order, of an array of batches; shape (guesses,
    figures)."""
    blend = composition(outcome.batch)
    done = measured(outcome.batch)
    return np.stack(
        [
            done.mass_g,
            done.volume_ml,
            done.density_g_ml,
            brix(outcome.batch),
            done.sugar_g_100ml,
            done.acid_g_100ml,
            done.abv_pct,
            water_activity(blend),
            delle_units(done.sugar_g_100ml, done.abv_pct),
        ],
        axis=-1,
    )


def figures_of(cooking: Cooking, fit: Fit) -> Figures:
    """The figures of the best fit, each with its standard deviation."""
    values, sds = fit.figures(cooking, figure_columns)
    known = [Estimate(float(v), float(s)) for v, s in zip(values, sds, strict=True)]
    figures = Figures(*known)
    # What the volume of alcohol, sugar and acid together is not known to comes on top.
    error_pct = volume_error_pct(
        figures.abv_pct.value, figures.sugar_g_100ml.value, figures.acid_g_100ml.value
    )
    share = float(error_pct) / 100 / TWICE
    volume = figures.volume_ml
    more = Estimate(volume.value, math.hypot(volume.sd, share * volume.value))
    return Figures(**{**vars(figures), "volume_ml": more})
