"""Integer rows for the best set of ingredients: the second opinion on `sets/best_first`.

Every option of a seat is a yes or no, x, one yes for each seat; every two options of two seats that
may be together are a yes or no, z, and those of an option with all of another seat add up to its x.
Between two seats that is the exact hull. What is minimised is what a set loses against the best of
every seat and of every pair of seats: all rows are of whole numbers, none is rounded.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

import numpy as np
import numpy.typing as npt

from solver.search.milp.outward_rows import Lift, Rows, Terms, Variable
from solver.search.sets.seats import EMPTY, Seats
from solver.search.sets.set_question import NEVER, IngredientSet


class SetModel:
    """Rows that every set satisfies, over given yes-or-no variables for the options of seats.

    `variables` are their positions in `rows`. The objective is `loss`.
    """

    def __init__(self, seats: Seats, rows: Rows, variables: Sequence[int]) -> None:
        self.seats = seats
        self.rows = rows
        self.variables = variables
        self.losses: Terms = {}
        self.most_lost = 0
        for span in seats.spans:
            options = variables[span]
            self._lose(options, seats.worth[span].tolist())
            self.rows.equal("one for each seat", dict.fromkeys(options, 1.0), 1.0)
        for one, other in combinations(seats.spans, 2):
            if seats.together[one, other].any():
                self._together(one, other)
        self._wishes()

    def _together(self, one: slice, other: slice) -> None:
        """Add variables and rows for what the options of two seats are worth together."""
        allowed = np.argwhere(self.seats.together[one, other] > NEVER // 2)
        of_option: dict[int, Terms] = {
            option: {option: -1.0} for span in (one, other) for option in self.variables[span]
        }
        pairs: list[int] = []
        for at in (allowed + np.array([one.start, other.start])).tolist():
            options = [self.variables[option] for option in at]
            pairs.append(self.rows.yes_or_no(f"options {at}", _both(*options)))
            for option in options:
                of_option[option][pairs[-1]] = 1.0
        for terms in of_option.values():
            self.rows.equal("one for each option", terms, 0.0)
        if pairs:
            worths = self.seats.together[one, other][tuple(allowed.T)]
            self._lose(pairs, worths.tolist())

    def _wishes(self) -> None:
        """Add the rows of wishes, and that something is poured."""
        poured = self._at(self.seats.ingredient != EMPTY)
        self.rows.at_least("something", dict.fromkeys(poured, 1.0), 1.0)
        for wish, cover in zip(self.seats.question.wishes, self.seats.covers, strict=True):
            members = dict.fromkeys(self._at(cover != 0), 1.0)
            self.rows.at_least("a wish", members, float(wish.low))
            if wish.high is not None:
                self.rows.at_most("a wish", members, float(wish.high))

    def _at(self, options: npt.NDArray[np.bool_]) -> list[int]:
        """The variables of some options."""
        return [self.variables[option] for option in np.flatnonzero(options).tolist()]

    def _lose(self, variables: Sequence[int], worths: Sequence[int]) -> None:
        """Add to the objective the worths of variables of which exactly one is yes: each as its
        loss against the best of them."""
        best = max(worths)
        self.losses |= {v: float(best - w) for v, w in zip(variables, worths, strict=True)}
        self.most_lost += best - min(worths)

    def forbid(self, ingredients: IngredientSet) -> None:
        """Cut off one set (a no-good cut)."""
        seats = self.seats
        poured = {(part, one) for part, held in enumerate(ingredients) for one in held}
        where = list(zip(seats.part.tolist(), seats.ingredient.tolist(), strict=True))
        terms = {
            self.variables[option]: 1.0 if at in poured else -1.0
            for option, at in enumerate(where)
            if at[1] != EMPTY
        }
        self.rows.at_most("not that set", terms, len(poured) - 1.0)

    def loss(self) -> int:
        """Add the objective: a variable at least as large as the sum of losses; its position."""
        objective = len(self.rows.variables)
        losses = dict(self.losses)
        self.rows.variables.append(Variable("loss", 0, self.most_lost))
        self.rows.lifts.append(lambda real: sum(lost * real[v] for v, lost in losses.items()))
        self.rows.at_most("what is lost", losses | {objective: -1.0}, 0.0)
        return objective


def _both(one: int, other: int) -> Lift:
    """1 where two decisions are yes."""
    return lambda real: real[one] * real[other]
