"""Nogoods of ingredient sets: single ingredients, and pairs, that no drink on target has."""

from __future__ import annotations

import math
from itertools import combinations

from solver.clock import Clock
from solver.search.enumeration.meet_in_the_middle import Halves
from solver.search.enumeration.pour_vectors import Picks
from solver.search.enumeration.sinks import TooManyError
from solver.search.problem import Choice, Drink, Problem, Wanted

TRIED_BEFORE_SINGLES = 64
"""Infeasible sets before it is asked which single ingredients are nogoods."""
TRIED_BEFORE_PAIRS = 512
"""The same before pairs are asked about."""

Alternatives = tuple[int, ...]
"""An ingredient as the candidates of which one is poured."""
CandidateSet = tuple[tuple[Alternatives, ...], ...]
"""A set: for each part its ingredients."""


class Nogoods:
    """Rules sets out by their subsets, once many sets have turned out infeasible.

    An ingredient that no drink on target has, or two that none has together, rule out every set
    with them. One such question searches all drinks, and takes as long as ten sets or more.
    """

    def __init__(self, problem: Problem, clock: Clock) -> None:
        self.problem = problem
        self.clock = clock
        self.known: dict[tuple[Alternatives, ...], bool] = {}

    def rule_out(self, candidates: CandidateSet, tried: int) -> bool:
        """Whether a set is proven to have no drink, after `tried` sets that had none."""
        poured = [one_of for part in candidates for one_of in part]
        some = 0 if tried < TRIED_BEFORE_SINGLES else 1 if tried < TRIED_BEFORE_PAIRS else 2
        return not all(
            self._some_drink(held)
            for count in range(1, some + 1)
            for held in combinations(poured, count)
        )

    def _some_drink(self, held: tuple[Alternatives, ...]) -> bool:
        """Whether there is a drink with some ingredients; True where enumeration cannot tell."""
        if held not in self.known:
            given = _with_all(self.problem, held)
            try:
                halves = Halves.of(given, Picks.of(given), self.clock)
                found: list[Drink] = []
                if halves is not None:
                    halves.look(given, None, math.inf, self.clock, found.append, wanted=Wanted.ANY)
                self.known[held] = halves is None or bool(found)
            except TooManyError:
                self.known[held] = True
        return self.known[held]


def _with_all(problem: Problem, held: tuple[Alternatives, ...]) -> Problem:
    """The problem with the further choice that something of each is poured."""
    alone = {
        problem.candidates[one_of[0]].part: set(one_of)
        for one_of in held
        if problem.parts[problem.candidates[one_of[0]].part].count_high == 1
    }
    kept = [
        index
        for index, candidate in enumerate(problem.candidates)
        if index in alone.get(candidate.part, {index})
    ]
    wished = (Choice("an ingredient", frozenset(one_of), 1) for one_of in held)
    return problem.with_choices(*wished).of_candidates(kept)
