"""Acids: what a gram counts as in titratable acid, and the room that it takes.

Equivalent masses from molar masses and the protons titrated to pH 8.1 (AOAC 942.15); apparent
volumes from densities of 5-20 % solutions (CRC Handbook, 102nd ed.).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True)
class Acid:
    """One acid: grams of citric acid that a gram counts as; mL that a dissolved gram takes."""

    name: str
    citric_equivalent: float
    apparent_volume_ml_g: float
    basis: str
    source: str


_AOAC = "AOAC 942.15 equivalent mass; volume CRC Handbook 102nd ed."
_AS_CITRIC = "AOAC 942.15 equivalent mass; volume taken as citric acid's, estimate"
_GUESS = "molar mass from memory; volume taken as citric acid's, estimate"

ACIDS: Final[dict[str, Acid]] = {
    acid.name: acid
    for acid in (
        Acid("citric", 1.0, 0.597, "published", _AOAC),
        Acid("malic", 0.955, 0.597, "estimate", _AS_CITRIC),
        Acid("tartaric", 0.853, 0.597, "estimate", _AS_CITRIC),
        Acid("lactic", 0.711, 0.788, "published", _AOAC),
        Acid("acetic", 1.066, 0.866, "published", _AOAC),
        Acid("phosphoric", 1.307, 0.480, "published", _AOAC),
        Acid("succinic", 1.085, 0.597, "estimate", _GUESS),
        Acid("quinic", 0.333, 0.597, "estimate", _GUESS),
        Acid("chlorogenic", 0.181, 0.597, "estimate", _GUESS),
        Acid("ascorbic", 0.364, 0.597, "estimate", _GUESS),
    )
}


def mass_and_volume(acid_g: float, shares: Mapping[str, float]) -> tuple[float, float]:
    """Real grams and millilitres of acids that titrate as `acid_g` grams of citric acid.

    `shares` are the acids' shares of the titratable acid. Raises KeyError for an unknown acid.
    """
    grams = millilitres = 0.0
    for name, share in shares.items():
        acid = ACIDS[name]
        mass = share * acid_g / acid.citric_equivalent
        grams += mass
        millilitres += mass * acid.apparent_volume_ml_g
    return grams, millilitres
