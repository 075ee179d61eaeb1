"""Presolve: cheap proofs that a problem is infeasible, and cheap witnesses that it is not."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

import numpy as np

from solver.search.exact_evaluator import evaluate
from solver.search.problem import Drink, Problem
from solver.search.windows import windows


def trivially_infeasible(problem: Problem) -> bool:
    """Whether bottles are missing, or limits leave nothing of what any drink could measure.

    True is a proof that there is no drink; False says nothing.
    """
    for index, part in enumerate(problem.parts):
        filling = {c.ingredient for c in problem.candidates if c.part == index}
        if len(filling) < part.count_low:
            return True
    if any(len(choice.members) < choice.low for choice in problem.choices):
        return True
    return windows(problem).empty


def simple_drink(problem: Problem) -> Drink | None:
    """Any feasible drink of a problem without limits, built greedily.

    None proves nothing: the greedy choice may fail where another would do.
    """
    poured: list[int] = []
    taken: set[str] = set()
    filled: Counter[int] = Counter()

    def take(members: Iterable[int], count: int) -> None:
        for index in members:
            candidate = problem.candidates[index]
            full = filled[candidate.part] >= problem.parts[candidate.part].count_high
            if count > 0 and not full and candidate.ingredient not in taken:
                poured.append(index)
                taken.add(candidate.ingredient)
                filled[candidate.part] += 1
                count -= 1

    for choice in problem.choices:
        take(sorted(choice.members), choice.low - len(choice.members.intersection(poured)))
    for index, part in enumerate(problem.parts):
        mine = (i for i, c in enumerate(problem.candidates) if c.part == index)
        take(mine, part.count_low - filled[index])
    if not poured:
        take(range(len(problem.candidates)), 1)
    drinks = [_with_amounts(problem, sorted(poured), share) for share in (0.5, 0.0, 1.0)]
    amounts = np.array([problem.amounts(drink) for drink in drinks])
    feasible = evaluate(problem, amounts).feasible
    return drinks[int(feasible.argmax())] if feasible.any() else None


def _with_amounts(problem: Problem, poured: list[int], share: float) -> Drink:
    """Some candidates, each with the amount at `share` (0..1) of its own list of amounts."""
    return tuple((i, int(share * (len(problem.candidates[i].amounts) - 1))) for i in poured)
