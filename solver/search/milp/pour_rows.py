"""The rows of what is poured: decisions, and how many ingredients and how much fill each part."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

import numpy as np

from solver.clock import Clock
from solver.mixture import COLUMNS
from solver.search.exact import by_ingredient, kept_total
from solver.search.milp.rows import Rows, Terms, add
from solver.search.problem import Drink, PartRule, Problem


class PourRows:
    """A model that decides what is poured, and its rows.

    `picks` are the pours (candidate, position of its amount) that the first variables decide, in
    their order; `used` the decisions of each candidate.
    """

    def __init__(self, problem: Problem, clock: Clock | None) -> None:
        self.problem = problem
        self.rows = Rows(clock)
        self.picks: list[tuple[int, int]] = []
        self.used: list[Terms] = []
        for index, candidate in enumerate(problem.candidates):
            decisions: Terms = {}
            for position in range(len(candidate.amounts)):
                decisions[self.rows.decision(f"{candidate.ingredient} {position}")] = 1.0
                self.picks.append((index, position))
            self.used.append(decisions)

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
        for members in by_ingredient(self.problem).values():
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
        low, high = kept_total(part)
        if high < np.inf:
            self.rows.at_most(f"{part.name} total", poured, high)
        if low > 0 and part.count_low > 0:
            self.rows.at_least(f"{part.name} total", poured, low)

    def _equal(self) -> None:
        """One amount for every pour of the parts that are poured alike."""
        by_level: list[Terms] = [{} for _ in self.problem.levels]
        amounts = [
            self.problem.candidates[index].amounts[position] for index, position in self.picks
        ]
        levels = self.problem.level_of(amounts).tolist()
        for decision, (index, _) in enumerate(self.picks):
            if self.problem.candidates[index].part in self.problem.equal:
                by_level[levels[decision]][decision] = 1.0
        most = sum(self.problem.parts[part].count_high for part in self.problem.equal)
        chosen: Terms = {}
        for level, pours in zip(self.problem.levels, by_level, strict=True):
            lift = partial(_any_of, tuple(pours))
            at = self.rows.yes_or_no(f"all of {level:g}", lift)
            chosen[at] = 1.0
            self.rows.at_most("equal pours", add(pours, {at: -float(most)}), 0.0)
        self.rows.at_most("one amount", chosen, 1.0)

    def total(self, column: str, *, top: bool | None = None) -> Terms:
        """Total of a column over all pours, or over one stage."""
        at = COLUMNS.index(column)
        terms: Terms = {}
        for decision, (index, position) in enumerate(self.picks):
            candidate = self.problem.candidates[index]
            if top is None or candidate.top is top:
                terms[decision] = candidate.amounts[position] * candidate.composition[at]
        return terms

    def cost(self) -> Terms:
        """What the pours cost; what has no price is not poured."""
        prices = np.nan_to_num(self.problem.costs)
        return {
            decision: self.problem.candidates[index].amounts[position] * float(prices[index])
            for decision, (index, position) in enumerate(self.picks)
        }

    def most(self, terms: Terms) -> float:
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


def _any_of(decisions: Sequence[int], real: Sequence[float]) -> float:
    """Whether any of some decisions is taken."""
    return float(any(real[decision] for decision in decisions))
