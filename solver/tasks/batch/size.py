"""How large a batch is: so many serves, or so much in bottles or a keg."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

from solver.errors import BadInput
from solver.printable import short
from solver.quantities import Measures, parse

KEG_FILLED: Final = 0.95
"""Share of a keg that is filled: common practice, no source."""
LARGEST_ML: Final = 1e6
"""A cubic metre: more is a slip."""
FREEZER_FILLED: Final = 0.9
"""Share of a bottle that is filled where it may freeze: common practice, no source."""
LEAST_ML: Final = 10.0


@dataclass(frozen=True)
class Size:
    """The size of a batch: either `serves` or `volume_ml`; the other is None.

    `vessel_ml` is the size of its bottle or keg, None if not given; `keg` is true for a keg, `full`
    for a given number of full bottles. `filled` is the share of a bottle that holds liquid.
    """

    serves: float | None = None
    volume_ml: float | None = None
    vessel_ml: float | None = None
    keg: bool = False
    full: bool = False
    filled: float = 1.0

    @property
    def room_ml(self) -> float | None:
        """The liquid in one full vessel in mL; None if no size was given."""
        return None if self.vessel_ml is None else self.filled * self.vessel_ml

    def for_freezer(self) -> Size:
        """The same size with room for ice in every bottle."""
        volume_ml = self.volume_ml
        if self.full and volume_ml is not None:
            volume_ml *= FREEZER_FILLED
        return replace(self, volume_ml=volume_ml, filled=FREEZER_FILLED)


def read_size(
    measures: Measures,
    *,
    serves: int | None = None,
    make: str | None = None,
    bottle: str | None = None,
    bottles: int | None = None,
    keg: str | None = None,
) -> Size:
    """Read a size: `serves` or `make` (into bottles of a size), bottles alone, or a keg.

    Raises:
        BadInput: a volume can't be read, is too small or too large, or too much or nothing is said.
    """
    said = [name for name, value in (("--serves", serves), ("--make", make), ("--keg", keg),
            ("--bottles", bottles)) if value is not None]  # fmt: skip
    if len(said) > 1 or (keg is not None and bottle is not None):
        what = f"{' and '.join(said) if len(said) > 1 else '--bottle and --keg'} say it twice"
        raise BadInput(what, remedy="Say once how much to make.")
    if bottles is not None and bottle is None:
        raise BadInput("--bottles needs their size", remedy="Add it, like --bottle '750 ml'.")
    vessel = None if bottle is None else _volume(bottle, measures)
    if keg is not None:
        size = _volume(keg, measures)
        return Size(volume_ml=KEG_FILLED * size, vessel_ml=size, keg=True)
    if make is not None:
        return Size(volume_ml=_volume(make, measures), vessel_ml=vessel)
    if serves is not None:
        return Size(serves=float(serves), vessel_ml=vessel)
    if vessel is None:
        remedy = "Add --serves 20, --make '2 L', --bottle '750 ml' or --keg '5 gal'."
        raise BadInput("nothing says how much to make", remedy=remedy)
    return Size(volume_ml=_in_range((bottles or 1) * vessel), vessel_ml=vessel, full=True)


def _volume(text: str, measures: Measures) -> float:
    value = parse(text, "volume", measures)
    if not LEAST_ML <= value <= LARGEST_ML:
        what = f"'{short(text)}' is no size of a batch"
        raise BadInput(what, remedy="Write it like 750 ml, 2 L or 5 gal.")
    return value


def _in_range(volume_ml: float) -> float:
    if volume_ml > LARGEST_ML:
        raise BadInput("so many bottles are no batch", remedy="Make it in several.")
    return volume_ml
