"""The best serves known, and the local searches that improve them."""

from __future__ import annotations

import functools
from collections.abc import Mapping

from solver.clock import Clock
from solver.night.fix_and_optimise import FixAndOptimise, exchanges, given, known
from solver.night.large_neighbourhood import fixed
from solver.night.plan_rows import NightRows
from solver.night.serve_exchange import ValuedServes
from solver.search.milp.integer_program import Enough, IntTerms, SolvedProgram, total

MOST_CHAINS = 100
"""Chains of exchanges in a row without improvement after which the search ends."""
IN_VAIN = 12
"""Groups of drinks replanned in a row without improvement after which the search ends."""
REGROUPING = 0.9
"""Share of the time for replanning groups; the rest is for solving the rows with the result."""


class BestServes:
    """Keeps the serves of least loss, a weighted sum of what is paid and what spoils."""

    def __init__(self, rows: NightRows, goal: IntTerms, paid: int, spoiled: int) -> None:
        """`paid` and `spoiled` are the weights of a unit of cost and of worth."""
        self.rows, self.goal = rows, goal
        self._counts = paid, spoiled
        self._best: ValuedServes | None = None

    @property
    def known(self) -> bool:
        """Whether there are any."""
        return self._best is not None

    def finish(self, about: Mapping[int, int], clock: Clock) -> dict[int, int]:
        """Improve serves by exchanges; returns the best known, and what is got for them.

        See `Program.finish`.
        """
        counts = [[about[v] for v in night] for night in self.rows.serves]
        serves = ValuedServes(self.rows.question, counts, *self._counts, given(self.rows, about))
        exchanges(self.rows, serves).run(clock, MOST_CHAINS)
        return known(self.rows, self._better(serves))

    def solved(self, found: SolvedProgram, clock: Clock, enough: Enough) -> SolvedProgram:
        """A solution no worse than `found`, by replanning groups of drinks."""
        if self._best is None or enough.of(found):
            return found
        groups = FixAndOptimise(self.rows, self.goal, self._best)
        close = functools.partial(_close, groups, found.bound, enough)
        groups.run(clock.within(REGROUPING * clock.left), IN_VAIN, close)
        values = fixed(self.rows, self.goal, clock, known(self.rows, groups.serves), ())
        if not values or total(self.goal, values) >= found.value:
            return found
        return SolvedProgram(values, total(self.goal, values), found.bound)

    def _better(self, serves: ValuedServes) -> ValuedServes:
        if self._best is None or serves.loss < self._best.loss:
            self._best = serves
        return self._best


def _close(groups: FixAndOptimise, bound: float, enough: Enough) -> bool:
    return enough.of(SolvedProgram((), groups.serves.loss, bound))
