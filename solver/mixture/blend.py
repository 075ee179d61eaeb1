"""Blending by mass: what a mixture measures.

A composition is an array whose last axis is `COLUMNS`. It is additive over pours; the volume is
not: V = (ethanol + water) / ρ(OIML) + sugar's room (ICUMSA) + solids' room, all at 20 °C. The model
is exact for ethanol in water and for sugar in water; `volume_error_pct` bounds its error with both.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt

from solver.mixture.ethanol import ETHANOL_G_ML, specific_volume_ml_g
from solver.mixture.numeric import Floats, ratio
from solver.mixture.sucrose import volume_share_ml_g

COLUMNS: Final = (
    "ethanol_g", "water_g", "sugar_g", "acid_g", "solids_g", "solids_ml", "label_ml",
)  # fmt: skip
"""acid_g is titratable acid as anhydrous citric acid: a tag, not a mass. solids_g and solids_ml are
mass and room of all that is dissolved and is neither ethanol, water nor sugar, the acids' real mass
included. label_ml is the volume as poured; for a dry good, the room that it takes dissolved."""

ETHANOL, WATER, SUGAR, ACID, SOLIDS, SOLIDS_ML, LABEL = range(len(COLUMNS))


@dataclass(frozen=True, eq=False)
class Finished:
    """What mixtures measure at 20 °C; every field has the shape of the mixtures, (...).

    Concentrations are 0 where there is no volume. Acid is titratable, as anhydrous citric acid.
    """

    volume_ml: Floats
    abv_pct: Floats
    sugar_g_100ml: Floats
    acid_g_100ml: Floats
    ethanol_g: Floats
    mass_g: Floats
    density_g_ml: Floats


def volume_ml(composition: Floats) -> Floats:
    """Volume at 20 °C of compositions of shape (..., columns), in mL, shape (...)."""
    ethanol, water, sugar = (composition[..., k] for k in (ETHANOL, WATER, SUGAR))
    wet, sweet = ethanol + water, sugar + water
    volume: Floats = (
        wet * specific_volume_ml_g(ratio(ethanol, wet))
        + sweet * volume_share_ml_g(ratio(sugar, sweet))
        + composition[..., SOLIDS_ML]
    )
    return volume


def mass_g(composition: Floats) -> Floats:
    """Mass of compositions of shape (..., columns), in g, shape (...)."""
    mass: Floats = (
        composition[..., ETHANOL]
        + composition[..., WATER]
        + composition[..., SUGAR]
        + composition[..., SOLIDS]
    )
    return mass


def measure(composition: Floats) -> Finished:
    """Measure compositions of shape (..., columns); the result shares no memory with them."""
    composition = np.asarray(composition, dtype=float)
    volume = volume_ml(composition)
    mass = mass_g(composition)
    ethanol = composition[..., ETHANOL].copy()
    return Finished(
        volume_ml=volume,
        abv_pct=ratio(100.0 / ETHANOL_G_ML * ethanol, volume),
        sugar_g_100ml=ratio(100.0 * composition[..., SUGAR], volume),
        acid_g_100ml=ratio(100.0 * composition[..., ACID], volume),
        ethanol_g=ethanol,
        mass_g=mass,
        density_g_ml=ratio(mass, volume),
    )


ACID_ROOM_ERROR_ML_G = 0.06
"""What the room of a gram of acid, counted as citric, may be off: most acids are taken to need as
much as citric acid, 0.597 mL/g; tartaric acid needs 0.553 (densities of solutions, CRC Handbook,
from memory), and a gram of it counts as 0.853 g only."""


def volume_error_pct(
    abv_pct: npt.ArrayLike, sugar_g_100ml: npt.ArrayLike, acid_g_100ml: npt.ArrayLike
) -> Floats:
    """Bound on the model's error in the volume of a given mass of drink, per cent.

    An estimate: our own envelope of three published mixing rules over 0-45 % vol and 0-40 g/100 mL,
    since no measured table of ethanol, sugar and water was to be had. The true volume is rather
    larger than smaller. Where the ingredients' own volumes are given, as on labels, most of the
    error cancels. The acids' own room is counted beside it, see `ACID_ROOM_ERROR_ML_G`.
    """
    abv = np.asarray(abv_pct, dtype=float)
    sugar = np.asarray(sugar_g_100ml, dtype=float)
    acid = np.asarray(acid_g_100ml, dtype=float)
    mixing: Floats = 0.02 + sugar * np.maximum(0.012 * np.minimum(1.0, abv / 10), 0.0009 * abv)
    return mixing + ACID_ROOM_ERROR_ML_G * acid
