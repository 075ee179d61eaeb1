"""Sucrose in water: density, room taken, Brix.

Polynomial of Bubník, Kadlec, Urban and Bruhns, Sugar Technologists Manual, 8th ed., Bartens 1995,
p. 164 (the polynomial behind ICUMSA SPS-4), 0..100 °C.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]

_B = (
    (385.1761, 135.3705, 40.9299, -3.9643, 13.4853, -17.2890),
    (-46.2720, -7.1720, 1.1597, 5.1126, 17.5254),
    (59.7712, 7.2491, 12.3630, -35.4791),
    (-47.2207, -21.6977, 27.6301),
    (18.3184, 12.3081),
)


def water_kg_m3(celsius: float = 20.0) -> float:
    """Density of water in the same source's form, kg/m³."""
    t = celsius
    top = 999.83952 + t * (
        16.952577
        + t * (-7.9905127e-3 + t * (-46.241757e-6 + t * (105.84601e-9 - t * 281.03006e-12)))
    )
    return top / (1 + 16.887236e-3 * t)


def density_kg_m3(mass_fraction: Floats, celsius: float = 20.0) -> Floats:
    """Density in kg/m³ of sucrose in water, mass fraction 0..1 (Brix / 100)."""
    w = np.asarray(mass_fraction, dtype=float)
    x = (celsius - 20.0) / 100.0
    density = np.full(w.shape, water_kg_m3(celsius))
    power = 1.0
    for coefficients in _B:
        level = np.zeros(w.shape)
        for coefficient in reversed(coefficients):
            level = (level + coefficient) * w
        density = density + power * level
        power *= x
    return density


def volume_share_ml_g(mass_fraction: Floats) -> Floats:
    """Millilitres that the sugar takes in one gram of sugar and water at 20 °C."""
    w = np.asarray(mass_fraction, dtype=float)
    return 1000.0 / density_kg_m3(w) - (1.0 - w) * (1000.0 / water_kg_m3())


def grams_per_100ml(brix: Floats) -> Floats:
    """Sugar in g/100 mL at 20 °C of a strength in Brix (mass per cent)."""
    w = np.asarray(brix, dtype=float) / 100.0
    return w * density_kg_m3(w) / 10.0


def brix(grams_per_100_ml: Floats) -> Floats:
    """Brix at 20 °C of sugar in g/100 mL: the inverse of `grams_per_100ml`, by bisection."""
    asked = np.asarray(grams_per_100_ml, dtype=float)
    low, high = np.zeros(asked.shape), np.full(asked.shape, 100.0)
    for _ in range(60):
        middle = (low + high) / 2
        too_low = grams_per_100ml(middle) < asked
        low = np.where(too_low, middle, low)
        high = np.where(too_low, high, middle)
    return (low + high) / 2
