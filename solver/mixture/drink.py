"""A drink: pours of the first stage meet the ice, what tops it does not."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from solver.mixture.blend import ETHANOL, LABEL, WATER, Finished, Floats, measure
from solver.mixture.ethanol import ETHANOL_G_ML, WATER_G_ML
from solver.mixture.melt import Curve


@dataclass(frozen=True)
class Drink:
    """Drinks before ice (everything poured) and in the glass; arrays of shape (...)."""

    before: Finished
    finished: Finished
    melt_ml: Floats


def melt_ml(first: Floats, curve: Curve) -> Floats:
    """Millilitres of melt into first-stage compositions of shape (..., 7)."""
    poured = first[..., LABEL]
    ethanol_ml = first[..., ETHANOL] / ETHANOL_G_ML
    strength = np.divide(ethanol_ml, poured, out=np.zeros(np.shape(poured)), where=poured > 0)
    return poured * curve.fraction(strength)


def finish(first: Floats, top: Floats | None, curve: Curve) -> Drink:
    """Finish drinks from the compositions of their two stages, each of shape (..., 7).

    The melt follows from the first stage alone, by label volume, as the published curves define it.
    """
    poured = first if top is None else first + top
    melt = melt_ml(first, curve)
    iced = poured.copy()
    iced[..., WATER] += melt * WATER_G_ML
    return Drink(measure(poured), measure(iced), melt)
