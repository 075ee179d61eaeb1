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
from functools import partial

import numpy as np

from solver.clock import Clock
from solver.measures import OF_POURS, Form, Measure
from solver.mixture import COLUMNS
from solver.mixture.ethanol import ETHANOL_G_ML, WATER_G_ML
from solver.search.enclosure import ETHANOL_WATER, MOST_BINS, SUGAR, RatioTerm, add_term, melt_term
from solver.search.enumeration.pour_vectors import of_picks
from solver.search.exact import places
from solver.search.intervals import Window, Windows
from solver.search.milp.disjunction import Bins
from solver.search.milp.rows import Rows, Terms, add, minus, scale, value
from solver.search.problem import AMOUNT_DIGITS, Aim, Drink, PartRule, Problem

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
    model = PourModel(problem, within, fineness, clock)
    model.structure()
    model.measures()
    objective = model.distance(below) if goal is None else model.total_goal(goal)
    if below is not None:
        model.rows.at_most("better than the incumbent", {objective: 1.0}, below)
    for drink in forbidden:
        model.forbid(drink)
    return Relaxation(model.rows, tuple(model.picks), objective, DISTANCE_SCALE)


class PourModel:
    """The outer model while it grows: decisions first, then what follows from them."""

    def __init__(
        self, problem: Problem, within: Windows, fineness: Fineness, clock: Clock | None
    ) -> None:
        self.problem = problem
        self.within = within
        self.fineness = fineness
        self.rows = Rows(clock)
        self.picks: list[tuple[int, int]] = []
        self.used: list[Terms] = []
        for index, candidate in enumerate(problem.candidates):
            decisions: Terms = {}
            for position in range(len(candidate.amounts)):
                decisions[self.rows.decision(f"{candidate.ingredient} {position}")] = 1.0
                self.picks.append((index, position))
            self.used.append(decisions)
        self.volume = self._volume()

    def total(self, column: str, *, top: bool | None = None) -> Terms:
        """Total of a column over all pours, or over one stage."""
        at = COLUMNS.index(column)
        terms: Terms = {}
        for decision, (index, position) in enumerate(self.picks):
            candidate = self.problem.candidates[index]
            if top is None or candidate.top is top:
                terms[decision] = candidate.amounts[position] * candidate.composition[at]
        return terms

    def structure(self) -> None:
        """Parts, choices, prices, and no ingredient twice."""
        for index, part in enumerate(self.problem.parts):
            self._part(index, part)
        for choice in self.problem.choices:
            count = add(*(self.used[i] for i in choice.members))
            self.rows.at_least(choice.name, count, choice.low)
            if choice.high is not None:
                self.rows.at_most(choice.name, count, choice.high)
        if self.problem.about_cost:
            unpriced = [self.used[i] for i in np.flatnonzero(np.isnan(self.problem.costs))]
            self.rows.at_most("no price", add(*unpriced), 0)
        for members in places(self.problem).values():
            if len(members) > 1:
                self.rows.at_most("in one part", add(*(self.used[i] for i in members)), 1)
        if self.problem.equal:
            self._equal()

    def _part(self, index: int, part: PartRule) -> None:
        """How many ingredients fill a part, each once, and how much of them together."""
        mine = [i for i, c in enumerate(self.problem.candidates) if c.part == index]
        count = add(*(self.used[i] for i in mine))
        poured = {
            decision: self.problem.candidates[i].amounts[position]
            for decision, (i, position) in enumerate(self.picks)
            if self.problem.candidates[i].part == index
        }
        self.rows.at_least(f"{part.name} count", count, part.count_low)
        self.rows.at_most(f"{part.name} count", count, part.count_high)
        for i in mine if part.count_high > 1 else ():
            self.rows.at_most("one pour of each", self.used[i], 1)
        if part.total_high is not None and part.count_high > 1:
            self.rows.at_most(f"{part.name} total", poured, part.total_high)
        if part.total_low is not None and part.count_low > 0:
            self.rows.at_least(f"{part.name} total", poured, part.total_low)

    def _equal(self) -> None:
        """One amount for every pour of the parts that are poured alike."""
        by_level: dict[float, Terms] = {level: {} for level in self.problem.levels}
        for decision, (index, position) in enumerate(self.picks):
            candidate = self.problem.candidates[index]
            if candidate.part in self.problem.equal:
                by_level[round(candidate.amounts[position], AMOUNT_DIGITS)][decision] = 1.0
        most = sum(self.problem.parts[part].count_high for part in self.problem.equal)
        chosen: Terms = {}
        for level, pours in by_level.items():
            lift = partial(_any_of, tuple(pours))
            at = self.rows.yes_or_no(f"all of {level:g}", lift)
            chosen[at] = 1.0
            self.rows.at_most("equal pours", add(pours, {at: -float(most)}), 0.0)
        self.rows.at_most("one amount", chosen, 1.0)

    def _volume(self) -> Terms:
        """The finished volume, by way of the three nonlinear terms."""
        ethanol = self.total("ethanol_g")
        sugar = self.total("sugar_g")
        melt_g = scale(self._melt(), WATER_G_ML)
        water = add(self.total("water_g"), melt_g)
        most_g = 1.2 * self.within.volume.high
        wet = self._enclosed(
            ETHANOL_WATER, self.within.alcohol, ethanol, add(ethanol, water), most_g
        )
        sweet = self._enclosed(SUGAR, self.within.sweetness, sugar, add(sugar, water), most_g)
        return add(wet, sweet, self.total("solids_ml"))

    def _melt(self) -> Terms:
        """Millilitres of melt, from the first stage's label volume and strength."""
        poured = self.total("label_ml", top=False)
        curve = self.problem.curve
        if curve.linear == 0 and curve.quadratic == 0:
            return scale(poured, curve.constant)
        ethanol_ml = scale(self.total("ethanol_g", top=False), 1 / ETHANOL_G_ML)
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
            return add(*self.used)
        if measure.form is Form.COST:
            return self._cost()
        if measure.form in OF_POURS:
            return dict(enumerate(of_picks(self.problem, measure).tolist()))
        factor = measure.factor * (100.0 if measure.form is Form.CONCENTRATION else 1.0)
        return scale(self.total(measure.column), factor)

    def _cost(self) -> Terms:
        """What the pours cost; what has no price is not poured."""
        prices = np.nan_to_num(self.problem.costs)
        return {
            decision: self.problem.candidates[index].amounts[position] * float(prices[index])
            for decision, (index, position) in enumerate(self.picks)
        }

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
            self._most(bound) + constant,
            DISTANCE_SCALE,
            lambda real: value(bound, real) + constant,
        )
        self.rows.at_least(name, minus({objective: 1.0}, bound), constant)
        return objective

    def _excess(self, aim: Aim, sides: list[tuple[Terms, float]]) -> Terms:
        """A variable of at least 0 and each side (terms, constant), in noticeable differences."""
        unit = 1 / aim.tolerance
        kept = [(scale(t, unit), c * unit) for t, c in sides if c > -math.inf and _finite(t)]
        most = max((self._most(terms) + constant for terms, constant in kept), default=0.0)
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
        most = [self._most(numerator)] * len(rights)
        shares = bins.split("off", numerator, most, VOLUME_SCALE)
        return add(*(scale(s, 1 / right) for s, right in zip(shares, rights, strict=True)))

    def _most(self, terms: Terms) -> float:
        """An upper bound on an expression: every part filled with its largest coefficients."""
        by_candidate: dict[int, float] = {}
        total = 0.0
        for position, coefficient in terms.items():
            if position < len(self.picks):
                index = self.picks[position][0]
                by_candidate[index] = max(by_candidate.get(index, 0.0), coefficient)
            elif coefficient > 0:
                variable = self.rows.variables[position]
                total += coefficient * variable.high / (variable.scale or 1.0)
        for index, part in enumerate(self.problem.parts):
            mine = (v for i, v in by_candidate.items() if self.problem.candidates[i].part == index)
            total += sum(sorted(mine, reverse=True)[: part.count_high])
        return total

    def forbid(self, drink: Drink) -> None:
        """Cut off exactly this drink (a no-good cut): one of its pours must go, or another join."""
        inside = set(drink)
        terms = {d: 1.0 if pick in inside else -1.0 for d, pick in enumerate(self.picks)}
        self.rows.at_most("seen", terms, len(inside) - 1)


def _finite(terms: Terms) -> bool:
    return all(math.isfinite(coefficient) for coefficient in terms.values())


def _any_of(decisions: Sequence[int], real: Sequence[float]) -> float:
    """Whether any of some decisions is taken."""
    return float(any(real[decision] for decision in decisions))
