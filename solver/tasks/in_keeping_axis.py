"""What is in keeping as an axis of a trade-off."""

from __future__ import annotations

from solver.clock import Clock
from solver.measures import Measure
from solver.requests.asked_drink import AskedDrink
from solver.requests.in_keeping_sets import InKeepingSets
from solver.search.in_keeping_curve import InKeepingOracle
from solver.search.milp.backend import Backend
from solver.tasks.design_result import Design


class InKeepingAxis:
    """The drinks of a request by their sets of ingredients; `design` chose by what is in keeping.

    `asked` is its request, with or without comparisons.
    """

    def __init__(self, design: Design, asked: AskedDrink, clock: Clock) -> None:
        self.design = design
        self.clock = clock
        self.in_keeping = InKeepingSets(asked, design.problem)
        self.sets = self.in_keeping.sets(design.problem, clock)
        if design.keeping is not None and self.sets.loss(design.keeping.drink) is None:
            # Beside what is to be shown there is more, as it could not be as little.
            self.sets = self.in_keeping.sets(design.problem, clock, shown=False)

    def oracle(self, first: Measure | None, backend: Backend) -> InKeepingOracle:
        """The oracle for the curve between a measure, or the distance from the aims, and the loss
        of worth."""
        problem, targets = self.design.problem, self.design.targets
        held = problem.with_limits(*targets.limits) if first and targets else problem
        return InKeepingOracle(held, self.sets, self.sets.loss, first, backend, self.clock)

    def pct(self, loss: float) -> float:
        """How many of a hundred published drinks are as much in keeping as a drink with a loss of
        worth."""
        return 100.0 * self.in_keeping.come_up_to(-loss)
