"""Where the ratios of a drink can lie, given what may be poured and what is asked of it.

The outer model encloses nonlinear terms on these windows, so they must hold for every drink that
could be an answer; being too wide only costs tightness.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from solver.measures import MEASURES, Measure
from solver.mixture import COLUMNS
from solver.mixture.blend import ETHANOL, LABEL, SOLIDS_ML, SUGAR, WATER, volume_ml
from solver.mixture.ethanol import (
    ETHANOL_G_ML,
    MOST_CONTRACTION,
    MOST_SWELLING,
    mass_fraction,
    specific_volume_ml_g,
)
from solver.mixture.melt import Curve
from solver.mixture.numeric import ratio
from solver.mixture.sucrose import LEAST_ROOM_ML_G, MOST_ROOM_ML_G
from solver.search.exact import LEAST_BOUND, RELATIVE_TOLERANCE, kept_total
from solver.search.problem import Problem

SAMPLES = 65
"""Points at which a smooth function is looked at to find its range."""

PASSING = 2 * RELATIVE_TOLERANCE
"""Share of a limit that a value may lie beyond it: what the exact evaluator lets pass, twice, so
that rounding here and there takes nothing away."""

EDGE = 1e-9
"""Every window is widened by this much, against rounding."""


@dataclass(frozen=True)
class Window:
    """A closed range; `low` > `high` means that there is nothing in it."""

    low: float
    high: float

    def meet(self, other: Window) -> Window:
        """What both allow."""
        return Window(max(self.low, other.low), min(self.high, other.high))

    @property
    def empty(self) -> bool:
        """Whether nothing is left, beyond rounding."""
        return self.low > self.high + EDGE * max(1.0, abs(self.high))


EVERYTHING = Window(0.0, float("inf"))


@dataclass(frozen=True)
class Windows:
    """Windows of the measures asked about, and of the ratios in nonlinear terms.

    `strength`: label ethanol by volume over label volume, before ice. Finished, by mass:
    `alcohol`, ethanol over ethanol and water; `sweetness`, sugar over sugar and water.
    `poured` and `volume` are millilitres before ice (first stage) and finished.
    """

    measures: dict[Measure, Window]
    poured: Window
    volume: Window
    strength: Window
    alcohol: Window
    sweetness: Window

    @property
    def empty(self) -> bool:
        """Whether some window shows that no drink can exist."""
        ratios = (self.poured, self.volume, self.strength, self.alcohol, self.sweetness)
        return any(window.empty for window in (*self.measures.values(), *ratios))


def windows(problem: Problem, cutoff: float | None = None) -> Windows:
    """Windows for `problem`; with `cutoff`, for drinks no further from the aims than that."""
    asked = measure_windows(problem, cutoff)
    first = _stage(problem, top=False)
    top = _stage(problem, top=True)
    poured = _label_window(problem, first)
    added = _label_window(problem, top)
    strengths = _ratio(problem, first, "ethanol_g", "label_ml", 1 / ETHANOL_G_ML)
    filled = _filled(problem)
    if not top:
        strengths = strengths.meet(_strength_before_ice(problem, asked, filled))
    melt = _values(problem.curve, strengths)
    volume = Window(
        (poured.low * (1 + melt.low) + added.low) * filled.low,
        (poured.high * (1 + melt.high) + added.high) * filled.high,
    )
    volume = volume.meet(_of(asked, "volume"))
    sugar_g_ml = min(_of(asked, "sugar").high / 100, _per_ml(problem, "sugar_g", volume, filled))
    solids_ml_ml = _per_ml(problem, "solids_ml", volume, filled)
    alcohol = _alcohol(problem, asked, sugar_g_ml, solids_ml_ml)
    sweetness = _sweetness(problem, asked, alcohol, sugar_g_ml, solids_ml_ml)
    return Windows(asked, poured, volume, strengths, alcohol, sweetness)


def measure_windows(problem: Problem, cutoff: float | None) -> dict[Measure, Window]:
    """What limits, and nearness to the aims, leave of each measure.

    Wider by what the exact evaluator lets pass: a value just beyond a limit keeps it.
    """
    asked: dict[Measure, Window] = {}
    for limit in problem.limits:
        low = 0.0 if limit.low is None else limit.low - PASSING * abs(limit.low)
        high = math.inf if limit.high is None else limit.high
        high += PASSING * max(abs(high), LEAST_BOUND) if high < math.inf else 0.0
        asked[limit.measure] = asked.get(limit.measure, EVERYTHING).meet(Window(low, high))
    if cutoff is not None:
        for aim in problem.aims:
            low, high = aim.range
            near = Window(low - cutoff * aim.tolerance, high + cutoff * aim.tolerance)
            asked[aim.measure] = asked.get(aim.measure, EVERYTHING).meet(near)
    return asked


def least_goal(problem: Problem, within: Windows, goal: Measure | None) -> float:
    """No drink in the windows has a goal below this; `goal` None is the distance from the aims.

    Off-aim is convex in each measure, with its corners at the ends of the aims.
    """
    if goal is not None:
        return within.measures.get(goal, EVERYTHING).low
    total = 0.0
    for measure in {aim.measure for aim in problem.aims}:
        aims = [aim for aim in problem.aims if aim.measure is measure]
        window = within.measures.get(measure, EVERYTHING)
        corners = [window.low, window.high, *(end for aim in aims for end in aim.range)]
        inside = np.clip([end for end in corners if end < math.inf], window.low, window.high)
        total += float(np.sum([aim.off(inside) for aim in aims], axis=0).min())
    return total


def _of(asked: dict[Measure, Window], name: str) -> Window:
    return asked.get(MEASURES[name], EVERYTHING)


def _stage(problem: Problem, *, top: bool) -> list[int]:
    return [i for i, candidate in enumerate(problem.candidates) if candidate.top is top]


def _label_window(problem: Problem, members: Sequence[int]) -> Window:
    """Least and most that the given candidates can pour together, in label millilitres."""
    label = COLUMNS.index("label_ml")
    low = high = 0.0
    for index, part in enumerate(problem.parts):
        mine = [problem.candidates[i] for i in members if problem.candidates[i].part == index]
        if not mine:
            continue
        alone = sum(candidate.part == index for candidate in problem.candidates) == len(mine)
        least = sorted(c.amounts[0] * c.composition[label] for c in mine)[: part.count_low]
        most = sorted((c.amounts[-1] * c.composition[label] for c in mine), reverse=True)
        sizes = [c.composition[label] for c in mine]
        total_low, total_high = kept_total(part)
        if alone:
            low += max(sum(least), total_low * min(sizes) * (part.count_low > 0))
        high += min(sum(most[: part.count_high]), total_high * max(sizes))
    return Window(low * (1 - EDGE), high * (1 + EDGE))


def _ratio(
    problem: Problem, members: Sequence[int], above: str, below: str, factor: float = 1.0
) -> Window:
    """Range of a ratio of columns over the given candidates, hence over every mix of them."""
    ratios = [
        factor * c.composition[COLUMNS.index(above)] / c.composition[COLUMNS.index(below)]
        for c in (problem.candidates[i] for i in members)
        if c.composition[COLUMNS.index(below)] > 0
    ]
    if not ratios:
        return Window(0.0, 0.0)
    return Window(max(0.0, min(ratios) - EDGE), max(ratios) + EDGE)


def _values(curve: Curve, window: Window) -> Window:
    """Range of the melt over a window of strengths: its extremes are at the ends, or at its top."""
    low, high = window.low, max(window.low, window.high)
    top = -0.5 * curve.linear / curve.quadratic if curve.quadratic else low
    level = curve.fraction(np.array([low, min(max(low, top), high), high]))
    return Window(max(0.0, float(level.min()) - EDGE), float(level.max()) + EDGE)


def _filled(problem: Problem) -> Window:
    """Least and most finished volume over label volumes and melt, of any mix of the candidates.

    Ethanol and water lose and gain on mixing what they do at most; a gram of sugar takes at least
    what it takes in endless water, and no more than where it comes from: the room of sugar is
    convex in its share. A dry good takes other room by itself than its label says.
    """
    poured = problem.compositions[problem.compositions[:, LABEL] > 0]
    ethanol, wet = poured[:, ETHANOL], poured[:, ETHANOL] + poured[:, WATER]
    wet_ml = wet * specific_volume_ml_g(ratio(ethanol, wet))
    least_ml = (1 - MOST_CONTRACTION) * wet_ml + LEAST_ROOM_ML_G * poured[:, SUGAR]
    least = (least_ml + poured[:, SOLIDS_ML]) / poured[:, LABEL]
    most = (1 + MOST_SWELLING) * volume_ml(poured) / poured[:, LABEL]
    return Window(
        float(least.min(initial=1 - MOST_CONTRACTION)) - EDGE,
        float(most.max(initial=1 + MOST_SWELLING)) + EDGE,
    )


def _strength_before_ice(problem: Problem, asked: dict[Measure, Window], filled: Window) -> Window:
    """Strengths before ice from which the melt leads to the finished strength asked for.

    Finished strength is a / (1 + melt(a)) over how much of that is `filled`, and a / (1 + melt(a))
    increases with a, the melt curve being concave and nowhere below 0: looked up on a grid,
    outward.
    """
    finished = _of(asked, "abv")
    strength = np.linspace(0.0, 1.0, 4001)
    reached = 100 * strength / (1 + problem.curve.fraction(strength))
    low = finished.low * filled.low
    high = finished.high * filled.high
    inside = np.flatnonzero((reached >= low) & (reached <= high))
    if not inside.size:
        inside = np.flatnonzero(reached <= high)[-1:]
    return Window(
        float(strength[max(inside[0] - 1, 0)]), float(strength[min(inside[-1] + 1, 4000)])
    )


def _most_per_drink(problem: Problem, column: str) -> float:
    """Most of a column that the parts can hold together."""
    at = COLUMNS.index(column)
    total = 0.0
    for index, part in enumerate(problem.parts):
        mine = [c for c in problem.candidates if c.part == index]
        each = sorted((c.amounts[-1] * c.composition[at] for c in mine), reverse=True)
        together = sum(each[: part.count_high])
        if part.total_high is not None and mine:
            most = kept_total(part)[1] * max(c.composition[at] for c in mine)
            together = min(together, most)
        total += together
    return total


def _per_ml(problem: Problem, column: str, volume: Window, filled: Window) -> float:
    """Most grams (or millilitres) of a column in a millilitre of finished drink."""
    richest = _ratio(problem, range(len(problem.candidates)), column, "label_ml").high
    richest /= filled.low
    return min(richest, _most_per_drink(problem, column) / volume.low) if volume.low else richest


def _alcohol(
    problem: Problem, asked: dict[Measure, Window], sugar_g_ml: float, solids_ml_ml: float
) -> Window:
    """Mass fraction of ethanol in ethanol and water, finished.

    The ethanol and water fill what sugar and solids leave of the drink, so the fraction is that of
    an unsweetened drink of the asked strength, or of one stronger by the room they take.
    """
    finished = _of(asked, "abv")
    room = 1 - MOST_ROOM_ML_G * sugar_g_ml - solids_ml_ml
    richest = 0.0
    for c in problem.candidates:
        ethanol, water = (c.composition[COLUMNS.index(n)] for n in ("ethanol_g", "water_g"))
        if ethanol + water > 0:
            richest = max(richest, ethanol / (ethanol + water))
    strongest = 100.0 if room <= 0 else min(100.0, finished.high / room)
    low = float(mass_fraction(np.array(min(finished.low, 100.0))))
    high = min(richest, float(mass_fraction(np.array(strongest))))
    return Window(max(0.0, low - EDGE), min(1.0, high + EDGE))


def _sweetness(
    problem: Problem,
    asked: dict[Measure, Window],
    alcohol: Window,
    sugar_g_ml: float,
    solids_ml_ml: float,
) -> Window:
    """Mass fraction of sugar in sugar and water, finished."""
    least = _of(asked, "sugar").low / 100
    volumes = specific_volume_ml_g(
        np.linspace(alcohol.low, max(alcohol.low, alcohol.high), SAMPLES)
    )
    room = max(0.0, 1 - MOST_ROOM_ML_G * sugar_g_ml - solids_ml_ml)
    least_water = 0.999 * room / float(volumes.max()) * (1 - alcohol.high)
    most_water = 1.001 / float(volumes.min()) * (1 - alcohol.low)
    richest = 0.0
    for c in problem.candidates:
        sugar, water = (c.composition[COLUMNS.index(n)] for n in ("sugar_g", "water_g"))
        if sugar > 0:
            richest = max(richest, sugar / (sugar + water))
    low = least / (least + most_water) if least > 0 else 0.0
    high = sugar_g_ml / (sugar_g_ml + least_water) if sugar_g_ml > 0 else 0.0
    return Window(max(0.0, low - EDGE), min(1.0, high + EDGE, richest + EDGE))
