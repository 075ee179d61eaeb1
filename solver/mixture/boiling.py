"""Sugar and water on the boil: how hot it gets tells how strong it is.

Activity of water in sucrose solutions: Starzak and Peacock, Zuckerindustrie 122:380 (1997), the
form as recalled. Vapour pressure of water: IAPWS SR1-86(1992), coefficients from memory; it has
water boil at 99.97 °C.
"""

from __future__ import annotations

from typing import Final

import numpy as np
import numpy.typing as npt

from solver.mixture.keeping import SOLUTES, WATER_G_MOL
from solver.mixture.numeric import Floats, ratio, root

STANDARD_KPA: Final = 101.325
_KELVIN: Final = 273.15
_GAS_J_MOL_K: Final = 8.31446
_Q_J_MOL: Final = -17638.0
_A: Final = -1.0038
_B: Final = -0.24653
_CRITICAL_K: Final = 647.096
_CRITICAL_KPA: Final = 22064.0
_VAPOUR: Final = (
    (1.0, -7.85951783), (1.5, 1.84408259), (3.0, -11.7866497), (3.5, 22.6807411),
    (4.0, -15.9618719), (7.5, 1.80122502),
)  # fmt: skip
_HOTTEST: Final = 160.0


def vapour_kpa(celsius: npt.ArrayLike) -> Floats:
    """Vapour pressure of water in kPa at 0..370 °C."""
    kelvin = np.asarray(celsius, dtype=float) + _KELVIN
    gap = 1.0 - kelvin / _CRITICAL_K
    total = np.zeros_like(kelvin)
    for power, coefficient in _VAPOUR:
        total += coefficient * gap**power
    pressure: Floats = _CRITICAL_KPA * np.exp(_CRITICAL_K / kelvin * total)
    return pressure


def sucrose_activity(mass_fraction: npt.ArrayLike, celsius: npt.ArrayLike = 25.0) -> Floats:
    """Water activity over sucrose in water, mass fraction 0..1, at a temperature in °C."""
    w = np.asarray(mass_fraction, dtype=float)
    kelvin = np.asarray(celsius, dtype=float) + _KELVIN
    moles, water = w / SOLUTES["sucrose"].g_mol, (1.0 - w) / WATER_G_MOL
    x = ratio(moles, moles + water)
    bent = _Q_J_MOL / (_GAS_J_MOL_K * kelvin) * x * x * (1.0 + x * (_A + x * _B))
    activity: Floats = (1.0 - x) * np.exp(bent)
    return activity


def boiling_celsius(brix: float, pressure_kpa: float = STANDARD_KPA) -> float:
    """Temperature in °C at which sugar and water of that Brix boils.

    Within 0.4 °C of published tables up to 65 Brix, and rather low above. Around 60 Brix a tenth
    of a degree is more than one Brix: a kitchen thermometer tells little, scales tell all.

    Raises ValueError outside 0..90 Brix.
    """
    if not 0.0 <= brix <= 90.0:
        message = f"boiling points are known from 0 to 90 Brix, not at {brix:g}"
        raise ValueError(message)

    def excess_kpa(celsius: float) -> float:
        return float(sucrose_activity(brix / 100.0, celsius) * vapour_kpa(celsius)) - pressure_kpa

    return root(excess_kpa, 20.0, _HOTTEST)
