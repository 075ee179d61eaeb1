"""What slows spoilage: water activity, and sugar and alcohol together against yeast.

Water activity: Norrish, J. Food Technol. 1:25 (1966), aw = Xw · exp(-K · Xs²) in mole fractions,
and the product over solutes of Ross, J. Food Sci. 40:112 (1975) (both references from memory).
Delle units: Amerine and Kunkee, Vitis 5:187 (1965); Kunkee and Amerine, Appl. Microbiol. 16:1067
(1968). Neither says that a thing is safe: acidity, cleanliness and cold are not in them.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt

from solver.mixture.blend import ACID, ETHANOL, SUGAR, WATER
from solver.mixture.numeric import Floats, ratio

WATER_G_MOL: Final = 18.015


@dataclass(frozen=True)
class Solute:
    """A dissolved substance: grams per mole, and Norrish's constant K."""

    name: str
    g_mol: float
    k: float
    source: str


SOLUTES: Final[dict[str, Solute]] = {
    solute.name: solute
    for solute in (
        Solute("sucrose", 342.30, 6.47, "K: Chirife, as used in public code"),
        Solute("citric acid", 192.12, 6.17, "K: Chirife and Ferro Fontán, from memory"),
    )
}
"""Solutes by name."""

_FREEZING: Final = (
    (0.0, 0.0), (5.0, 2.09), (10.0, 4.47), (15.0, 7.36), (20.0, 10.92), (24.0, 14.47),
    (30.0, 20.47), (36.0, 25.98), (40.0, 29.26), (44.0, 32.68), (50.0, 37.67), (56.0, 42.06),
    (62.0, 46.28), (68.0, 49.52),
)  # fmt: skip
"""Ethanol in water, mass per cent, and by how many degrees it freezes below 0 °C: CRC Handbook of
Chemistry and Physics, 102nd ed. (2021). Norrish's form does not fit ethanol with one constant."""

_MELTING_J_MOL: Final = 333.46 * WATER_G_MOL
_HEATING_J_MOL_K: Final = (4.217 - 2.097) * WATER_G_MOL
_GAS_J_MOL_K: Final = 8.31446
_ICE_K: Final = 273.15

DELLE_PER_ABV: Final = 4.5
DELLE_STABLE: Final = 78.0
"""Above this many units yeast was not seen to ferment wine again; 75 to 85 were observed."""
AW_ACID_RULES: Final = 0.85
"""At or below this the rules for low-acid and acidified foods do not apply: 21 CFR 114.3."""


def norrish(solute: str, mass_fraction: npt.ArrayLike) -> Floats:
    """Water activity at 25 °C over one solute in water, of the shape of `mass_fraction` (0..1).

    For sucrose within 0.002 of Starzak and Peacock's equation (1997) up to saturation.
    """
    w = np.asarray(mass_fraction, dtype=float)
    known = SOLUTES[solute]
    moles, water = w / known.g_mol, (1.0 - w) / WATER_G_MOL
    share = ratio(moles, moles + water)
    activity: Floats = (1.0 - share) * np.exp(-known.k * share * share)
    return activity


def activity_at_freezing(depression_celsius: npt.ArrayLike) -> Floats:
    """Water activity of a solution that freezes so many degrees below 0 °C, at that temperature.

    Ice and solution have the same vapour pressure there; heat of melting 333.46 J/g and heat
    capacities of IAPWS R10-06.
    """
    kelvin = _ICE_K - np.asarray(depression_celsius, dtype=float)
    melting = -_MELTING_J_MOL / _GAS_J_MOL_K * (1.0 / kelvin - 1.0 / _ICE_K)
    ratio_k = _ICE_K / kelvin
    heating = _HEATING_J_MOL_K / _GAS_J_MOL_K * (ratio_k - 1.0 - np.log(ratio_k))
    activity: Floats = np.exp(melting + heating)
    return activity


_ETHANOL_PCT: Final = np.array([pct for pct, _ in _FREEZING])
_ETHANOL_LOG: Final = np.log(activity_at_freezing([depression for _, depression in _FREEZING]))


def ethanol_activity(mass_fraction: npt.ArrayLike) -> Floats:
    """Water activity of ethanol in water, mass fraction 0..1, from its freezing points.

    Above 68 % by mass (some 75 % vol) that of 68 %, which is then too high.
    """
    percent = 100.0 * np.asarray(mass_fraction, dtype=float)
    activity: Floats = np.exp(np.interp(percent, _ETHANOL_PCT, _ETHANOL_LOG))
    return activity


def water_activity(composition: Floats) -> Floats:
    """Water activity of compositions of shape (..., columns), shape (...); 0 without water.

    Sugar counts as sucrose and acid as citric acid; other dissolved matter does not count. Fruit
    sugars and salt lower it further, so the figure is rather too high than too low.
    """
    composition = np.asarray(composition, dtype=float)
    water = composition[..., WATER]
    activity: Floats = np.where(water > 0, 1.0, 0.0)
    for name, column in (("sucrose", SUGAR), ("citric acid", ACID)):
        solute = composition[..., column]
        activity = activity * norrish(name, ratio(solute, solute + water))
    ethanol = composition[..., ETHANOL]
    return activity * ethanol_activity(ratio(ethanol, ethanol + water))


def delle_units(sugar_g_100ml: npt.ArrayLike, abv_pct: npt.ArrayLike) -> Floats:
    """Delle units of sugar (g/100 mL) and strength (% vol): sugar + 4.5 · strength.

    They were found for yeast in wine: moulds, bacteria and acidity are not in them.
    """
    sugar = np.asarray(sugar_g_100ml, dtype=float)
    units: Floats = sugar + DELLE_PER_ABV * np.asarray(abv_pct, dtype=float)
    return units


def spirit_against_yeast_ml(delle: npt.ArrayLike, spirit_abv_pct: float = 40.0) -> Floats:
    """Millilitres of a spirit that bring a litre of so many Delle units to 78; 0 where it has them.

    Volumes are added without contraction. Raises ValueError for a spirit too weak to do it.
    """
    own = DELLE_PER_ABV * spirit_abv_pct
    if own <= DELLE_STABLE:
        message = f"a spirit of {spirit_abv_pct:g} % vol has fewer units than are asked for"
        raise ValueError(message)
    missing = DELLE_STABLE - np.asarray(delle, dtype=float)
    return np.maximum(missing, 0.0) * 1000.0 / (own - DELLE_STABLE)
