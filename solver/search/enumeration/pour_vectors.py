"""Drinks as sums: one vector for each pour, and what a sum of them measures.

A drink's totals are linear in its pours, and everything about the finished drink follows from its
totals. Searches that look at many drinks work on these vectors.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from solver.measures import CHANGES, ODDNESS, SHIFT, Form, Measure
from solver.mixture import COLUMNS
from solver.mixture.drink import finished_volume_ml
from solver.search.exact_evaluator import from_totals, off_aim, pour_counter
from solver.search.problem import Drink, Floats, Problem

Ints = npt.NDArray[np.int64]
Bools = npt.NDArray[np.bool_]

WIDTH = len(COLUMNS)
COST = 2 * WIDTH
UNPRICED = COST + 1
COUNT = UNPRICED + 1
CHANGED = COUNT + 1
SHIFTED = CHANGED + 1
ODD = SHIFTED + 1
CHARACTERS = ODD + 1
"""Columns of a total: the composition that meets the ice, the composition that tops it, the cost
of what has a price, how many pours have none, the number of pours, by how much changes and shift
differ from those of an empty glass, how unusual the amounts are; then the usual pours of each
character, and last for each choice how many of its members are poured (see `choices_at`)."""
_COLUMN_OF = {
    Form.COST: COST, Form.COUNT: COUNT, Form.CHANGES: CHANGED, Form.SHIFT: SHIFTED,
    Form.ODDNESS: ODD,
}  # fmt: skip


def choices_at(problem: Problem) -> int:
    """The column of the first choice; those of the others follow it."""
    return CHARACTERS + len(problem.characters)


def column_of(problem: Problem, measure: Measure) -> int | None:
    """The column that a measure reads; None for one of volume or composition."""
    if measure.form is Form.CHARACTER:
        return CHARACTERS + problem.characters.index(measure)
    return _COLUMN_OF.get(measure.form)


@dataclass(frozen=True, eq=False)
class Picks:
    """Every single pour of a problem: a candidate and one of its amounts.

    All arrays have a row for each pick; `vectors` has the columns of a total.
    """

    pairs: tuple[tuple[int, int], ...]
    candidate: Ints
    part: Ints
    ingredient: Ints
    amount: Floats
    vectors: Floats

    @classmethod
    def of(cls, problem: Problem) -> Picks:
        """The picks of a problem, by candidate and amount."""
        candidates = problem.candidates
        pairs = tuple((i, k) for i, c in enumerate(candidates) for k in range(len(c.amounts)))
        owner: Ints = np.array([i for i, _ in pairs], dtype=np.int64)
        amount = np.array([candidates[i].amounts[k] for i, k in pairs], dtype=float)
        names: dict[str, int] = {}
        for c in candidates:
            names.setdefault(c.ingredient, len(names))
        part: Ints = np.array([c.part for c in candidates], dtype=np.int64)
        ingredient: Ints = np.array([names[c.ingredient] for c in candidates], dtype=np.int64)
        choices = choices_at(problem)
        vectors = np.zeros((len(pairs), choices + len(problem.choices)))
        if pairs:
            poured = amount[:, np.newaxis] * problem.compositions[owner]
            first = problem.first_stage[owner]
            vectors[first, :WIDTH] = poured[first]
            vectors[~first, WIDTH:COST] = poured[~first]
            vectors[:, COST] = np.nan_to_num(amount * problem.costs[owner])
            vectors[:, UNPRICED] = np.isnan(problem.costs[owner])
            vectors[:, COUNT] = 1.0
            for each in (CHANGES, SHIFT, ODDNESS, *problem.characters):
                vectors[:, column_of(problem, each)] = per_pick(problem, each)
            for index, choice in enumerate(problem.choices):
                vectors[:, choices + index] = np.isin(owner, sorted(choice.members))
        return cls(pairs, owner, part[owner], ingredient[owner], amount, vectors)

    def amounts_of(self, rows: Ints, problem: Problem) -> Floats:
        """How much of each candidate drinks pour, shape (drinks, candidates)."""
        amounts = np.zeros((len(rows), len(problem.candidates)))
        for column in rows.T:
            poured = np.flatnonzero(column >= 0)
            chosen = column[poured]
            amounts[poured, self.candidate[chosen]] = self.amount[chosen]
        return amounts

    def drink(self, rows: Ints) -> Drink:
        """The drink of some picks, by their rows; rows below 0 stand for no pour."""
        return tuple(sorted(self.pairs[row] for row in rows.tolist() if row >= 0))


def per_pick(problem: Problem, each: Measure) -> Floats:
    """How a measure of pours differs from that of an empty glass, by pick, shape (picks,)."""
    none = np.zeros(1)
    rows: list[Floats] = [none[:0]]
    for candidate in problem.candidates:
        read = pour_counter(candidate, each)
        rows.append(read(np.array(candidate.amounts)) - read(none))
    return np.concatenate(rows)


def with_zero_row(vectors: Floats) -> Floats:
    """`vectors` with a last row of zeros, which is where -1, no pick, points to."""
    return np.vstack([vectors, np.zeros(vectors.shape[1])])


def measures_of_totals(problem: Problem, totals: Floats) -> dict[str, Floats]:
    """The volume and what `problem` names, by name, of totals of shape (n, columns); shape (n,)."""
    first, top = totals[:, :WIDTH], totals[:, WIDTH:COST]
    topped = not problem.first_stage.all()
    volume = finished_volume_ml(first, top if topped else None, problem.curve)
    poured = first + top if topped else first
    values = {"volume": volume}
    for each in problem.named:
        column = column_of(problem, each)
        if column is not None:
            values[each.name] = totals[:, column] + problem.emptied.get(each, 0.0)
        elif each.form is not Form.VOLUME:
            values[each.name] = from_totals(each, poured, volume)
    return values


def goal_of(problem: Problem, goal: Measure | None, values: dict[str, Floats]) -> Floats:
    """The goal's value, shape (n,); goal None is the distance from the aims."""
    return off_aim(problem, values) if goal is None else values[goal.name]
