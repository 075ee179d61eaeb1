"""A batch: grams of everything in the pan.

A batch is an array whose last axis is `COLUMNS`. All columns are grams and add up to the mass,
except `other_ml`, which is the room of the other dissolved matter and travels with it.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import numpy as np
import numpy.typing as npt

from solver.mixture.acids import ACIDS
from solver.mixture.blend import Finished, measure
from solver.mixture.numeric import Floats, ratio

ACID_NAMES: Final = tuple(ACIDS)
COLUMNS: Final = (
    "ethanol_g", "water_g", "sugar_g", "other_g", "insoluble_g", "other_ml",
    *(f"{name}_g" for name in ACID_NAMES),
)  # fmt: skip
"""other_g is dissolved matter that is neither sugar nor acid; the acids are their real mass."""

ETHANOL, WATER, SUGAR, OTHER, INSOLUBLE, OTHER_ML = range(6)
ACID_COLUMNS: Final = slice(6, 6 + len(ACID_NAMES))

INSOLUBLE_ML_G: Final = 0.65
"""Millilitres of a gram that does not dissolve; cellulose has 1.5 g/mL, from memory."""
ACID_READING: Final = 0.81
"""Brix that a refractometer shows for one per cent of citric acid: juice makers add 0.19 for each
per cent of acid to what they read, from memory."""

_CITRIC_EQUIVALENT: Final = np.array([acid.citric_equivalent for acid in ACIDS.values()])
_ACID_ML_G: Final = np.array([acid.apparent_volume_ml_g for acid in ACIDS.values()])


def from_composition(
    composition: Floats, acids: Mapping[str, float], insoluble_g: float = 0.0
) -> Floats:
    """The batch that a composition of `solver.mixture`, shape (columns,), is.

    `acids` are the shares of its titratable acid by name; `insoluble_g` is the part of its solids
    that does not dissolve.
    """
    ethanol, water, sugar, acid, solids, solids_ml, _ = (float(x) for x in composition)
    batch = np.zeros(len(COLUMNS))
    batch[ETHANOL], batch[WATER], batch[SUGAR] = ethanol, water, sugar
    if acid:
        for name, share in acids.items():
            at = ACID_COLUMNS.start + ACID_NAMES.index(name)
            batch[at] = share * acid / ACIDS[name].citric_equivalent
    acid_g, acid_ml = float(batch[ACID_COLUMNS].sum()), float(batch[ACID_COLUMNS] @ _ACID_ML_G)
    rest = max(0.0, solids - acid_g)
    batch[INSOLUBLE] = min(insoluble_g, rest)
    batch[OTHER] = rest - batch[INSOLUBLE]
    batch[OTHER_ML] = max(0.0, solids_ml - acid_ml) * (batch[OTHER] / rest if rest else 0.0)
    return batch


def composition(batch: Floats) -> Floats:
    """Compositions of `solver.mixture`, shape (..., columns), of batches (..., columns)."""
    acids = batch[..., ACID_COLUMNS]
    solids = acids.sum(axis=-1) + batch[..., OTHER] + batch[..., INSOLUBLE]
    room = acids @ _ACID_ML_G + batch[..., OTHER_ML] + INSOLUBLE_ML_G * batch[..., INSOLUBLE]
    parts = [
        batch[..., ETHANOL],
        batch[..., WATER],
        batch[..., SUGAR],
        titratable_g(batch),
        solids,
        room,
        np.zeros_like(solids),
    ]
    blend = np.stack(parts, axis=-1)
    blend[..., -1] = measure(blend).volume_ml
    return blend


def measured(batch: Floats) -> Finished:
    """What batches measure at 20 °C."""
    return measure(composition(batch))


def mass_g(batch: Floats) -> Floats:
    """Mass of batches in g, shape (...)."""
    mass: Floats = batch.sum(axis=-1) - batch[..., OTHER_ML]
    return mass


def titratable_g(batch: Floats) -> Floats:
    """Titratable acid of batches in g, as anhydrous citric acid."""
    acid: Floats = batch[..., ACID_COLUMNS] @ _CITRIC_EQUIVALENT
    return acid


def brix(batch: Floats) -> Floats:
    """What a refractometer at 20 °C shows for batches without alcohol, in Brix.

    Sugar and other dissolved matter count in full, acid with 0.81; what does not dissolve, not.
    """
    acids = batch[..., ACID_COLUMNS].sum(axis=-1)
    shown = batch[..., SUGAR] + batch[..., OTHER] + ACID_READING * acids
    return 100.0 * ratio(shown, liquid_g(batch))


def liquid_g(batch: Floats) -> Floats:
    """Mass of what is dissolved or liquid, in g."""
    liquid: Floats = mass_g(batch) - batch[..., INSOLUBLE]
    return liquid


def acid_shares(batch: npt.ArrayLike) -> dict[str, float]:
    """Shares of the titratable acid of one batch by name; none where there is no acid."""
    grams = np.asarray(batch, dtype=float)[ACID_COLUMNS] * _CITRIC_EQUIVALENT
    total = float(grams.sum())
    if total <= 0:
        return {}
    return {name: float(g) / total for name, g in zip(ACID_NAMES, grams, strict=True) if g > 0}
