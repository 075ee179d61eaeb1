"""What liquids do: densities, blending by mass, melt. Pure functions of arrays, no I/O, no units.

Book-keeping is by mass. A composition is an array whose last axis is `COLUMNS`: `from_label` and
`from_dry` make it from what a label says, adding up pours blends it, `measure` says what the blend
is, and `finish` adds the melt of a technique from `TECHNIQUES`.
"""

from solver.mixture.acids import ACIDS, Acid
from solver.mixture.blend import COLUMNS, Finished, measure, volume_error_pct
from solver.mixture.drink import MixedDrink, finish
from solver.mixture.errors import ImpossibleLabel, UnknownAcid
from solver.mixture.label import from_dry, from_label
from solver.mixture.melt import TECHNIQUES, Curve, Technique, calibrated

__all__ = [
    "ACIDS",
    "COLUMNS",
    "TECHNIQUES",
    "Acid",
    "Curve",
    "Finished",
    "ImpossibleLabel",
    "MixedDrink",
    "Technique",
    "UnknownAcid",
    "calibrated",
    "finish",
    "from_dry",
    "from_label",
    "measure",
    "volume_error_pct",
]
