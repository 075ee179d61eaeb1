"""Melt: water that ice adds, by technique.

Volume of melt over volume before ice, as a function of the strength before ice. The volume and the
strength are those of the labels: pours added up, ethanol at 0.78924 g/mL over them. The curves are
Arnold, Liquid Intelligence (2014), p. 123, coefficients from memory; the fixed shares are from its
balance table, from memory, or common practice without a source, as each says. They hold for
ingredients at room temperature and wet ice at 0 °C; cold ingredients and freezer ice melt less.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt

from solver.mixture.ethanol import mass_fraction, specific_volume_ml_g
from solver.mixture.numeric import Floats


@dataclass(frozen=True)
class Curve:
    """constant + linear·a + quadratic·a²; a is the strength as a fraction 0..1.

    Nowhere below 0, and concave: finished strength then increases with the strength before ice,
    which a search of drinks rests on. Raises ValueError for any other.
    """

    constant: float
    linear: float = 0.0
    quadratic: float = 0.0

    def __post_init__(self) -> None:
        pure = self.constant + self.linear + self.quadratic
        if not (self.quadratic <= 0 <= self.constant and pure >= 0):
            message = f"{self} falls below 0 between water and pure ethanol, or bends up"
            raise ValueError(message)

    def fraction(self, strength: npt.ArrayLike) -> Floats:
        """Melt over volume before ice at the given strengths (fractions), of their shape."""
        a = np.asarray(strength, dtype=float)
        level: Floats = self.constant + a * (self.linear + a * self.quadratic)
        return level

    def scaled(self, factor: float) -> Curve:
        """The curve times a factor. Raises ValueError for a factor below 0."""
        if not 0 <= factor < math.inf:
            message = f"melt cannot be {factor:g} times what it was"
            raise ValueError(message)
        return Curve(self.constant * factor, self.linear * factor, self.quadratic * factor)


@dataclass(frozen=True)
class Technique:
    """A way to finish a drink: its melt, and how far practice strays from it.

    `spread_low` and `spread_high` are factors on the curve, around 1. With `all_on_ice` the curve
    is of all that is in the glass, whatever is poured last.
    """

    name: str
    says: str
    curve: Curve
    spread_low: float
    spread_high: float
    basis: str
    source: str
    all_on_ice: bool = False

    @property
    def iced(self) -> bool:
        """Whether ice melts into it."""
        return self.curve != Curve(0.0)


_SHAKEN: Final = Curve(0.203, 1.742, -1.567)
_STIRRED: Final = Curve(0.145, 1.246, -1.21)

_BOOK = "Arnold, Liquid Intelligence (2014), p. 123, coefficients from memory; "
_TABLE = "Arnold, Liquid Intelligence (2014), balance table, from memory; "
_PRACTICE = "common practice, no source"
_SHAKE = (
    _BOOK + "drinks of 18-33 % vol before ice, published band 51-60 %; a measurement of 2012 (70 g "
    "of 40 % vodka gained 46 g) lies 4 % below. Spread: common practice, no source"
)
_EGG = (
    _BOOK + "the shaken curve. Published band with egg white 46-49 % at 18-23 % vol: the curve "
    "gives 46.6 % at 18, 48.9 % at 20 and 52.1 % at 23, so the lower strength explains the lower "
    "band, to within 3 points at its top. Spread: common practice, no source"
)
_STIR = (
    _BOOK + "drinks of 29-43 % vol before ice, published band 41-49 %. Stirring is the operator's: "
    "spread is common practice (30 % either way, no source), low end taken down to a measurement "
    "of 2012 (70 g of 40 % vodka gained 16 g, half of the curve)"
)
_ROCK = _TABLE + "one large rock, about three minutes. Spread: common practice, no source"
_FROZEN = _TABLE + "high end from association recipes with 170 g of cracked ice a serve"
_SHORT = (
    "three quarters of the shaken curve: common practice, no source; melt in the glass after "
    "topping, about a tenth of the volume, is not counted"
)
_LONG = _PRACTICE + "; cold mixer and full cubes, counted on all that meets the ice"
_HOT = _PRACTICE + "; what little ethanol boils off is not counted"

_LONG_MELT: Final = (0.12, 0.08, 0.20)


def _fixed(
    name: str,
    says: str,
    melt: tuple[float, float, float],
    basis: str,
    source: str,
    *,
    all_on_ice: bool = False,
) -> Technique:
    """A technique whose melt does not follow the strength: its usual, least and most share."""
    usual, least, most = melt
    return Technique(
        name, says, Curve(usual), least / usual, most / usual, basis, source, all_on_ice
    )


TECHNIQUES: Final[dict[str, Technique]] = {
    technique.name: technique
    for technique in (
        Technique("shake", "shaken with ice", _SHAKEN, 0.9, 1.1, "memory", _SHAKE),
        Technique("shake-egg", "shaken dry, then with ice", _SHAKEN, 0.9, 1.1, "memory", _EGG),
        Technique("stir", "stirred with ice", _STIRRED, 0.45, 1.3, "memory", _STIR),
        _fixed("build", "built over ice", (0.24, 0.15, 0.35), "memory", _ROCK),
        _fixed("blend", "blended with ice", (0.90, 0.75, 1.30), "memory", _FROZEN),
        _fixed("throw", "thrown over ice", (0.30, 0.25, 0.40), "practice", _PRACTICE),
        _fixed("swizzle", "swizzled with crushed ice", (0.40, 0.30, 0.60), "practice", _PRACTICE),
        _fixed("julep", "built on crushed ice", (0.30, 0.20, 0.45), "practice", _PRACTICE),
        _fixed("highball", "built over cubes with a mixer", _LONG_MELT, "practice", _LONG,
               all_on_ice=True),
        Technique("shake-top", "shaken short, then topped", _SHAKEN.scaled(0.75),
                  0.60 / 0.75, 0.85 / 0.75, "practice", _SHORT),
        Technique("stir-top", "stirred, then topped", _STIRRED, 0.45, 1.3, "memory", _STIR),
        _fixed("build-top", "built over ice, then topped", _LONG_MELT, "practice", _LONG,
               all_on_ice=True),
        Technique("hot", "built hot, without ice", Curve(0.0), 1.0, 1.0, "practice", _HOT),
        Technique("none", "without ice", Curve(0.0), 1.0, 1.0, "definition", "no ice, no melt"),
    )
}  # fmt: skip
"""Every technique by its name."""


def calibrated(technique: Technique, before_g: float, after_g: float, abv_pct: float) -> Curve:
    """The technique's curve, scaled to pass through a bar's own weighing of one drink.

    `before_g` is the liquid before ice, of strength `abv_pct` (% vol), `after_g` the same with its
    melt, strained off the ice. Assumption: grams become millilitres with the density of ethanol and
    water alone, so that sugar and acid need not be known; for a drink with 8 g of sugar in 100 mL
    the melt then comes out 3 % too small.

    Raises:
        ValueError: the drink lost weight, or the technique has no melt that could be scaled.
    """
    if not 0 < before_g <= after_g < math.inf:
        message = f"a drink of {before_g:g} g cannot weigh {after_g:g} g with its melt"
        raise ValueError(message)
    published = float(technique.curve.fraction(abv_pct / 100))
    if published == 0:
        message = f"a drink {technique.says} has no melt to weigh"
        raise ValueError(message)
    before_ml = before_g * float(specific_volume_ml_g(mass_fraction(abv_pct)))
    melt_ml = (after_g - before_g) * float(specific_volume_ml_g(0.0))
    return technique.curve.scaled(melt_ml / before_ml / published)
