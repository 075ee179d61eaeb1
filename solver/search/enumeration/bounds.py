"""An outer approximation of a problem: linear inequalities on totals that every good drink keeps.

The melt, the contraction and the room of sugar are enclosed between two lines each, on the windows
of the request. The finished volume F then lies between two linear functions of the totals, and so
does every limit: a concentration Q / F is at most q only if Q <= q · (the upper line of F).
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from solver.measures import MEASURES, Form, Measure
from solver.mixture import COLUMNS
from solver.mixture.ethanol import ETHANOL_G_ML, WATER_G_ML
from solver.search.enclosure import ETHANOL_WATER, SUGAR, Line, RatioTerm, melt_term
from solver.search.enumeration.pour_vectors import UNPRICED, WIDTH, Bools, choices_at, column_of
from solver.search.problem import Floats, Problem, Wanted
from solver.search.tolerances import ROW_SLACK, ROW_SLACK_ABSOLUTE
from solver.search.windows import Window, Windows

LhsOfRow = Callable[[int], Floats]
"""The left-hand sides of one row, by its position."""


@dataclass(frozen=True, eq=False)
class Inequalities:
    """Rows of the form `totals @ weights <= most`, and bounds on the goal from below.

    `weights` has shape (columns, rows + bounds): the left-hand sides of a drink are the sum of
    those of its pours. The first `len(most)` must not exceed `most`, shape (rows,); then come two
    for each term of the goal, neither of which, plus its constant, exceeds the term. `axes`, shape
    (columns, axes), are directions in which drinks differ; `rows_of_axis` has for each axis the
    rows that it separates; None if it separates by the goal.
    """

    weights: Floats
    most: Floats
    constants: Floats
    axes: Floats
    rows_of_axis: tuple[frozenset[int] | None, ...]

    def lhs(self, totals: Floats) -> Floats:
        """Left-hand sides, shape (n, rows + bounds), of totals of shape (n, columns)."""
        return np.asarray(totals @ self.weights)

    def coordinates(self, totals: Floats) -> Floats:
        """Coordinates of totals along the axes, in noticeable differences, shape (n, axes)."""
        return np.asarray(totals @ self.axes)

    def without_redundant(self, greatest: Floats) -> tuple[Inequalities, Bools]:
        """The inequalities without redundant rows, and which of the left-hand sides are left.

        `greatest` is the most that each left-hand side can be, shape (rows + bounds,). Axes go with
        their rows; one stays.
        """
        left = np.ones(len(greatest), dtype=bool)
        left[1 : len(self.most)] = greatest[1 : len(self.most)] > self.most[1:]
        rows = frozenset(np.flatnonzero(left[: len(self.most)]).tolist())
        axes = [at for at, of in enumerate(self.rows_of_axis) if of is None or of & rows] or [0]
        fewer = Inequalities(
            self.weights[:, left],
            self.most[left[: len(self.most)]],
            self.constants,
            self.axes[:, axes],
            (None,) * len(axes),
        )
        return fewer, left

    def hold(self, lhs: Floats) -> Bools:
        """Whether left-hand sides, shape (n, rows + bounds), keep every row, shape (n,)."""
        return self.hold_by_row(lambda row: lhs[:, row], lhs.shape[:1])

    def hold_by_row(self, lhs: LhsOfRow, shape: tuple[int, ...]) -> Bools:
        """The same, row by row, each of the given shape."""
        held = np.ones(shape, dtype=bool)
        for row, bound in enumerate(self.most):
            held &= lhs(row) <= bound
        return held

    def goal_bound(self, lhs: Floats) -> Floats:
        """A lower bound on the goal of any drink with such left-hand sides, shape (n,)."""
        # Column by column: reductions over short axes are slow.
        return self.goal_bound_by_row(lambda row: lhs[:, row], lhs.shape[:1])

    def goal_bound_by_row(self, lhs: LhsOfRow, shape: tuple[int, ...]) -> Floats:
        """The same, row by row, each of the given shape."""
        total = np.full(shape, -ROW_SLACK_ABSOLUTE)
        first = len(self.most)
        for term in range(0, len(self.constants), 2):
            one = lhs(first + term) + self.constants[term]
            other = lhs(first + term + 1) + self.constants[term + 1]
            total += np.maximum(np.maximum(one, other), 0.0)
        return total

    def may_improve(self, lhs: Floats, below: float) -> Bools:
        """Whether a drink with such left-hand sides may keep the limits, its goal under `below`."""
        return self.hold(lhs) & (self.goal_bound(lhs) < below)


def inequalities(
    problem: Problem, within: Windows, goal: Measure | None, wanted: Wanted = Wanted.BEST
) -> Inequalities:
    """The inequalities of `problem` on the given windows; `goal` None is the distance.

    Where not the best drink is wanted, the goal gives no axis.
    """
    columns = choices_at(problem) + len(problem.choices)
    low, high = volume_lines(problem, within, columns)
    rows = _Writing(problem, within, low, high)
    rows.of_pours()
    rows.of_volume()
    for measure, window in within.measures.items():
        if measure.form is Form.CONCENTRATION:
            rows.of_concentration(measure, window)
        elif measure.form is not Form.VOLUME:
            rows.of_total(measure, window)
    terms, constants = _goal(problem, within, goal, low, high)
    aimed = {MEASURES["volume"]} | {aim.measure for aim in problem.aims} if goal is None else {goal}
    split_by_goal = aimed if wanted is Wanted.BEST else frozenset()
    axes = _axes(problem, within, 0.5 * (low + high))
    return Inequalities(
        np.column_stack([*rows.weights, *terms]),
        np.array(rows.most),
        np.array(constants),
        np.column_stack(list(axes.values())),
        tuple(None if of in split_by_goal else frozenset(rows.about.get(of, ())) for of in axes),
    )


class _Writing:
    """The rows `totals @ weights <= most` while they are written, and which are `about` a measure.

    `low` and `high` are linear functions below and above the finished volume, shape (columns,).
    """

    def __init__(self, problem: Problem, within: Windows, low: Floats, high: Floats) -> None:
        self.problem = problem
        self.within = within
        self.low, self.high = low, high
        self.columns = len(low)
        self.weights: list[Floats] = [np.zeros(self.columns)]
        self.most: list[float] = [0.0]
        self.about: dict[Measure, list[int]] = {}

    def of_pours(self) -> None:
        """Every pour has a price where the cost is asked about, and every choice is kept."""
        self._at_most(self._column(UNPRICED), 0.0 if self.problem.about_cost else math.inf)
        for index, choice in enumerate(self.problem.choices):
            members = self._column(choices_at(self.problem) + index)
            self._at_most(members, math.inf if choice.high is None else choice.high)
            self._at_most(-members, -choice.low)

    def of_volume(self) -> None:
        """The finished volume, and the strength before ice, lie in their windows."""
        volume, strength = self.within.volume, self.within.strength
        self._at_most(self.low, volume.high, MEASURES["volume"])
        self._at_most(-self.high, -volume.low, MEASURES["volume"])
        strong, label = _strength(self.columns)
        self._at_most(strong - strength.high * label, 0.0)
        self._at_most(strength.low * label - strong, 0.0)

    def of_concentration(self, measure: Measure, window: Window) -> None:
        """A total over the volume lies in its window."""
        amount = _total(self.problem, measure, self.columns)
        if window.low > 0:
            self._at_most(window.low * (1 - ROW_SLACK) * self.low - amount, 0.0, measure)
        if window.high < math.inf:
            self._at_most(amount - window.high * (1 + ROW_SLACK) * self.high, 0.0, measure)

    def of_total(self, measure: Measure, window: Window) -> None:
        """A total lies in its window; changes are larger by those of an empty glass."""
        amount = _total(self.problem, measure, self.columns)
        empty = self.problem.emptied.get(measure, 0.0)
        self._at_most(amount, window.high - empty, measure)
        self._at_most(-amount, empty - window.low, measure)

    def _at_most(self, weights: Floats, bound: float, measure: Measure | None = None) -> None:
        """Add a row, loosened; nothing for an infinite bound."""
        if bound < math.inf:
            if measure is not None:
                self.about.setdefault(measure, []).append(len(self.weights))
            self.weights.append(weights)
            self.most.append(bound + ROW_SLACK * abs(bound) + ROW_SLACK_ABSOLUTE)

    def _column(self, column: int) -> Floats:
        weights = np.zeros(self.columns)
        weights[column] = 1.0
        return weights


def volume_lines(problem: Problem, within: Windows, columns: int) -> tuple[Floats, Floats]:
    """Linear functions of totals below and above the finished volume, each of shape (columns,)."""
    ethanol, water, sugar = (_column(name, columns) for name in ("ethanol_g", "water_g", "sugar_g"))
    strong, label = _strength(columns)
    melt = _line(melt_term(problem.curve), within.strength)
    wet = _line(ETHANOL_WATER, within.alcohol)
    sweet = _line(SUGAR, within.sweetness)
    lines: list[Floats] = []
    for side in ("low", "high"):
        melted = melt.slope * strong + getattr(melt, side) * label
        diluted = water + WATER_G_ML * melted
        lines.append(
            wet.slope * ethanol
            + getattr(wet, side) * (ethanol + diluted)
            + sweet.slope * sugar
            + getattr(sweet, side) * (sugar + diluted)
            + _column("solids_ml", columns)
        )
    return lines[0], lines[1]


def _strength(columns: int) -> tuple[Floats, Floats]:
    """The functions whose ratio is the strength before ice: millilitres of ethanol and of label."""
    ethanol, label = (_column(name, columns, top=False) for name in ("ethanol_g", "label_ml"))
    return ethanol / ETHANOL_G_ML, label


def _line(term: RatioTerm, window: Window) -> Line:
    return term.enclose(window.low, max(window.low, window.high))


def _column(name: str, columns: int, *, top: bool = True) -> Floats:
    """The function that reads one column of the composition."""
    weights = np.zeros(columns)
    weights[COLUMNS.index(name)] = 1.0
    if top:
        weights[WIDTH + COLUMNS.index(name)] = 1.0
    return weights


def _total(problem: Problem, measure: Measure, columns: int) -> Floats:
    """What a measure reads of the totals; for a concentration, 100 times what F divides.

    Changes and shift are larger by those of an empty glass.
    """
    column = column_of(problem, measure)
    if column is not None:
        weights = np.zeros(columns)
        weights[column] = 1.0
        return weights
    factor = 100.0 if measure.form is Form.CONCENTRATION else 1.0
    return factor * measure.factor * _column(measure.column, columns)


def _goal(
    problem: Problem, within: Windows, goal: Measure | None, low: Floats, high: Floats
) -> tuple[list[Floats], list[float]]:
    """Two functions and constants for each term of the goal."""
    if goal is not None:
        return [_total(problem, goal, len(low))] * 2, [problem.emptied.get(goal, 0.0)] * 2
    terms: list[Floats] = []
    constants: list[float] = []
    for aim in problem.aims:
        weight = 1.0 / aim.tolerance
        least_aim, most_aim = aim.range
        if aim.measure.form is Form.CONCENTRATION:
            amount = _total(problem, aim.measure, len(low))
            weight /= within.volume.high
            below = weight * (least_aim * low - amount)
            above = weight * (amount - most_aim * high) if most_aim < math.inf else below
            terms += [above, below]
            constants += [0.0, 0.0]
            continue
        volume = aim.measure.form is Form.VOLUME
        least, most = (low, high) if volume else (_total(problem, aim.measure, len(low)),) * 2
        sides = [(-weight * most, weight * least_aim)]
        if most_aim < math.inf:
            sides.append((weight * least, -weight * most_aim))
        for side, constant in (sides[0], sides[-1]):
            terms.append(side)
            constants.append(constant)
    return terms, constants


def _axes(problem: Problem, within: Windows, volume: Floats) -> dict[Measure, Floats]:
    """One direction for each named measure, in noticeable differences."""
    aims = {aim.measure: aim.value for aim in problem.aims}
    axes = {MEASURES["volume"]: volume / MEASURES["volume"].noticeable}
    for measure in problem.named:
        if measure.form is Form.VOLUME:
            continue
        window = within.measures.get(measure, Window(0.0, math.inf))
        ends = [end for end in (window.low, window.high) if end < math.inf]
        centre = aims.get(measure, sum(ends) / len(ends) if ends else 0.0)
        amount = _total(problem, measure, len(volume)) / measure.tolerance(centre)
        if measure.form is Form.CONCENTRATION:
            share = centre / measure.tolerance(centre)
            amount = (amount - share * volume) / max(within.volume.high, 1.0)
        axes[measure] = amount
    return axes
