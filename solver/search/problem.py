"""The problem as numbers only: what may be poured, what the drink must be, what is best.

Nothing here knows a file, a unit or a sentence. Volumes are millilitres, masses grams, strengths
per cent by volume, concentrations grams per 100 mL.
"""

from __future__ import annotations

import enum
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from solver.measures import CHANGES, MEASURES, ODDNESS, SHIFT, Form, Measure
from solver.mixture import COLUMNS
from solver.mixture.melt import Curve

Floats = npt.NDArray[np.float64]

Drink = tuple[tuple[int, int], ...]
"""The pours of one drink: pairs (candidate, position in its amounts), ascending."""


@enum.unique
class Goal(enum.StrEnum):
    """What is optimised first; being close to the aims always comes second."""

    CLOSEST = "closest"
    """Least distance from the aims, in noticeable differences."""
    CHEAPEST = "cheapest"
    LIGHTEST = "lightest"
    """Least alcohol."""
    FEWEST = "fewest"
    """Fewest ingredients."""
    NEAREST = "nearest"
    """Fewest pours changed from those of a drink, then by as little as possible."""
    IN_KEEPING = "in-keeping"
    """What goes together most usually; a search by sets of ingredients (see `in_keeping`)."""
    USUAL = "usual"
    """The most usual amounts."""

    @property
    def measures(self) -> tuple[Measure, ...]:
        """What is minimised, one after the other; with none, the distance from the aims."""
        return {
            Goal.CHEAPEST: (MEASURES["cost"],),
            Goal.LIGHTEST: (MEASURES["ethanol"],),
            Goal.FEWEST: (MEASURES["bottles"],),
            Goal.NEAREST: (CHANGES, SHIFT),
            Goal.USUAL: (ODDNESS,),
        }.get(self, ())

    @property
    def measure(self) -> Measure | None:
        """The measure that is minimised first, or None for the distance from the aims."""
        return self.measures[0] if self.measures else None


@dataclass(frozen=True)
class Former:
    """What the drink that changes are counted from pours in a candidate's place.

    `same` says that it is this very ingredient: as much of it is no change, and none of it is one.
    Otherwise the candidate stands in for another, and pouring it is a change, whatever the amount.
    `amount` is 0 where nothing was there. It and `step`, one step of change, are in the candidate's
    unit. A change counts as so many: `counts` is more for what somebody would rather not pour
    otherwise, or instead.
    """

    amount: float = 0.0
    step: float = 1.0
    same: bool = False
    counts: float = 1.0

    def changes(self, amounts: Floats) -> Floats:
        """What each of the candidate's amounts counts as a change: 0 for what is none."""
        if not self.same:
            return np.asarray(self.counts * (amounts > 0), dtype=float)
        moved = np.abs(amounts - self.amount) > SAME_POUR * self.amount
        return np.asarray(self.counts * moved, dtype=float)

    def shift(self, amounts: Floats) -> Floats:
        """How many steps each of the candidate's amounts is away."""
        steps = np.abs(amounts - self.amount) / self.step
        return np.asarray(steps if self.same else np.where(amounts > 0, steps, 0.0))


SAME_LEVEL = 1e-6
"""By how little amounts differ that are one in equal pours: a millionth of a millilitre."""
SAME_POUR = 1e-9
"""Share by which two pours differ that are the same: rounding only."""


@dataclass(frozen=True)
class Candidate:
    """An ingredient in a part, with every amount of it that the bar's tools can measure.

    `amounts` ascend, in `per` (millilitres, or grams of what is weighed); `composition` is one row
    of `solver.mixture` columns for one unit of it; `cost` is the price of one unit, None where it
    is not known. `top` marks what is added after the ice has done its work. `former` matters where
    changes are counted, `oddness` where pours are chosen that nobody tells apart: how unusual each
    of the amounts is, 0 for what is usual; empty where all are. `carries` says how much of a usual
    pour one unit of it is, for each measure of character that it counts to, by its name.
    """

    ingredient: str
    part: int
    amounts: tuple[float, ...]
    composition: tuple[float, ...]
    cost: float | None = None
    top: bool = False
    former: Former = Former()
    oddness: tuple[float, ...] = ()
    carries: tuple[tuple[str, float], ...] = ()

    def carried(self, measure: Measure) -> float:
        """What one unit of it counts to a measure of character, in usual pours."""
        return dict(self.carries).get(measure.name, 0.0)

    def odd(self, amounts: Floats) -> Floats:
        """How unusual each of some of its amounts is, of their shape; 0 for nothing poured."""
        if not self.oddness:
            return np.zeros(np.shape(amounts))
        known, values = np.array(self.amounts), np.array(self.oddness)
        at = np.abs(np.asarray(amounts)[..., np.newaxis] - known).argmin(axis=-1)
        return np.where(np.asarray(amounts) > 0, values[at], 0.0)


@dataclass(frozen=True)
class PartRule:
    """How many ingredients fill a part, and how much of them together (mL or g as poured)."""

    name: str
    count_low: int
    count_high: int
    total_low: float | None = None
    total_high: float | None = None


