"""Cold mixtures: where ice begins to form in them, how much of it, and the room that they take.

A mixture is in balance with ice where its water activity is that of ice (`keeping`): ethanol from
the freezing points of its solutions, CRC Handbook of Chemistry and Physics, 102nd ed. (2021), sugar
and acid by Norrish and Ross. For sugar and water this comes to the published freezing points within
0.2 °C up to 42 % by mass. Two published tables of ethanol and water differ by up to 1.4 °C, and no
measurement with both ethanol and sugar was to be had: `ERROR_CELSIUS` is our own estimate.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from solver.mixture import ethanol, sucrose
from solver.mixture.blend import ETHANOL, SOLIDS_ML, SUGAR, WATER, mass_g
from solver.mixture.keeping import activity_at_freezing, water_activity
from solver.mixture.numeric import Floats, ratio, root

ERROR_CELSIUS: Final = 1.5
"""How far the freezing point of a mixture with alcohol may be off."""
COLDEST_CELSIUS: Final = ethanol.COLDEST_CELSIUS
WARMEST_CELSIUS: Final = 20.0
"""What is cold here: the densities of ethanol and water are known down to there."""
ICE_G_ML: Final = 0.917
"""Density of ice: IAPWS R10-06, 0.9167 at 0 °C and 0.9193 at -18 °C."""
_LOWEST_CELSIUS: Final = -60.0


def onset_celsius(composition: Floats) -> float:
    """Temperature in °C below which ice forms in a composition, shape (7,); 0 for plain water.

    Not below -60 °C, where it is known of nothing.
    """
    activity = float(water_activity(composition))
    return -root(
        lambda depression: activity - float(activity_at_freezing(depression)),
        0.0,
        -_LOWEST_CELSIUS,
    )


@dataclass(frozen=True, eq=False)
class Chilled:
    """A composition at a temperature in °C: what of it is ice, and the room of ice and liquid."""

    celsius: float
    onset_celsius: float
    ice_g: float
    ice_share: float
    volume_ml: float


def chilled(composition: Floats, celsius: float) -> Chilled:
    """A composition, shape (7,), left at a temperature until nothing changes any more.

    `ice_share` is of its mass. Ice is pure water; what stays liquid gets stronger by it.

    Raises ValueError outside -20..+20 °C.
    """
    if not COLDEST_CELSIUS <= celsius <= WARMEST_CELSIUS:
        message = (
            f"cold mixtures are known from {COLDEST_CELSIUS:g} to {WARMEST_CELSIUS:g} °C, "
            f"not at {celsius:g}"
        )
        raise ValueError(message)
    ice_g = _ice_g(composition, celsius)
    liquid = composition.copy()
    liquid[WATER] -= ice_g
    return Chilled(
        celsius=celsius,
        onset_celsius=onset_celsius(composition),
        ice_g=ice_g,
        ice_share=float(ratio(np.asarray(ice_g), mass_g(composition))),
        volume_ml=_liquid_ml(liquid, celsius) + ice_g / ICE_G_ML,
    )


def _ice_g(composition: Floats, celsius: float) -> float:
    """Grams of water that freeze, until what is left has the activity of ice."""
    water_g = float(composition[WATER])
    if celsius >= 0.0 or water_g <= 0.0:
        return 0.0
    activity = float(activity_at_freezing(-celsius))

    def surplus(liquid_g: float) -> float:
        left = composition.copy()
        left[WATER] = liquid_g
        return float(water_activity(left)) - activity

    if surplus(water_g) <= 0.0:
        return 0.0
    return water_g - root(surplus, 0.0, water_g)


def _liquid_ml(composition: Floats, celsius: float) -> float:
    """Volume of a liquid; sugar takes the room that it has at 0 °C where it is colder."""
    wet = composition[ETHANOL] + composition[WATER]
    sweet = composition[SUGAR] + composition[WATER]
    volume = float(composition[SOLIDS_ML])
    if wet > 0:
        volume += 1000.0 * float(wet / ethanol.density_kg_m3(composition[ETHANOL] / wet, celsius))
    if composition[SUGAR] > 0:
        warm = max(celsius, sucrose.COLDEST_CELSIUS)
        whole = sweet / sucrose.density_kg_m3(composition[SUGAR] / sweet, warm)
        volume += 1000.0 * float(whole - composition[WATER] / sucrose.water_kg_m3(warm))
    return volume
