"""Where a drink stands among published ones, by how much it is in keeping.

Drinks of different profiles are compared by how much less they are worth than the best set of their
own profile that could be made of everything known: their shortfall, 0 being as much.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from dataclasses import dataclass

from solver.clock import Clock
from solver.harmony.dial import Dial
from solver.harmony.harmony import Harmony, Known, worth_of
from solver.search.sets.best_first import best_first

ROUNDING = 1e-4
"""Shortfalls of published drinks are written to so much."""


@dataclass(frozen=True)
class Standing:
    """The shortfalls of published drinks, ascending."""

    shortfalls: tuple[float, ...]

    def come_up_to(self, shortfall: float) -> float:
        """The share of published drinks that are as much in keeping as one with a shortfall."""
        return bisect_right(self.shortfalls, shortfall + ROUNDING) / len(self.shortfalls)

    def reached_by(self, share: float) -> float:
        """The shortfall up to which so large a share of published drinks comes; of all for 1."""
        count = max(1, math.ceil(share * len(self.shortfalls) - ROUNDING))
        return self.shortfalls[count - 1] + ROUNDING


def best_worth(known: Known, dial: Dial) -> float:
    """What the best set of a profile is worth, of everything known, which fills its parts."""
    question = Harmony(known, dial=dial).question()
    return worth_of(next(best_first(question, Clock(math.inf))).worth)
