"""A grid of strengths for a syrup, and its batch brought to each."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from solver.errors import BadInput
from solver.kitchen.batch import acid_shares, brix, measured
from solver.mixture.numeric import Floats, root
from solver.mixture.sucrose import solubility_mass_pct
from solver.pantry.bar import Bar
from solver.pantry.figure import Figure
from solver.pantry.ingredient import Ingredient
from solver.printable import short
from solver.quantities import Span, parse_span
from solver.tasks.prep.as_ingredient import other_matter, rounded_shares
from solver.tasks.prep.inputs import gram_of
from solver.tasks.prep.prepare import Prep

WEAKEST: Final = 30.0
"""Brix of the weakest syrup that is tried unless another is asked for; a choice of ours."""
STORED_CELSIUS: Final = 4.0
LEAST_BRIX: Final = 5.0
MOST_BRIX: Final = 80.0
MOST_ACID: Final = 10.0
"""Titratable acid in g/100 mL above which a thing is no syrup but acid."""
CITRIC_SHARE: Final = 2 / 3
"""Grams of citric acid in a gram of acid that is added, the rest malic: as in the trade's lime-acid
solutions, common practice, no source."""
_MOST_TIMES: Final = 60.0
"""Times its own weight that anything is added to a batch at most."""


@dataclass(frozen=True)
class GridPoint:
    """A strength in Brix, and titratable acid in g/100 mL; None for the acid that the batch has
    then."""

    brix: float
    acid: float | None = None


@dataclass(frozen=True)
class Grid:
    """Strengths in Brix from `low` to `high`, inclusive, in steps of `coarse`; then in steps of
    `fine` within one coarse step of the best.

    If the acid may be chosen too, `acids` are its ends: both and the middle are tried at every
    coarse strength, then halves towards the neighbours of the best.
    """

    low: float
    high: float
    coarse: float = 4.0
    fine: float = 1.0
    acids: tuple[float, float] | None = None

    def first(self) -> tuple[GridPoint, ...]:
        """The coarse grid."""
        count = int((self.high - self.low) / self.coarse + 1e-9) + 1
        points = [self.low + k * self.coarse for k in range(count)]
        strengths = dict.fromkeys([*points, self.high])
        return tuple(GridPoint(brix, acid) for brix in strengths for acid in self._acids())

    def around(self, best: GridPoint) -> tuple[GridPoint, ...]:
        """The fine grid around the best of the coarse one, without points that were tried."""
        count, tried = round(self.coarse / self.fine), self.first()
        strengths = (best.brix + k * self.fine for k in range(1 - count, count))
        points = [GridPoint(b, best.acid) for b in strengths if self.low <= b <= self.high]
        if best.acid is not None and self.acids is not None:
            low, high = self.acids
            between = (best.acid + side * (high - low) / 4 for side in (-1, 1))
            points += [GridPoint(best.brix, acid) for acid in between if low <= acid <= high]
        return tuple(point for point in dict.fromkeys(points) if point not in tried)

    def _acids(self) -> tuple[float | None, ...]:
        if self.acids is None:
            return (None,)
        low, high = self.acids
        return tuple(dict.fromkeys((low, (low + high) / 2, high)))


def usual_grid(celsius: float = STORED_CELSIUS) -> Grid:
    """From a weak syrup to the largest whole Brix that stays dissolved in the cold."""
    return Grid(WEAKEST, float(int(solubility_mass_pct(celsius))))


def read_grid(brix_text: str | None, acid_text: str | None, bar: Bar) -> Grid:
    """Read ranges like "40..64 Brix" and "0..2 g/100ml".

    Without the first, the usual grid; without the second, the acid of the batch.

    Raises:
        BadInput: one can't be read, has an open end, or is none that a syrup has.
    """
    usual = usual_grid()
    low, high = usual.low, usual.high
    if brix_text is not None:
        low, high = _ends(brix_text, parse_span(brix_text, "brix", bar.measures), "40..64 Brix")
        if not LEAST_BRIX <= low <= high <= MOST_BRIX:
            what = f"'{short(brix_text)}' are no strengths of a syrup"
            why = f"they lie between {LEAST_BRIX:g} and {MOST_BRIX:g} Brix"
            raise BadInput(what, why=why, remedy="Write them like 40..64 Brix.")
    if acid_text is None:
        return Grid(low, high)
    span = parse_span(acid_text, "concentration", bar.measures)
    acids = _ends(acid_text, span, "0..2 g/100ml")
    if acids[1] > MOST_ACID:
        what = f"'{short(acid_text)}' is more acid than a syrup has"
        raise BadInput(what, remedy="Write it like 0..2 g/100ml.")
    return Grid(low, high, acids=acids)


def _ends(text: str, span: Span, like: str) -> tuple[float, float]:
    low = span.low if span.aim is None else span.aim
    high = span.high if span.aim is None else span.aim
    if low is None or high is None:
        what = f"'{short(text)}' leaves one end open"
        raise BadInput(what, remedy=f"Give both, like {like}.")
    return low, high


def of_strength(prep: Prep, point: GridPoint, bar: Bar) -> Ingredient:
    """The batch diluted with water or sweetened with sugar, and acidified, as an ingredient.

    Acid is never removed.
    """
    batch = _brought(prep, point, bar)
    done = measured(batch)
    source = f"its batch brought to {point.brix:.1f} Brix"

    def figure(value: float, digits: int) -> Figure:
        return Figure(value=round(value, digits), basis="computed", source=source)

    acid = round(float(done.acid_g_100ml), 3)
    return prep.ingredient.model_copy(
        update={
            "sugar": figure(float(done.sugar_g_100ml), 2),
            "acid": figure(acid, 3),
            "acids": rounded_shares(acid_shares(batch)) if acid > 0 else {},
            "density": figure(float(done.density_g_ml), 4),
            "other": other_matter(batch, source),
        }
    )


def _brought(prep: Prep, point: GridPoint, bar: Bar) -> Floats:
    """The batch at a strength and an acid."""
    water, sugar = (gram_of(bar.bottles.find(key)) for key in ("water", "white-sugar"))
    citric, malic = (gram_of(bar.bottles.find(key)) for key in ("citric-acid", "malic-acid"))
    sharp = CITRIC_SHARE * citric + (1 - CITRIC_SHARE) * malic

    def with_acid(grams: float) -> Floats:
        start = prep.batch + grams * sharp
        return _mixed(start, water if float(brix(start)) > point.brix else sugar, point.brix)

    def over(grams: float) -> float:
        return float(measured(with_acid(grams)).acid_g_100ml) - (point.acid or 0.0)

    if over(0.0) >= 0:
        return with_acid(0.0)
    return with_acid(root(over, 0.0, float(np.sum(prep.batch))))


def _mixed(start: Floats, gram: Floats, strength: float) -> Floats:
    """`start` mixed with as much of something as brings it to a Brix."""
    sign = 1.0 if float(brix(gram)) > float(brix(start)) else -1.0

    def over(grams: float) -> float:
        return sign * (float(brix(start + grams * gram)) - strength)

    if over(0.0) >= 0:
        return start
    most = _MOST_TIMES * float(np.sum(start))
    if over(most) <= 0:
        what = f"the batch cannot be brought to {strength:g} Brix"
        raise BadInput(what, remedy="Choose a narrower grid.")
    return start + root(over, 0.0, most) * gram


def read_names(text: str) -> tuple[str, ...]:
    """Read names of profiles, separated by commas.

    Raises:
        BadInput: there is none.
    """
    names = tuple(filter(None, (name.strip() for name in text.split(","))))
    if not names:
        what = f"'{short(text)}' names no profiles"
        raise BadInput(what, remedy="Write them like sour,old-fashioned,hot-coffee.")
    return tuple(dict.fromkeys(names))
