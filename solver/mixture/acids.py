"""Acids: what a gram counts as in titratable acid, and the room that it takes.

Titratable acid is stated as anhydrous citric acid. A gram of another acid counts by its equivalent
mass (molar mass over the protons titrated up to pH 8.1, AOAC 942.15) against citric acid's.
Apparent volumes are those of 5-20 % solutions in water at 20 °C, from densities in the CRC Handbook
of Chemistry and Physics, 102nd ed. (2021).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from solver.mixture.errors import UnknownAcid

SHARES_ADD_UP_WITHIN: Final = 0.005
"""Shares of acids are written with two or three decimals."""


@dataclass(frozen=True)
class Acid:
    """One acid: grams of citric acid that a gram counts as; mL that a dissolved gram takes."""

    name: str
    citric_equivalent: float
    apparent_volume_ml_g: float
    basis: str
    source: str


_CITRIC_MOLAR_MASS: Final = 192.12
_CITRIC_ML_G: Final = 0.597
_CRYSTAL_WATER: Final = 1 - _CITRIC_MOLAR_MASS / 210.14
"""Share of water in citric acid monohydrate."""

_BOTH = "equivalent mass AOAC 942.15; volume from CRC Handbook 102nd ed. densities"
_PHOSPHORIC = (
    "two of three protons below pH 8.1 (the third pKa 12.3 from memory); volume from CRC Handbook "
    "102nd ed. densities"
)
_AS_CITRIC = "equivalent mass AOAC 942.15; volume taken as citric acid's, estimate"
_CRYSTALS = "equivalent mass AOAC 942.15; volume computed from citric acid and crystal water"
_GUESS = "molar mass and titrated protons from memory; volume taken as citric acid's, estimate"


def _acid(
    name: str, molar_mass: float, protons: int, volume_ml_g: float, basis: str, source: str
) -> Acid:
    """The citric equivalent follows from the molar mass (g/mol) and the protons titrated."""
    return Acid(name, _CITRIC_MOLAR_MASS / 3 * protons / molar_mass, volume_ml_g, basis, source)


ACIDS: Final[dict[str, Acid]] = {
    acid.name: acid
    for acid in (
        _acid("citric", _CITRIC_MOLAR_MASS, 3, _CITRIC_ML_G, "published", _BOTH),
        _acid(
            "citric-monohydrate", 210.14, 3,
            _CITRIC_ML_G * (1 - _CRYSTAL_WATER) + 1.0018 * _CRYSTAL_WATER, "computed", _CRYSTALS,
        ),
        _acid("malic", 134.09, 2, _CITRIC_ML_G, "estimate", _AS_CITRIC),
        _acid("tartaric", 150.09, 2, _CITRIC_ML_G, "estimate", _AS_CITRIC),
        _acid("lactic", 90.08, 1, 0.788, "published", _BOTH),
        _acid("acetic", 60.05, 1, 0.866, "published", _BOTH),
        _acid("phosphoric", 97.99, 2, 0.480, "published", _PHOSPHORIC),
        _acid("succinic", 118.09, 2, _CITRIC_ML_G, "estimate", _GUESS),
        _acid("ascorbic", 176.12, 1, _CITRIC_ML_G, "estimate", _GUESS),
        _acid("quinic", 192.17, 1, _CITRIC_ML_G, "estimate", _GUESS),
        _acid("chlorogenic", 354.31, 1, _CITRIC_ML_G, "estimate", _GUESS),
    )
}  # fmt: skip
"""Every acid by its name."""


def mass_and_volume(acid_g: float, shares: Mapping[str, float]) -> tuple[float, float]:
    """Real grams and dissolved millilitres of acids that titrate as `acid_g` grams of citric acid.

    `shares` are the acids' shares of the titratable acid, by name, and add up to 1; they are not
    looked at where there is no acid. Raises `UnknownAcid`, and ValueError for shares that don't.
    """
    if acid_g == 0:
        return 0.0, 0.0
    for name in shares:
        if name not in ACIDS:
            message = f"'{name}' is not one of the acids known here: {', '.join(ACIDS)}"
            raise UnknownAcid(message)
    if abs(sum(shares.values()) - 1) > SHARES_ADD_UP_WITHIN or min(shares.values()) < 0:
        message = "the shares of the acids must add up to 1, none of them negative"
        raise ValueError(message)
    grams = millilitres = 0.0
    for name, share in shares.items():
        mass = share * acid_g / ACIDS[name].citric_equivalent
        grams += mass
        millilitres += mass * ACIDS[name].apparent_volume_ml_g
    return grams, millilitres
