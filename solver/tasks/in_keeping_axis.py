"""How much drinks of a request are in keeping, as one of the two of a trade-off."""

from __future__ import annotations

from solver.clock import Clock
from solver.measures import Measure
from solver.requests.asked_drink import AskedDrink
from solver.requests.in_keeping import InKeeping
from solver.search.in_keeping_curve import InKeepingCurve
from solver.search.milp.backend import Backend
from solver.tasks.design_result import Design


class InKeepingAxis:
    """The drinks of a `design` that was made by what is in keeping, by their sets of ingredients.

    `asked` is its request, with or without comparisons.
    """

    def __init__(self, design: Design, asked: AskedDrink, clock: Clock) -> None:
        self.design = design
        self.clock = clock
        self.in_keeping = InKeeping(asked, design.problem)
        self.sets = self.in_keeping.sets(design.problem, clock)
        if design.keeping is not None and self.sets.loss(design.keeping.drink) is None:
            # Beside what is to be shown there is more, as it could not be as little.
            self.sets = self.in_keeping.sets(design.problem, clock, shown=False)

    def oracle(self, first: Measure | None, backend: Backend) -> InKeepingCurve:
        """Asks for drinks by a measure, of those on target, or by how far off target they are; and
        by how little they are in keeping."""
        problem, targets = self.design.problem, self.design.targets
        held = problem.with_limits(*targets.limits) if first and targets else problem
        return InKeepingCurve(held, self.sets, self.sets.loss, first, backend, self.clock)

    def pct(self, loss: float) -> float:
        """How many published drinks in a hundred are as much in keeping as a drink with a loss."""
        return 100.0 * self.in_keeping.come_up_to(-loss)
