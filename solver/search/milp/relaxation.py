"""The outer model: rows that every drink of the problem satisfies, and a bound on what is best.

Linear in the pours are the totals before ice. Three nonlinear terms lead from there to the finished
volume F: the melt, the contraction of ethanol and water, and the room of sugar (see `enclosure`). F
then enters every limit on a concentration, as F times the bound, and the distance from the aims, as
a quotient:

    off-aim = Σ |100 Q - q F| / (t F) + |F - f| / t      (Q total, q aim, t tolerance)

The sum of the numerators is N; on a bin of F no wider than [L, U], N/F >= N/U.

Measured reasons for this shape are in DEVELOPERS.md.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from solver.clock import Clock
from solver.measures import OF_POURS, Form, Measure
from solver.mixture.ethanol import ETHANOL_G_ML, LEAST_WET_ML_G, WATER_G_ML
from solver.mixture.sucrose import LEAST_SWEET_ML_G
from solver.search.enclosure import ETHANOL_WATER, MOST_BINS, SUGAR, RatioTerm, add_term, melt_term
from solver.search.enumeration.pour_vectors import of_picks
from solver.search.intervals import Window, Windows
from solver.search.milp.disjunction import Bins
from solver.search.milp.pour_rows import PourRows
from solver.search.milp.rows import Rows, Terms, add, minus, scale, value
from solver.search.problem import Aim, Drink, Problem

VOLUME_SCALE = 1000.0
"""Integer units in a millilitre or gram."""
DISTANCE_SCALE = 10_000.0
"""Integer units in a noticeable difference, or in a unit of the goal's measure."""


@dataclass(frozen=True)
class Relaxation:
    """An outer model and how to read it.

    `picks` gives the pour that each decision stands for, in the order of the first variables;
    `objective` is the variable to minimise, in `1/objective_scale` of the goal's unit.
    """

    rows: Rows
    picks: tuple[tuple[int, int], ...]
    objective: int
    objective_scale: float

    def drink(self, decisions: Sequence[int]) -> Drink:
        """The drink that the decisions pour."""
        return tuple(sorted(p for p, on in zip(self.picks, decisions, strict=True) if on))

    def lifted(self, drink: Drink) -> list[int]:
        """Every variable's value for a drink."""
        poured = set(drink)
        return self.rows.lifted([1.0 if pick in poured else 0.0 for pick in self.picks])


@dataclass(frozen=True)
class Fineness:
    """How closely nonlinear terms are enclosed.

    `band` is the widest enclosure of a term, as a share of the volume; `quotient` the widest bin of
    the finished volume in the distance from the aims, as a ratio of its ends.
    """

    band: float = 2e-3
    quotient: float = 1.1

    def finer(self) -> Fineness:
        """Enclosures an eighth as wide, quotient bins half as wide down to 1 %."""
        return Fineness(self.band / 8, max(1.01, 1 + (self.quotient - 1) / 2))


def formulate(
    problem: Problem,
    within: Windows,
    fineness: Fineness,
    *,
    goal: Measure | None,
    below: float | None = None,
    forbidden: Sequence[Drink] = (),
    clock: Clock | None = None,
) -> Relaxation:
    """The outer model of `problem` on the given windows.

    `goal` is the measure to minimise, None for the distance from the aims. With `below`, only
    drinks whose goal is at most that are kept. `forbidden` drinks are cut off one by one.

    Raises:
        TimeUpError: the `clock` ran out before the model was whole.
    """
    pours = PourRows(problem, clock)
    model = MeasureRows(pours, within, fineness)
    pours.structure()
    model.measures()
    objective = model.distance(below) if goal is None else model.total_goal(goal)
    if below is not None:
        pours.rows.at_most("better than the incumbent", {objective: 1.0}, below)
    for drink in forbidden:
        pours.forbid(drink)
    return Relaxation(pours.rows, tuple(pours.picks), objective, DISTANCE_SCALE)


