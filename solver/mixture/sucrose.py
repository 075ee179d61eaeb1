"""Sucrose in water: density, room taken, Brix, solubility.

Polynomial of Bubník, Kadlec, Urban and Bruhns, Sugar Technologists Manual, 8th ed., Bartens 1995,
p. 164 (the polynomial behind ICUMSA SPS-4), 0..100 °C. It agrees with published tables to
0.02 % up to 60 % sugar and to 0.06 % up to 84 %. Mass fractions are sugar over sugar and water,
0..1; Brix is the same in per cent.
"""

from __future__ import annotations

from typing import Final

import numpy as np
import numpy.typing as npt

from solver.mixture.numeric import Floats, Inverse, horner

LEAST_ROOM_ML_G: Final = 0.615
MOST_ROOM_ML_G: Final = 0.645
"""What a gram of sugar takes at least, in endless water (0.6152), and at most, in none (0.6444)."""
LEAST_SWEET_ML_G: Final = 0.644
"""No gram of sugar and water takes less: that of sugar takes 0.6444 mL."""
COLDEST_CELSIUS: Final = 0.0
WARMEST_CELSIUS: Final = 100.0
"""The range of the polynomials."""

_B: Final = (
    (385.1761, 135.3705, 40.9299, -3.9643, 13.4853, -17.2890),
    (-46.2720, -7.1720, 1.1597, 5.1126, 17.5254),
    (59.7712, 7.2491, 12.3630, -35.4791),
    (-47.2207, -21.6977, 27.6301),
    (18.3184, 12.3081),
)
_WATER_ABOVE: Final = (
    999.83952, 16.952577, -7.9905127e-3, -46.241757e-6, 105.84601e-9, -281.03006e-12,
)  # fmt: skip
_WATER_BELOW: Final = (1.0, 16.887236e-3)
_SOLUBILITY: Final = (64.447, 0.08222, 0.0016169, -1.558e-6, -4.63e-8)


def water_kg_m3(celsius: float = 20.0) -> float:
    """Density of water in kg/m³, in the form of the same source."""
    t = np.asarray(celsius, dtype=float)
    return float(horner(_WATER_ABOVE, t) / horner(_WATER_BELOW, t))


_WATER_20: Final = water_kg_m3()


def _check_temperature(celsius: npt.ArrayLike) -> None:
    t = np.asarray(celsius, dtype=float)
    if not np.all((t >= COLDEST_CELSIUS) & (t <= WARMEST_CELSIUS)):
        message = "sugar solutions are known from 0 to 100 °C"
        raise ValueError(message)


def density_kg_m3(mass_fraction: npt.ArrayLike, celsius: float = 20.0) -> Floats:
    """Density in kg/m³ of sucrose in water, of the shape of `mass_fraction` (0..1).

    Raises ValueError outside 0..100 °C.
    """
    _check_temperature(celsius)
    w = np.asarray(mass_fraction, dtype=float)
    x = (celsius - 20.0) / 100.0
    gain = horner(_B[0], w)
    power = 1.0
    for coefficients in _B[1:]:
        power *= x
        gain += power * horner(coefficients, w)
    return water_kg_m3(celsius) + w * gain


def apparent_volume_ml_g(mass_fraction: npt.ArrayLike) -> Floats:
    """Millilitres that a gram of sugar takes at 20 °C in a solution of the given strength.

    What the solution has beyond the volume of its water, per gram of sugar. Written without the
    difference of two volumes, so it is exact in weak solutions and has its limit (0.6153) at 0.
    """
    w = np.asarray(mass_fraction, dtype=float)
    gain = horner(_B[0], w)
    density = _WATER_20 + w * gain
    return 1000.0 * (density - gain) / (density * _WATER_20)


def volume_share_ml_g(mass_fraction: npt.ArrayLike) -> Floats:
    """Millilitres that the sugar takes in one gram of sugar and water at 20 °C."""
    w = np.asarray(mass_fraction, dtype=float)
    return w * apparent_volume_ml_g(w)


def grams_per_100ml(brix: npt.ArrayLike) -> Floats:
    """Sugar in g/100 mL at 20 °C of a strength in Brix (mass per cent)."""
    return _grams_per_100ml(np.asarray(brix, dtype=float) / 100.0)


def brix(grams_per_100_ml: npt.ArrayLike) -> Floats:
    """Brix at 20 °C of sugar in g/100 mL: the inverse of `grams_per_100ml`, to 1e-10.

    Raises ValueError below 0 and above the density of the pure (undercooled) sugar melt.
    """
    asked = np.asarray(grams_per_100_ml, dtype=float)
    most = float(_FRACTION_AT.levels[-1])
    if not np.all((asked >= 0.0) & (asked <= most)):
        message = f"sugar lies between 0 and {most:.0f} g/100 mL"
        raise ValueError(message)
    return 100.0 * _FRACTION_AT(asked)


def solubility_mass_pct(celsius: npt.ArrayLike) -> Floats:
    """Sucrose in a saturated solution, mass per cent, at 0..100 °C.

    Bubník and Kadlec, in Mathlouthi and Reiser (eds.), Sucrose, 1995, pp. 101-125.
    Raises ValueError outside 0..100 °C.
    """
    _check_temperature(celsius)
    return horner(_SOLUBILITY, np.asarray(celsius, dtype=float))


def saturation_celsius(brix: npt.ArrayLike) -> Floats:
    """Temperature in °C below which sugar and water of that Brix has too much sugar to stay clear.

    The end of 0..100 °C where that is nowhere, or everywhere. In practice a syrup can stay clear a
    while below it; acid turns some sugar into kinds that crystallise less, and alcohol does the
    opposite.
    """
    return 100.0 * _SATURATED_AT(np.asarray(brix, dtype=float))


def _grams_per_100ml(mass_fraction: Floats) -> Floats:
    return mass_fraction * density_kg_m3(mass_fraction) / 10.0


_FRACTION_AT: Final = Inverse.of(_grams_per_100ml)
_SATURATED_AT: Final = Inverse.of(lambda share: solubility_mass_pct(100.0 * share))
