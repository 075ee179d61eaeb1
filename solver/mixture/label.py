"""From a label to grams: how much water makes the stated volume."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from solver.mixture.acids import mass_and_volume
from solver.mixture.blend import Floats, volume_ml
from solver.mixture.ethanol import ETHANOL_G_ML

SOLIDS_ML_G = 0.62
"""Room of dissolved matter of unknown kind: sugars take 0.61-0.62 mL/g (CRC Handbook 102nd ed.)."""

FATTEST_ML_G = 1.3
LIGHTEST_MISFIT = 0.015
"""A measured density may lie this far below what sugar and acid alone imply, and is then ignored:
household-portion densities are no better."""

ROUNDING_ML = 3e-6
"""Pure ethanol by its rounded density is this little more than its volume."""


class ImpossibleLabel(ValueError):  # noqa: N818 - named for what it says, as BadInput is
    """No mixture has these figures together."""


def from_label(
    *,
    abv_pct: float = 0.0,
    sugar_g_100ml: float = 0.0,
    acid_g_100ml: float = 0.0,
    acids: Mapping[str, float] | None = None,
    density_g_ml: float | None = None,
    other_g_100ml: float | None = None,
) -> Floats:
    """Composition of one millilitre, shape (7,).

    The water is what makes the volume exactly 1 mL. A measured density adds the mass of matter
    that is neither sugar nor acid; together with the mass of that matter it gives its volume.
    No other matter, or 0, means that its mass is not stated: a density then tells it.
    Raises `ImpossibleLabel` if no water is left, or if density and the rest contradict each other.
    """
    acid_g, acid_ml = mass_and_volume(acid_g_100ml / 100, acids or {"citric": 1.0})
    known = np.array(
        [
            ETHANOL_G_ML * abv_pct / 100,
            0.0,
            sugar_g_100ml / 100,
            acid_g_100ml / 100,
            acid_g,
            acid_ml,
            1.0,
        ]
    )
    other_g = (other_g_100ml or 0.0) / 100
    if density_g_ml is None:
        return _filled(known, other_g, SOLIDS_ML_G * other_g)
    if other_g > 0:
        return _with_other_volume(known, other_g, density_g_ml)
    return _with_other_mass(known, density_g_ml)


def from_dry(
    *,
    sugar_g_100g: float = 0.0,
    acid_g_100g: float = 0.0,
    acids: Mapping[str, float] | None = None,
    other_g_100g: float = 0.0,
) -> Floats:
    """Composition of one gram of a dry good, shape (7,); its label volume is its dissolved room.

    What is neither sugar, acid nor `other` counts as other. Raises `ImpossibleLabel` above 100 g.
    """
    acid_g, acid_ml = mass_and_volume(acid_g_100g / 100, acids or {"citric": 1.0})
    sugar_g = sugar_g_100g / 100
    rest = 1.0 - sugar_g - acid_g
    if rest < -1e-3 or rest + 1e-3 < other_g_100g / 100:
        message = "sugar, acid and other weigh more than there is"
        raise ImpossibleLabel(message)
    rest = max(0.0, rest)
    solids_ml = acid_ml + SOLIDS_ML_G * rest
    dissolved_ml = solids_ml + SOLIDS_ML_G * sugar_g
    return np.array([0.0, 0.0, sugar_g, acid_g_100g / 100, acid_g + rest, solids_ml, dissolved_ml])


def _filled(known: Floats, other_g: float, other_ml: float) -> Floats:
    """Add matter, then the water that makes the volume 1 mL: bisection, volume grows with water."""
    composition: Floats = known + np.array([0, 0, 0, 0, other_g, other_ml, 0])
    low, high = 0.0, 1.1
    if volume_ml(composition) > 1.0 + ROUNDING_ML:
        message = "alcohol, sugar and acid leave no room for water in this volume"
        raise ImpossibleLabel(message)
    for _ in range(60):
        composition[1] = (low + high) / 2
        if volume_ml(composition) < 1.0:
            low = composition[1]
        else:
            high = composition[1]
    return composition


def _with_other_volume(known: Floats, other_g: float, density_g_ml: float) -> Floats:
    water = density_g_ml - known[0] - known[2] - known[4] - other_g
    if water < 0:
        message = "alcohol, sugar, acid and the rest weigh more than the density allows"
        raise ImpossibleLabel(message)
    composition: Floats = known + np.array([0, water, 0, 0, other_g, 0, 0])
    other_ml = 1.0 - float(volume_ml(composition))
    if not 0.3 <= other_ml / other_g <= FATTEST_ML_G:
        message = (
            f"density and dry matter contradict each other: the rest would take "
            f"{other_ml / other_g:.2f} mL a gram"
        )
        raise ImpossibleLabel(message)
    composition[5] += other_ml
    return composition


def _with_other_mass(known: Floats, density_g_ml: float) -> Floats:
    plain = _filled(known, 0.0, 0.0)
    missing = density_g_ml - _mass_g(plain)
    if missing < -LIGHTEST_MISFIT * density_g_ml:
        message = f"density {density_g_ml:.3f} g/mL is lighter than the stated sugar and acid allow"
        raise ImpossibleLabel(message)
    if missing <= 0:
        return plain
    # The mass is given, so every gram of other matter replaces a gram of water and saves room.
    low, high = 0.0, density_g_ml - _mass_g(known)
    if volume_ml(_swapped(known, high, 0.0)) > 1.0:
        message = f"density {density_g_ml:.3f} g/mL is more than dissolved matter can weigh"
        raise ImpossibleLabel(message)
    without_water = high
    for _ in range(60):
        other_g = (low + high) / 2
        if volume_ml(_swapped(known, other_g, without_water - other_g)) > 1.0:
            low = other_g
        else:
            high = other_g
    return _swapped(known, high, without_water - high)


def _mass_g(composition: Floats) -> float:
    return float(composition[[0, 1, 2, 4]].sum())


def _swapped(known: Floats, other_g: float, water_g: float) -> Floats:
    added: Floats = np.array([0, water_g, 0, 0, other_g, SOLIDS_ML_G * other_g, 0])
    swapped: Floats = known + added
    return swapped
