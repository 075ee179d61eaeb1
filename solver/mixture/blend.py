"""Blending by mass: what a mixture measures.

A composition is an array whose last axis is `COLUMNS`. It is additive over pours; the volume is
not: V = (ethanol + water) / ρ(OIML) + sugar's room (ICUMSA) + solids' room, all at 20 °C.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt

from solver.mixture.ethanol import ETHANOL_G_ML, specific_volume_ml_g
from solver.mixture.sucrose import volume_share_ml_g

Floats = npt.NDArray[np.float64]

COLUMNS: Final = (
    "ethanol_g", "water_g", "sugar_g", "acid_g", "solids_g", "solids_ml", "label_ml",
)  # fmt: skip
"""acid_g is titratable acid as citric, a tag; solids are all else that is dissolved, the acids'
real mass included; label_ml is the volume as poured."""

ETHANOL, WATER, SUGAR, ACID, SOLIDS, SOLIDS_ML, LABEL = range(7)


@dataclass(frozen=True)
class Finished:
    """What mixtures measure at 20 °C; every field has the shape of the mixtures, (...)."""

    volume_ml: Floats
    abv_pct: Floats
    sugar_g_100ml: Floats
    acid_g_100ml: Floats
    ethanol_g: Floats
    mass_g: Floats


def _ratio(above: Floats, below: Floats) -> Floats:
    """above / below, 0 where there is nothing below."""
    return np.divide(above, below, out=np.zeros(np.shape(below)), where=below > 0)


def volume_ml(composition: Floats) -> Floats:
    """Volume at 20 °C of compositions of shape (..., 7), in mL, shape (...)."""
    ethanol, water, sugar = (composition[..., k] for k in (ETHANOL, WATER, SUGAR))
    wet, sweet = ethanol + water, sugar + water
    return (
        wet * specific_volume_ml_g(_ratio(ethanol, wet))
        + sweet * volume_share_ml_g(_ratio(sugar, sweet))
        + composition[..., SOLIDS_ML]
    )


def measure(composition: Floats) -> Finished:
    """Measure compositions of shape (..., 7)."""
    volume = volume_ml(composition)
    ethanol = composition[..., ETHANOL]
    return Finished(
        volume_ml=volume,
        abv_pct=_ratio(100.0 * ethanol / ETHANOL_G_ML, volume),
        sugar_g_100ml=_ratio(100.0 * composition[..., SUGAR], volume),
        acid_g_100ml=_ratio(100.0 * composition[..., ACID], volume),
        ethanol_g=ethanol,
        mass_g=(
            ethanol + composition[..., WATER] + composition[..., SUGAR] + composition[..., SOLIDS]
        ),
    )


def volume_error_pct(abv_pct: float, sugar_g_100ml: float) -> float:
    """Bound on the model's error in volume, per cent.

    Our own envelope of three published mixing rules for ethanol, sugar and water; no measured
    ternary table was to be had.
    """
    return 0.02 + sugar_g_100ml * max(0.012 * min(1.0, abv_pct / 10), 0.0009 * abv_pct)
