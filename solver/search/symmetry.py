"""Symmetry breaking: of bottles with the same composition only the cheapest are searched."""

from __future__ import annotations

from solver.measures import ODDNESS, Form
from solver.search.problem import Problem


def representatives(problem: Problem) -> Problem:
    """The problem without candidates that another one can stand for.

    Candidates of one part with the same amounts, composition, former pour, choices and characters,
    and as usual where that is asked, differ in price and name alone. The cheapest stay, as many as
    the part may hold; on equal price, the first by name. A candidate that could also fill another
    part stays: it may be needed there. Where the cost must be high, or near something, a lower
    price cannot stand for a higher one.
    """
    dear = any(limit.low for limit in problem.limits if limit.measure.form is Form.COST)
    dear |= any(aim.measure.form is Form.COST for aim in problem.aims)
    parts_of: dict[str, int] = {}
    for candidate in problem.candidates:
        parts_of[candidate.ingredient] = parts_of.get(candidate.ingredient, 0) + 1

    def rank(index: int) -> tuple[float, str]:
        candidate = problem.candidates[index]
        price = float("inf") if candidate.cost is None else candidate.cost
        return (price, candidate.ingredient)

    kept: list[int] = []
    filled: dict[object, int] = {}
    for index in sorted(range(len(problem.candidates)), key=rank):
        candidate = problem.candidates[index]
        chosen_by = tuple(index in choice.members for choice in problem.choices)
        price = candidate.cost if dear else None
        odd = candidate.oddness if ODDNESS in problem.named else ()
        alike = (candidate.amounts, candidate.composition, candidate.top, candidate.former, price)
        kind = (candidate.part, alike, chosen_by, candidate.carries, odd)
        shared = parts_of[candidate.ingredient] > 1
        if shared or filled.get(kind, 0) < problem.parts[candidate.part].count_high:
            kept.append(index)
            filled[kind] = filled.get(kind, 0) + (0 if shared else 1)
    return problem.of_candidates(sorted(kept))
