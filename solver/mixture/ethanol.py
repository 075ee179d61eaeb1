"""Ethanol and water: density, strength, contraction.

OIML R 22 (1975), International Alcoholometric Tables: general formula p. 5, the 54 coefficients
p. 13 (same formula in Council Directive 76/766/EEC, Annex, section 4). It gives the printed table
to its last digit. Mass fractions are 0..1, strengths are % vol with both volumes at 20 °C.
"""

from __future__ import annotations

from typing import Final

import numpy as np
import numpy.typing as npt

from solver.mixture.numeric import Floats, Inverse, horner

ETHANOL_G_ML: Final = 0.78924
"""Density of ethanol at 20 °C, OIML R 22 (1975), erratum on its cover."""
WATER_G_ML: Final = 0.99820123
"""Density of water at 20 °C, the constant term of the formula."""
LEAST_WET_ML_G: Final = 1.0018
"""No gram of ethanol and water takes less: that of water takes 1.001802 mL."""
MOST_CONTRACTION: Final = 0.0355
"""Share of the volumes of pure ethanol and pure water, or of mixtures of them, that is lost at most
when they are mixed: 0.03546, at 46.6 % of ethanol by mass (54 % vol)."""
MOST_SWELLING: Final = 0.0016
"""Share by which mixtures of ethanol and water swell at most when they are mixed with each other:
the volume of a gram bends the other way up to 15.75 % of ethanol by mass, and so comes to lie up to
0.00151 above what weaker and stronger mixtures take beside each other."""
COLDEST_CELSIUS: Final = -20.0
WARMEST_CELSIUS: Final = 40.0
"""The range of the formula."""

# fmt: off
_A: Final = (
    998.20123, -192.9769495, 389.1238958, -1668.103923, 13522.15441, -88292.78388, 306287.4042,
    -613838.1234, 747017.2998, -547846.1354, 223446.0334, -39032.85426,
)
_B: Final = (
    -0.20618513, -0.0052682542, 3.6130013e-05, -3.8957702e-07, 7.169354e-09, -9.9739231e-11,
)
_C: Final = (
    (0.1693443461530087, -10.46914743455169, 71.96353469546523, -704.7478054272792,
     3924.090430035045, -12101.64659068747, 22486.46550400788, -26055.62982188164,
     18523.73922069467, -7420.201433430137, 1285.617841998974),
    (-0.01193013005057010, 0.2517399633803461, -2.170575700536993, 13.53034988843029,
     -50.29988758547014, 109.6355666577570, -142.2753946421155, 108.0435942856230,
     -44.14153236817392, 7.442971530188783),
    (-6.802995733503803e-04, 0.01876837790289664, -0.2002561813734156, 1.022992966719220,
     -2.895696483903638, 4.810060584300675, -4.672147440794683, 2.458043105903461,
     -0.5411227621436812),
    (4.075376675622027e-06, -8.763058573471110e-06, 6.515031360099368e-06,
     -1.515784836987210e-06),
    (-2.788074354782409e-08, 1.345612883493354e-08),
)
# fmt: on


def density_kg_m3(mass_fraction: npt.ArrayLike, celsius: float = 20.0) -> Floats:
    """Density in kg/m³ (in vacuo) of ethanol in water, of the shape of `mass_fraction` (0..1).

    Raises ValueError outside -20..+40 °C.
    """
    if not COLDEST_CELSIUS <= celsius <= WARMEST_CELSIUS:
        message = f"the density of ethanol and water is known from -20 to 40 °C, not at {celsius:g}"
        raise ValueError(message)
    p = np.asarray(mass_fraction, dtype=float)
    density = horner(_A, p)
    step = celsius - 20.0
    if step:
        power = 1.0
        for coefficient in _B:
            power *= step
            density += coefficient * power
        power = 1.0
        for coefficients in _C:
            power *= step
            density += horner((0.0, *coefficients), p) * power
    return density


def specific_volume_ml_g(mass_fraction: npt.ArrayLike) -> Floats:
    """Millilitres at 20 °C of one gram of ethanol and water, mass fraction 0..1."""
    return 1000.0 / density_kg_m3(mass_fraction)


def abv_pct(mass_fraction: npt.ArrayLike) -> Floats:
    """Strength in % vol of a mass fraction 0..1.

    Pure ethanol comes to 99.9999: the formula lies 0.0009 kg/m³ below the constant that defines
    the strength.
    """
    p = np.asarray(mass_fraction, dtype=float)
    strength: Floats = density_kg_m3(p) * p / (10.0 * ETHANOL_G_ML)
    return strength


_FRACTION_AT: Final = Inverse.of(abv_pct)


def mass_fraction(abv: npt.ArrayLike) -> Floats:
    """Mass fraction of ethanol at a strength in % vol: the inverse of `abv_pct`, to 1e-12.

    Strengths above that of pure ethanol by the formula (99.9999) are pure ethanol. Raises
    ValueError outside 0..100.
    """
    asked = np.asarray(abv, dtype=float)
    if not np.all((asked >= 0.0) & (asked <= 100.0)):
        message = "a strength lies between 0 and 100 % vol"
        raise ValueError(message)
    return _FRACTION_AT(asked)
