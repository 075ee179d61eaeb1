"""Demands without which a drink more in keeping could be poured."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from solver.requests.demands import Demand
from solver.search.most_in_keeping import (
    Targets,
    any_of_set,
    bands_as_limits,
    drink_of_set,
)
from solver.search.nogoods import CandidateSet
from solver.search.problem import Problem
from solver.search.result import decided
from solver.tasks.subproblems import Solved, Subproblems

Poured = frozenset[tuple[int, str]]
"""What a drink is of: the part and the ingredient of each pour."""


class MoreInKeeping:
    """Finds what is more in keeping than a drink on target, without some of a `group` of demands.

    Dropping any demands of the group leaves the same bottles. Sets with no drink on target without
    the whole group are remembered and not asked about again.
    """

    def __init__(self, problems: Subproblems, group: Sequence[Demand], poured: Poured) -> None:
        self.problems = problems
        self.group = group
        self.poured = poured
        self._hopeless: set[CandidateSet] = set()

    def without(self, dropped: Collection[Demand]) -> Solved | None:
        """The drink most in keeping without some demands, if it is more so than the given one; else
        None.

        Raises:
            TimeUpError, KeyboardInterrupt: there was no time to tell, or the user stopped it.
        """
        problem, in_keeping = self.problems.with_every_bottle(dropped)
        targets, clock = Targets(bands_as_limits(problem)), self.problems.clock
        for candidates in in_keeping.sets(problem, clock)():
            if self._is_the_drink(problem, candidates):
                return None
            if candidates not in self._hopeless and self._some(problem, candidates, targets):
                return self._solved(problem, candidates, targets)
        return None

    def _is_the_drink(self, problem: Problem, candidates: CandidateSet) -> bool:
        """Whether a set is the one of the given drink."""
        if sum(map(len, candidates)) != len(self.poured):
            return False
        kinds = [
            {(problem.candidates[i].part, problem.candidates[i].ingredient) for i in one_of}
            for part in candidates
            for one_of in part
        ]
        return all(self.poured & kind for kind in kinds)

    def _some(self, problem: Problem, candidates: CandidateSet, targets: Targets) -> bool:
        """Whether a set has a drink on target; remembered if not even without the whole group."""
        backend, clock = self.problems.backend, self.problems.clock
        if any_of_set(problem, candidates, targets, backend, clock) is not None:
            return True
        if len(self.group) > 1:
            freest, _ = self.problems.with_every_bottle(self.group)
            if any_of_set(freest, candidates, targets, backend, clock) is not None:
                return False
        self._hopeless.add(candidates)
        return False

    def _solved(
        self, problem: Problem, candidates: CandidateSet, targets: Targets
    ) -> Solved | None:
        """The drink that would be offered of a set."""
        backend, clock = self.problems.backend, self.problems.clock
        found = decided(drink_of_set(problem, candidates, targets, backend, clock))
        return None if found is None else Solved(problem, found.drink, 0.0)
