"""What liquids do: densities, blending by mass, melt. Pure functions of arrays, no I/O."""

from solver.mixture.blend import COLUMNS, Finished, measure, volume_error_pct
from solver.mixture.drink import Drink, finish
from solver.mixture.label import ImpossibleLabel, from_dry, from_label
from solver.mixture.melt import TECHNIQUES, Curve, Technique

__all__ = [
    "COLUMNS",
    "TECHNIQUES",
    "Curve",
    "Drink",
    "Finished",
    "ImpossibleLabel",
    "Technique",
    "finish",
    "from_dry",
    "from_label",
    "measure",
    "volume_error_pct",
]
