"""How much drinks of a request are in keeping, as one of the two of a trade-off."""

from __future__ import annotations

from solver.harmony.harmony import worth_of
from solver.measures import Measure
from solver.requests.demands import Asked
from solver.requests.in_keeping import InKeeping
from solver.search.clock import Clock
from solver.search.in_keeping_curve import InKeepingCurve
from solver.search.milp.backend import Backend
from solver.search.problem import Drink
from solver.tasks.design import Design


class InKeepingAxis:
    """The drinks of a `design` that was made by what is in keeping, by their sets of ingredients.

    `asked` is its request, with or without comparisons.
    """

    def __init__(self, design: Design, asked: Asked, clock: Clock) -> None:
        self.design = design
        self.clock = clock
        self.in_keeping = InKeeping(asked, design.problem)
        # Beside what is to be shown there may be more, where it can't be as little.
        self.shown = self._is_shown()
        self._question = self.in_keeping.question(design.problem, shown=self.shown)

    def _is_shown(self) -> bool:
        """Whether the design keeps little beside what is to be shown."""
        problem, keeping = self.design.problem, self.design.keeping
        filled = None if keeping is None else self.in_keeping.set_of(problem, keeping.drink)
        question = self.in_keeping.question(problem)
        return filled is None or question.worth(filled) is not None

    def oracle(self, first: Measure | None, backend: Backend) -> InKeepingCurve:
        """Asks for drinks by a measure, of those on target, or by how far off target they are; and
        by how little they are in keeping."""
        problem, targets = self.design.problem, self.design.targets
        held = problem.with_limits(*targets.limits) if first and targets else problem
        sets = self.in_keeping.sets(problem, self.clock, shown=self.shown)
        return InKeepingCurve(held, sets, self._loss, first, backend, self.clock)

    def pct(self, loss: float) -> float:
        """How many published drinks in a hundred are as much in keeping as a drink with a loss."""
        return 100.0 * self.in_keeping.come_up_to(-loss)

    def _loss(self, drink: Drink) -> float | None:
        filled = self.in_keeping.set_of(self.design.problem, drink)
        worth = None if filled is None else self._question.worth(filled)
        return None if worth is None else -worth_of(worth)
