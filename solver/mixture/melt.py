"""Melt: water that ice adds, by technique.

Volume of melt over volume before ice, as a function of the strength before ice (as a fraction).
The two curves are Arnold, Liquid Intelligence (2014), p. 123, coefficients from memory; the fixed
shares are from its balance table, from memory, or common practice without a source, as marked.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt

from solver.mixture.ethanol import mass_fraction, specific_volume_ml_g

__all__ = ["TECHNIQUES", "Curve", "Technique", "calibrated"]

Floats = npt.NDArray[np.float64]


@dataclass(frozen=True)
class Curve:
    """constant + linear·a + quadratic·a², never below 0; a is the strength as a fraction."""

    constant: float
    linear: float = 0.0
    quadratic: float = 0.0

    def fraction(self, strength: Floats) -> Floats:
        """Melt over volume before ice at the given strengths (fractions)."""
        a = np.asarray(strength, dtype=float)
        level = self.constant + a * (self.linear + a * self.quadratic)
        return np.maximum(level, 0.0)

    def scaled(self, factor: float) -> Curve:
        """The curve times a factor."""
        return Curve(self.constant * factor, self.linear * factor, self.quadratic * factor)


@dataclass(frozen=True)
class Technique:
    """A way to finish a drink: its melt, and how far practice strays from it (relative)."""

    name: str
    says: str
    curve: Curve
    spread_low: float
    spread_high: float
    basis: str
    source: str


_SHAKEN: Final = Curve(0.203, 1.742, -1.567)
_STIRRED: Final = Curve(0.145, 1.246, -1.21)
_BOOK = "Arnold, Liquid Intelligence (2014), p. 123, coefficients from memory"
_TABLE = "Arnold, Liquid Intelligence (2014), balance table, from memory"
_TRADE = "common practice, no source"

TECHNIQUES: Final[dict[str, Technique]] = {
    technique.name: technique
    for technique in (
        Technique("shake", "shaken with ice", _SHAKEN, 0.9, 1.1, "memory", _BOOK),
        Technique("shake-egg", "shaken dry, then with ice", _SHAKEN, 0.9, 1.1, "memory", _BOOK),
        Technique("stir", "stirred with ice", _STIRRED, 0.5, 1.3, "memory", _BOOK),
        Technique("build", "built over ice", Curve(0.24), 0.63, 1.46, "memory", _TABLE),
        Technique("blend", "blended with ice", Curve(0.90), 0.83, 1.44, "memory", _TABLE),
        Technique("throw", "thrown over ice", Curve(0.30), 0.83, 1.33, "practice", _TRADE),
        Technique(
            "swizzle", "swizzled with crushed ice", Curve(0.40), 0.75, 1.5, "practice", _TRADE
        ),
        Technique("julep", "built on crushed ice", Curve(0.30), 0.66, 1.5, "practice", _TRADE),
        Technique(
            "highball", "built over cubes with a mixer", Curve(0.12), 0.66, 1.67, "practice", _TRADE
        ),
        Technique("hot", "built hot, without ice", Curve(0.0), 1.0, 1.0, "practice", _TRADE),
        Technique("none", "without ice", Curve(0.0), 1.0, 1.0, "definition", "no ice"),
        Technique(
            "shake-top",
            "shaken short, then topped",
            _SHAKEN.scaled(0.75),
            0.8,
            1.13,
            "practice",
            _TRADE,
        ),
        Technique("stir-top", "stirred, then topped", _STIRRED, 0.5, 1.3, "memory", _BOOK),
        Technique(
            "build-top", "built over ice, then topped", Curve(0.12), 0.66, 1.67, "practice", _TRADE
        ),
    )
}
"""Every technique by its name."""


def calibrated(curve: Curve, before_g: float, after_g: float, abv_pct: float) -> Curve:
    """The curve, scaled to pass through a bar's own weighing of one drink.

    `before_g` is the liquid before ice, of strength `abv_pct` (% vol), `after_g` the same with its
    melt. Grams become millilitres with the density of ethanol and water alone.
    Raises ValueError if the drink lost weight or the curve has no melt to scale at this strength.
    """
    if not 0 < before_g <= after_g:
        message = f"a drink of {before_g:g} g cannot weigh {after_g:g} g after icing"
        raise ValueError(message)
    published = float(curve.fraction(np.array(abv_pct / 100)))
    if not published > 0:
        message = f"this technique has no melt at {abv_pct:g} % vol that a weighing could scale"
        raise ValueError(message)
    before_ml = before_g * float(specific_volume_ml_g(mass_fraction(np.array(abv_pct))))
    melt_ml = (after_g - before_g) * float(specific_volume_ml_g(np.array(0.0)))
    return curve.scaled(melt_ml / before_ml / published)
