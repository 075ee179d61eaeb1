"""A drink: pours of the first stage meet the ice, what tops it does not."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from solver.mixture.blend import ETHANOL, LABEL, WATER, Finished, measure, volume_ml
from solver.mixture.ethanol import ETHANOL_G_ML, WATER_G_ML
from solver.mixture.melt import Curve
from solver.mixture.numeric import Floats, ratio


@dataclass(frozen=True, eq=False)
class MixedDrink:
    """Drinks before ice (all that is poured) and in the glass; arrays of shape (...).

    `dilution_pct` is the melt over the poured volume that met the ice, the trade's dilution: 0
    where nothing did. A topped drink is watered by less than that in all.
    """

    before: Finished
    finished: Finished
    melt_ml: Floats
    dilution_pct: Floats


def finish(
    first: Floats, second: Floats | None, curve: Curve, melt_factor: npt.ArrayLike = 1.0
) -> MixedDrink:
    """Finish drinks from the compositions of their two stages, each of shape (..., columns).

    The melt follows from the first stage alone, by label volume and label strength, as the
    published curves define it; `second` is what tops the drink, if anything does. `melt_factor` is
    how many times the melt of the curve there is, of shape (...).
    """
    first = np.asarray(first, dtype=float)
    poured = first if second is None else first + second
    label_ml = first[..., LABEL]
    fraction = _melt_fraction(first, curve, melt_factor)
    melt_ml = label_ml * fraction
    dilution_pct = np.where(label_ml > 0, 100.0 * fraction, 0.0)
    return MixedDrink(measure(poured), measure(_watered(poured, melt_ml)), melt_ml, dilution_pct)


def finished_volume_ml(
    first: Floats, second: Floats | None, curve: Curve, melt_factor: npt.ArrayLike = 1.0
) -> Floats:
    """The volumes in the glass that `finish` tells, of shape (...), without all else of it.

    A search asks that of millions of drinks: everything else it wants to know of one follows from
    this and from what was poured.
    """
    first = np.asarray(first, dtype=float)
    poured = first if second is None else first + second
    melt_ml = first[..., LABEL] * _melt_fraction(first, curve, melt_factor)
    return volume_ml(_watered(poured, melt_ml))


def _melt_fraction(first: Floats, curve: Curve, melt_factor: npt.ArrayLike) -> Floats:
    """Melt over the volume that met the ice, of shape (...)."""
    strength = ratio(first[..., ETHANOL] / ETHANOL_G_ML, first[..., LABEL])
    return np.asarray(melt_factor) * curve.fraction(strength)


def _watered(poured: Floats, melt_ml: Floats) -> Floats:
    """Compositions with the melt in them."""
    iced = poured.copy()
    iced[..., WATER] += melt_ml * WATER_G_ML
    return iced
