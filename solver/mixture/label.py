"""From a label to grams: how much water makes the stated volume."""

from __future__ import annotations

import math
from collections.abc import Mapping
from functools import lru_cache
from typing import Final

import numpy as np

from solver.mixture.acids import mass_and_volume
from solver.mixture.blend import LABEL, SOLIDS, SOLIDS_ML, WATER, mass_g, volume_ml
from solver.mixture.errors import ImpossibleLabel
from solver.mixture.ethanol import ETHANOL_G_ML, WATER_G_ML
from solver.mixture.numeric import Floats, root

SOLIDS_ML_G: Final = 0.62
"""Room of dissolved matter of unknown kind: sugars take 0.61-0.62 mL/g (CRC Handbook 102nd ed.)."""

LEAST_ML_G: Final = 0.3
MOST_ML_G: Final = 1.3
"""Room of matter that is neither sugar nor acid, where density and mass imply it: salt takes about
0.3 mL/g, fat 1.1 mL/g (from memory); beyond lies a contradiction."""

LIGHTEST_MISFIT: Final = 0.015
"""A measured density may lie this share below what sugar and acid alone imply and is then not used:
densities from the weight of a household portion are no better (estimate)."""

OVERFULL_ML: Final = 2e-6
"""Pure ethanol fills its millilitre by this much too much: formula and definition of its density
differ by 1.1e-6."""

CITRIC: Final[Mapping[str, float]] = {"citric": 1.0}


def from_label(
    *,
    abv_pct: float = 0.0,
    sugar_g_100ml: float = 0.0,
    acid_g_100ml: float = 0.0,
    acids: Mapping[str, float] | None = None,
    density_g_ml: float | None = None,
    other_g_100ml: float | None = None,
) -> Floats:
    """Composition of one millilitre at 20 °C, shape (columns,).

    The water is what makes the volume exactly 1 mL. `acid_g_100ml` is titratable acid as anhydrous
    citric acid, `acids` the shares of it (default: all citric). `other_g_100ml` is matter that is
    neither sugar nor acid, taken at 0.62 mL/g; None, or 0, means that it is not stated. A measured
    density says more: alone, it gives the mass of that matter; beside that mass, it gives its
    volume. Up to 1.5 % below what alcohol, sugar and acid alone imply, it is not used.

    Raises:
        ImpossibleLabel: no water is left, or density and the rest contradict each other.
        UnknownAcid: an acid that is not in the table.
        ValueError: shares of acids that do not add up to 1.
    """
    shares = tuple((CITRIC if acids is None else acids).items())
    figures = abv_pct, sugar_g_100ml, acid_g_100ml, shares, density_g_ml, other_g_100ml
    return _from_figures(*figures).copy()


@lru_cache(maxsize=4096)
def _from_figures(
    abv_pct: float,
    sugar_g_100ml: float,
    acid_g_100ml: float,
    acids: tuple[tuple[str, float], ...],
    density_g_ml: float | None,
    other_g_100ml: float | None,
) -> Floats:
    """The same; of one label it is asked for again and again, and takes a root to find."""
    _check(abv_pct, sugar_g_100ml, acid_g_100ml, density_g_ml, other_g_100ml)
    acid_g, acid_ml = mass_and_volume(acid_g_100ml / 100, dict(acids))
    ethanol_g, sugar_g = ETHANOL_G_ML * abv_pct / 100, sugar_g_100ml / 100
    known = np.array([ethanol_g, 0.0, sugar_g, acid_g_100ml / 100, acid_g, acid_ml, 1.0])
    other_g = (other_g_100ml or 0.0) / 100
    if density_g_ml is None:
        return _filled(_with_other(known, other_g, SOLIDS_ML_G * other_g))
    if other_g > 0:
        return _other_volume_from(density_g_ml, known, other_g)
    return _other_mass_from(density_g_ml, known)