class MeasureRows:
    """The rows that follow for the finished drink: its volume, its limits, and what is best."""

    def __init__(self, pours: PourRows, within: Windows, fineness: Fineness) -> None:
        self.pours = pours
        self.problem = pours.problem
        self.rows = pours.rows
        self.within = within
        self.fineness = fineness
        self.volume = self._volume()

    def _volume(self) -> Terms:
        """The finished volume, by way of the three nonlinear terms."""
        ethanol = self.pours.total("ethanol_g")
        sugar = self.pours.total("sugar_g")
        melt_g = scale(self._melt(), WATER_G_ML)
        water = add(self.pours.total("water_g"), melt_g)
        most_ml = self.within.volume.high
        most_wet_g, most_sweet_g = most_ml / LEAST_WET_ML_G, most_ml / LEAST_SWEET_ML_G
        wet = self._enclosed(
            ETHANOL_WATER, self.within.alcohol, ethanol, add(ethanol, water), most_wet_g
        )
        sweet = self._enclosed(SUGAR, self.within.sweetness, sugar, add(sugar, water), most_sweet_g)
        return add(wet, sweet, self.pours.total("solids_ml"))

    def _melt(self) -> Terms:
        """Millilitres of melt, from the first stage's label volume and strength."""
        poured = self.pours.total("label_ml", top=False)
        curve = self.problem.curve
        if curve.linear == 0 and curve.quadratic == 0:
            return scale(poured, curve.constant)
        ethanol_ml = scale(self.pours.total("ethanol_g", top=False), 1 / ETHANOL_G_ML)
        return self._enclosed(
            melt_term(curve), self.within.strength, ethanol_ml, poured, self.within.poured.high
        )

    def _enclosed(
        self, term: RatioTerm, window: Window, numerator: Terms, denominator: Terms, most: float
    ) -> Terms:
        lines = term.bins(window.low, max(window.low, window.high), self.fineness.band)
        return add_term(
            self.rows, term, lines, numerator, denominator, most=most, resolution=VOLUME_SCALE
        )

    def _amount(self, measure: Measure) -> Terms:
        """The measure itself if it is linear, else the total that is divided by the volume.

        Changes and shift are larger by those of an empty glass.
        """
        if measure.form is Form.VOLUME:
            return self.volume
        if measure.form is Form.COUNT:
            return add(*self.pours.used)
        if measure.form is Form.COST:
            return self.pours.cost()
        if measure.form in OF_POURS:
            return dict(enumerate(of_picks(self.problem, measure).tolist()))
        factor = measure.factor * (100.0 if measure.form is Form.CONCENTRATION else 1.0)
        return scale(self.pours.total(measure.column), factor)

    def measures(self) -> None:
        """Limits, and the windows that nearness to the aims implies."""
        self._keep("volume", self.volume, self.within.volume, concentration=False)
        for measure, window in self.within.measures.items():
            if measure.form is not Form.VOLUME:
                concentration = measure.form is Form.CONCENTRATION
                empty = self.problem.emptied.get(measure, 0.0)
                shifted = Window(window.low - empty, window.high - empty)
                amount = self._amount(measure)
                self._keep(measure.name, amount, shifted, concentration=concentration)

    def _keep(self, name: str, amount: Terms, window: Window, *, concentration: bool) -> None:
        for bound, keep in ((window.low, self.rows.at_least), (window.high, self.rows.at_most)):
            if concentration and 0 < bound < np.inf:
                keep(name, minus(amount, scale(self.volume, bound)), 0.0)
            elif bound < np.inf and (bound != 0 or keep == self.rows.at_most):
                keep(name, amount, bound)

    def total_goal(self, goal: Measure) -> int:
        """A variable at least as large as the goal's measure, and its position."""
        return self._objective("goal", self._amount(goal), self.problem.emptied.get(goal, 0.0))

    def distance(self, below: float | None) -> int:
        """A variable at least as large as the distance from the aims, and its position.

        If only drinks closer than `below` matter, then N/F + G <= below, G what does not depend on
        the volume; times F, and with F at its least before G, this is a row without bins.
        """
        off: list[Terms] = []
        parts: list[Terms] = []
        for aim in self.problem.aims:
            amount = self._amount(aim.measure)
            if aim.measure.form is Form.CONCENTRATION:
                sides = [
                    (minus(scale(self.volume, aim.range[0]), amount), 0.0),
                    (minus(amount, scale(self.volume, aim.range[1])), 0.0),
                ]
                off.append(self._excess(aim, sides))
            else:
                low, high = aim.range
                parts.append(self._excess(aim, [(scale(amount, -1.0), low), (amount, -high)]))
        if off:
            if below is not None:
                least = scale(add(*parts), self.within.volume.low)
                room = scale(self.volume, -below)
                self.rows.at_most("closer than the incumbent", add(*off, least, room), 0.0)
            parts.append(self._quotient(add(*off)))
        return self._objective("off aim", add(*parts))

    def _objective(self, name: str, bound: Terms, constant: float = 0.0) -> int:
        objective = self.rows.real(
            name,
            self.pours.most(bound) + constant,
            DISTANCE_SCALE,
            lambda real: value(bound, real) + constant,
        )
        self.rows.at_least(name, minus({objective: 1.0}, bound), constant)
        return objective

    def _excess(self, aim: Aim, sides: list[tuple[Terms, float]]) -> Terms:
        """A variable of at least 0 and each side (terms, constant), in noticeable differences."""
        unit = 1 / aim.tolerance
        kept = [(scale(t, unit), c * unit) for t, c in sides if c > -math.inf and _finite(t)]
        most = max((self.pours.most(terms) + constant for terms, constant in kept), default=0.0)
        off = self.rows.real(
            f"{aim.measure.name} off",
            max(most, 0.0),
            VOLUME_SCALE,
            lambda real: max([0.0, *(value(terms, real) + constant for terms, constant in kept)]),
        )
        for terms, constant in kept:
            self.rows.at_least(f"{aim.measure.name} off", minus({off: 1.0}, terms), constant)
        return {off: 1.0}

    def _quotient(self, numerator: Terms) -> Terms:
        """A lower estimate of numerator / finished volume: on each bin, over its upper end."""
        low, high = self.within.volume.low, max(self.within.volume.low, self.within.volume.high)
        count = math.ceil(math.log(high / low) / math.log(self.fineness.quotient)) if low > 0 else 1
        if count <= 1:
            return scale(numerator, 1 / high)
        edges = np.geomspace(low, high, min(count, MOST_BINS) + 1)
        edges[0], edges[-1] = low, high

        def chosen(real: Sequence[float]) -> int:
            inside = int(np.searchsorted(edges[1:], value(self.volume, real)))
            return min(inside, len(edges) - 2)

        bins = Bins(self.rows, "volume", len(edges) - 1, chosen)
        rights = edges[1:].tolist()
        volumes = bins.split("volume", self.volume, rights, VOLUME_SCALE)
        for volume, switch, left in zip(volumes, bins.switches, edges.tolist(), strict=False):
            self.rows.at_least("volume bin", add(volume, {switch: -left}), 0.0)
        most = [self.pours.most(numerator)] * len(rights)
        shares = bins.split("off", numerator, most, VOLUME_SCALE)
        return add(*(scale(s, 1 / right) for s, right in zip(shares, rights, strict=True)))


def _finite(terms: Terms) -> bool:
    return all(math.isfinite(coefficient) for coefficient in terms.values())
