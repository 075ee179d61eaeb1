"""Integer rows for the drink most in keeping: the second opinion on `most_in_keeping`.

The rows of a problem's drinks and those of its sets stand in one model. What links them: a flavour
fills a seat of a part exactly where one of its bottles is poured there. What is minimised is what a
set loses against the best of every seat and of every pair, in whole numbers, so that the least of
the outer model is a bound; a drink that the exact evaluator accepts meets it. One that it does not
accept is cut off by finer enclosures, then by itself.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from solver.clock import Clock, TimeUpError
from solver.search.exact_evaluator import evaluate_one
from solver.search.milp.backend import Backend, Effort, SolverStatus
from solver.search.milp.outward_rows import Lift
from solver.search.milp.pour_rows import PourRows
from solver.search.milp.relaxation import Fineness, MeasureRows, Relaxation
from solver.search.milp.set_rows import SetModel
from solver.search.problem import Drink, Problem
from solver.search.result import Impossible, Stopped
from solver.search.sets.seats import EMPTY, Seats
from solver.search.sets.set_question import FoundSet, IngredientSet, SetQuestion
from solver.search.tolerances import FINEST_BAND
from solver.search.windows import Windows, windows

Bottles = dict[tuple[int, int], tuple[int, ...]]
"""The candidates of a problem that stand for each ingredient of a set question, by part and number.
"""


@dataclass(frozen=True)
class Witnessed:
    """The set worth most of those that can be poured, proven, and a drink of it."""

    found: FoundSet
    drink: Drink


def most_in_keeping_by_rows(
    problem: Problem, question: SetQuestion, bottles: Bottles, backend: Backend, clock: Clock
) -> Witnessed | Impossible | Stopped:
    """The set of `question` worth most, of those with a drink of `problem` within its limits.

    Stopped without an incumbent if there was no time, or the user stopped it.
    """
    stopped = Stopped(None, float("inf"), 0.0, interrupted=False)
    within = windows(problem)
    seats = Seats.of(question)
    if within.empty or not seats.can_be_taken:
        return Impossible()
    fineness, forbidden = Fineness(), list[Drink]()
    try:
        while True:
            clock.check()
            rows = keeping_rows(problem, within, fineness, seats, bottles, clock, forbidden)
            outcome = backend.minimise(
                rows, Effort(seconds=clock.left, proof=True, watch=clock.watch)
            )
            if outcome.interrupted:
                return Stopped(None, float("inf"), 0.0, interrupted=True)
            if outcome.status is SolverStatus.INFEASIBLE:
                return Impossible()
            if outcome.status is not SolverStatus.OPTIMAL or outcome.decisions is None:
                return stopped
            drink = rows.drink(outcome.decisions)
            if evaluate_one(problem, drink).feasible[0]:
                return Witnessed(_set_of(drink, problem, question, bottles), drink)
            if fineness.band > FINEST_BAND:
                fineness = fineness.finer()
            else:
                forbidden.append(drink)
    except TimeUpError:
        return stopped


def keeping_rows(
    problem: Problem, within: Windows, fineness: Fineness, seats: Seats, bottles: Bottles,
    clock: Clock, forbidden: Sequence[Drink],
) -> Relaxation:  # fmt: skip
    """The rows that every drink satisfies together with its set; the objective is the set's loss.

    Raises:
        TimeUpError: the clock ran out before the model was whole.
    """
    pours = PourRows(problem, clock)
    model = MeasureRows(pours, within, fineness)
    pours.structure()
    model.measures()
    for drink in forbidden:
        pours.forbid(drink)
    taken = _Taken(pours, seats, bottles)
    options = [
        pours.rows.yes_or_no(f"option {option}", taken.lift(option))
        for option in range(len(seats.worth))
    ]
    sets = SetModel(seats, pours.rows, options)
    linked: set[int] = set()
    for (part, ingredient), candidates in bottles.items():
        seated = (seats.part == part) & (seats.ingredient == ingredient)
        terms = {options[option]: -1.0 for option in np.flatnonzero(seated).tolist()}
        for candidate in candidates:
            terms |= pours.used[candidate]
        pours.rows.equal("a bottle of what is seated", terms, 0.0)
        linked.update(candidates)
    for candidate, used in enumerate(pours.used):
        if candidate not in linked:
            pours.rows.at_most("in no set", used, 0.0)
    return Relaxation(pours.rows, tuple(pours.picks), sets.loss(), 1.0)


class _Taken:
    """Which options the set of a drink takes, from the decisions that pour it."""

    def __init__(self, pours: PourRows, seats: Seats, bottles: Bottles) -> None:
        self.seats = seats
        self.decisions = {
            at: [d for candidate in candidates for d in pours.used[candidate]]
            for at, candidates in bottles.items()
        }

    def lift(self, option: int) -> Lift:
        """Whether an option is taken: the ingredients of a part sit in ascending order."""
        seats = self.seats
        part, ingredient = int(seats.part[option]), int(seats.ingredient[option])
        mine = [span for span in seats.spans if int(seats.part[span.start]) == part]
        turn = next(n for n, span in enumerate(mine) if span.start <= option < span.stop)

        def taken(real: Sequence[float]) -> float:
            held = sorted(
                number
                for (at, number), decisions in self.decisions.items()
                if at == part and any(real[decision] for decision in decisions)
            )
            return float(ingredient == (held[turn] if turn < len(held) else EMPTY))

        return taken


def _set_of(drink: Drink, problem: Problem, question: SetQuestion, bottles: Bottles) -> FoundSet:
    poured = {candidate for candidate, _ in drink}
    held: list[set[int]] = [set() for _ in problem.parts]
    for (part, number), candidates in bottles.items():
        if poured.intersection(candidates):
            held[part].add(number)
    ingredients: IngredientSet = tuple(tuple(sorted(each)) for each in held)
    worth = question.worth(ingredients)
    if worth is None:
        message = f"a solver found {ingredients}, which is no set of the question"
        raise RuntimeError(message)
    return FoundSet(worth, ingredients)
