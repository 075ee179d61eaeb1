"""Why a set of ingredients is as much in keeping as it is: counts, to make a sentence of."""

from __future__ import annotations

from dataclasses import dataclass

from solver.harmony.dial import Dial
from solver.harmony.flavours import Flavour
from solver.harmony.pairs import PairEvidence
from solver.harmony.shares import Share
from solver.harmony.taste import Tastings


@dataclass(frozen=True)
class PartEvidence:
    """How usual what fills a part is.

    `filled` are its flavours, each with its share; `count_share` is how usual it is that so many
    do, 1 where another part is poured instead of this one. `settled` is what its pairs are worth in
    any drink of the profile, which the stated shares hold already. `worth` is what comes of all.
    """

    part: str
    filled: tuple[tuple[Flavour, Share], ...]
    count_share: float
    settled: float
    worth: float


@dataclass(frozen=True)
class Evidence:
    """Why a set is worth what it is worth: the sum of its `parts` and `pairs`.

    `unknown` are flavours of which neither books nor the bar know anything: the rest was judged
    without them. `tasted` are the bar's tastings of drinks of just these, None where there
    are none.
    """

    worth: float
    dial: Dial
    parts: tuple[PartEvidence, ...]
    pairs: tuple[PairEvidence, ...]
    unknown: tuple[Flavour, ...]
    tasted: Tastings | None = None