def from_dry(
    *,
    sugar_g_100g: float = 0.0,
    acid_g_100g: float = 0.0,
    acids: Mapping[str, float] | None = None,
    other_g_100g: float = 0.0,
    water_g_100g: float = 0.0,
) -> Floats:
    """Composition of one gram, shape (columns,); its label volume is the room it takes dissolved.

    What is neither sugar, acid nor water counts as other matter, stated or not; sugar and other
    take 0.62 mL/g.

    Raises:
        ImpossibleLabel: the figures add up to more than 100 g.
        UnknownAcid: an acid that is not in the table.
        ValueError: shares of acids that do not add up to 1.
    """
    _check(sugar_g_100g, acid_g_100g, other_g_100g, water_g_100g)
    acid_g, acid_ml = mass_and_volume(acid_g_100g / 100, CITRIC if acids is None else acids)
    sugar_g, water_g = sugar_g_100g / 100, water_g_100g / 100
    rest_g = 1.0 - sugar_g - acid_g - water_g
    if rest_g < -1e-3 or rest_g + 1e-3 < other_g_100g / 100:
        message = "sugar, acid, water and other weigh more than there is"
        raise ImpossibleLabel(message)
    rest_g = max(0.0, rest_g)
    solids_ml = acid_ml + SOLIDS_ML_G * rest_g
    dissolved_ml = solids_ml + SOLIDS_ML_G * sugar_g + water_g / WATER_G_ML
    solids_g = acid_g + rest_g
    return np.array([0.0, water_g, sugar_g, acid_g_100g / 100, solids_g, solids_ml, dissolved_ml])


def _check(*figures: float | None) -> None:
    """A figure on a label is a number, and not below zero."""
    for figure in figures:
        if figure is not None and not 0 <= figure < math.inf:
            message = f"{figure:g} is no figure that a label can have"
            raise ImpossibleLabel(message)


def _with_other(known: Floats, other_g: float, other_ml: float) -> Floats:
    composition = known.copy()
    composition[SOLIDS] += other_g
    composition[SOLIDS_ML] += other_ml
    return composition


def _with_water(dry: Floats, water_g: float) -> Floats:
    composition = dry.copy()
    composition[WATER] = water_g
    return composition


def _filled(dry: Floats) -> Floats:
    """Add the water that makes the volume what the label says."""

    def overfull_ml(water_g: float) -> float:
        return float(volume_ml(_with_water(dry, water_g))) - float(dry[LABEL])

    without_water = overfull_ml(0.0)
    if without_water > OVERFULL_ML:
        message = (
            "alcohol, sugar, acid and the rest leave no room for water: without any they already "
            f"take {100 * (1 + without_water):.1f} mL of 100"
        )
        raise ImpossibleLabel(message)
    return _with_water(dry, root(overfull_ml, 0.0, 2.0) if without_water < 0 else 0.0)


def _other_volume_from(density_g_ml: float, known: Floats, other_g: float) -> Floats:
    """Water from the balance of masses; other matter takes what room is left."""
    water_g = density_g_ml - float(mass_g(known)) - other_g
    if water_g < 0:
        message = (
            f"alcohol, sugar, acid and the rest weigh more than a density of {density_g_ml:g} g/mL "
            "allows"
        )
        raise ImpossibleLabel(message)
    wet = _with_water(known, water_g)
    other_ml = 1.0 - float(volume_ml(wet))
    if not LEAST_ML_G <= other_ml / other_g <= MOST_ML_G:
        message = (
            "density and dry matter contradict each other: the rest would take "
            f"{other_ml / other_g:.2f} mL a gram, not {LEAST_ML_G:g} to {MOST_ML_G:g}"
        )
        raise ImpossibleLabel(message)
    return _with_other(wet, other_g, other_ml)


def _other_mass_from(density_g_ml: float, known: Floats) -> Floats:
    """Other matter is what the density asks for beyond alcohol, sugar, acid and water."""
    plain = _filled(known)
    missing = density_g_ml - float(mass_g(plain))
    if missing < -LIGHTEST_MISFIT * density_g_ml:
        message = (
            f"a density of {density_g_ml:g} g/mL is lighter than alcohol, sugar, acid and water "
            f"make it, {float(mass_g(plain)):.3f} g/mL"
        )
        raise ImpossibleLabel(message)
    if missing <= 0:
        return plain
    dry_g = density_g_ml - float(mass_g(known))

    def overfull_ml(water_g: float) -> float:
        wet = _with_water(known, water_g)
        return float(volume_ml(wet)) + SOLIDS_ML_G * (dry_g - water_g) - 1.0

    if overfull_ml(0.0) > 0:
        message = f"a density of {density_g_ml:g} g/mL is more than dissolved matter can weigh"
        raise ImpossibleLabel(message)
    water_g = root(overfull_ml, 0.0, dry_g)
    other_g = dry_g - water_g
    return _with_other(_with_water(known, water_g), other_g, SOLIDS_ML_G * other_g)