@dataclass(frozen=True)
class Limit:
    """A hard bound on one measure of the finished drink; either side may be open."""

    name: str
    measure: Measure
    low: float | None = None
    high: float | None = None


@dataclass(frozen=True)
class Choice:
    """A hard bound on how many of some candidates are poured."""

    name: str
    members: frozenset[int]
    low: int = 0
    high: int | None = None


@dataclass(frozen=True)
class Aim:
    """A value that a measure should come close to; `tolerance` is one noticeable difference.

    With `until`, a range that it should come close to: from `value` to `until`, which may be
    infinite. Nothing in the range is off aim.
    """

    measure: Measure
    value: float
    tolerance: float
    until: float | None = None

    @property
    def range(self) -> tuple[float, float]:
        """Least and most that is not off aim."""
        return self.value, self.value if self.until is None else self.until

    def off(self, values: Floats) -> Floats:
        """How far values are off this aim, in noticeable differences, of their shape."""
        low, high = self.range
        return np.asarray(np.maximum(low - values, values - high).clip(min=0.0) / self.tolerance)

    def distance(self, value: float) -> float:
        """How far one value is off, in noticeable differences: below 0 for too little."""
        off = float(self.off(np.array(value)))
        return -off if value < self.range[0] else off


@dataclass(frozen=True)
class Problem:
    """Everything the search needs to know of one request.

    `equal` are parts, by their positions, of which every pour is as large as every other; one of
    them at least is always filled. `characters` are measures of character that may be named: all
    that its candidates carry.
    """

    candidates: tuple[Candidate, ...]
    parts: tuple[PartRule, ...]
    curve: Curve
    limits: tuple[Limit, ...] = ()
    choices: tuple[Choice, ...] = ()
    aims: tuple[Aim, ...] = ()
    goal: Goal = Goal.CLOSEST
    equal: frozenset[int] = frozenset()
    characters: tuple[Measure, ...] = ()

    @cached_property
    def levels(self) -> tuple[float, ...]:
        """Every amount that the pours of the equal parts may have, ascending.

        Of amounts that follow closer than `SAME_LEVEL` on each other, the least.
        """
        mine = sorted(a for c in self.candidates if c.part in self.equal for a in c.amounts)
        pairs = pairwise((-math.inf, *mine))
        return tuple(amount for before, amount in pairs if amount - before > SAME_LEVEL)

    def level_of(self, amounts: npt.ArrayLike) -> npt.NDArray[np.intp]:
        """The position among `levels` of each amount, of their shape; -1 for none.

        Pours are equal if this is the same.
        """
        return np.asarray(np.searchsorted(self.levels, amounts, side="right") - 1)

    @cached_property
    def named(self) -> frozenset[Measure]:
        """Every measure that a limit, an aim or the goal names."""
        limited = {limit.measure for limit in self.limits}
        aimed = {aim.measure for aim in self.aims}
        return frozenset(limited | aimed | set(self.goal.measures))

    @property
    def about_cost(self) -> bool:
        """Whether a limit, an aim or the goal is on the cost: then every pour must have a price."""
        return any(measure.form is Form.COST for measure in self.named)

    @cached_property
    def compositions(self) -> Floats:
        """Composition of one unit of each candidate, shape (candidates, columns)."""
        rows = [candidate.composition for candidate in self.candidates]
        return np.array(rows, dtype=float).reshape(len(rows), len(COLUMNS))

    @cached_property
    def costs(self) -> Floats:
        """Price of one unit of each candidate, shape (candidates,); NaN where it is not known."""
        return np.array([np.nan if c.cost is None else c.cost for c in self.candidates])

    @cached_property
    def emptied(self) -> Mapping[Measure, float]:
        """Changes and shift of an empty glass, in which every former pour is left out."""
        none = np.zeros(1)
        return {
            CHANGES: sum(float(c.former.changes(none)[0]) for c in self.candidates),
            SHIFT: sum(float(c.former.shift(none)[0]) for c in self.candidates),
        }

    @cached_property
    def first_stage(self) -> npt.NDArray[np.bool_]:
        """Which candidates meet the ice, shape (candidates,)."""
        return np.array([not c.top for c in self.candidates], dtype=bool)

    def amounts(self, drink: Drink) -> Floats:
        """Units of each candidate in `drink`, shape (candidates,)."""
        amounts = np.zeros(len(self.candidates))
        for candidate, position in drink:
            amounts[candidate] = self.candidates[candidate].amounts[position]
        return amounts

    def with_limits(self, *limits: Limit) -> Problem:
        """The same problem with further limits."""
        return replace(self, limits=(*self.limits, *limits))

    def with_choices(self, *choices: Choice) -> Problem:
        """The same problem with further choices."""
        return replace(self, choices=(*self.choices, *choices))

    def of_candidates(self, kept: Sequence[int]) -> Problem:
        """The same problem with some of its candidates alone, in that order."""
        position = {old: new for new, old in enumerate(kept)}
        choices = tuple(
            replace(c, members=frozenset(position[m] for m in c.members if m in position))
            for c in self.choices
        )
        return replace(self, candidates=tuple(self.candidates[i] for i in kept), choices=choices)
