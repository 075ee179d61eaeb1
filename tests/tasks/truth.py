"""What is true of an answer, by every drink there is: the best by its goal, and what holds it back.

What goes together is judged by the worths of sets, which are tested by themselves; here every set
of every drink is compared, whereas the program looks at as few as it can.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt
import pytest

from solver.drinks.answer import Answer
from solver.requests.asked_drink import AskedDrink
from solver.requests.demands import Demand, DemandKind
from solver.requests.in_keeping_sets import InKeepingSets
from solver.search.exact_evaluator import keeps_limit
from solver.search.most_in_keeping import Targets
from solver.search.problem import Floats, Goal
from solver.search.sets.set_question import IngredientSet, SetQuestion
from solver.search.tolerances import UNNOTICED
from solver.tasks.design_result import Design, Status
from solver.tasks.subproblems import BETTER
from solver.tasks.why import Worth
from tests.tasks.bars import Everything

Bools = npt.NDArray[np.bool_]
Placed = frozenset[tuple[str, str]]
Rank = tuple[int, int, IngredientSet]
SAME = 1e-6


class Truth:
    """Every drink of a request, and which of them keep all of it."""

    def __init__(self, asked: AskedDrink) -> None:
        self.asked = asked
        self.every = Everything.of(asked)
        self._questions: dict[tuple[Demand, ...], tuple[InKeepingSets, SetQuestion]] = {}
        self.kept: Bools = np.array([not broken for broken in self.every.broken], dtype=bool)

    @property
    def possible(self) -> bool:
        """Whether any drink keeps everything that was asked."""
        return bool(self.kept.any())

    @property
    def off(self) -> float:
        """How far off target the closest drink is that keeps what was asked."""
        return float(self.every.off_aim[self.kept].min())

    def has(self, answer: Answer) -> bool:
        """Whether a drink is one that keeps what was asked, and is measured rightly."""
        same = np.abs(self.every.off_aim - answer.off_aim) < SAME
        for name, value in answer.values.items():
            if value is not None:
                same &= np.abs(self.every.values[name] - value) < SAME * max(1.0, abs(value))
        return bool((same & self.kept).any())

    def held_to(self, targets: Targets) -> Bools:
        """Which drinks are within the targets of an answer; these are what they should be."""
        self._check_targets(targets)
        held = np.ones(len(self.kept), dtype=bool)
        for limit in targets.limits:
            held &= keeps_limit(limit, self.every.values[limit.measure.name])
        return held

    def _check_targets(self, targets: Targets) -> None:
        """The bands of the aims, or wider by what some closest drink misses them, and a quarter."""
        off = self.every.off_aim
        assert targets.off == pytest.approx(self.off, abs=SAME)
        closest = np.flatnonzero(self.kept & (off <= self.off + SAME))
        aims = self.asked.problem().aims
        assert [limit.measure for limit in targets.limits] == [aim.measure for aim in aims]
        bands = [(limit.low or 0.0, limit.high or np.inf) for limit in targets.limits]
        assert any(
            all(
                _is_band(band, aim.range, self.every.values[aim.measure.name][row], aim.tolerance)
                for band, aim in zip(bands, aims, strict=True)
            )
            for row in closest
        )

    def best_rank(self, rows: Bools, dropped: Sequence[Demand] = ()) -> Rank | None:
        """The rank of the best set of some drinks, without some demands; None of no set at all."""
        placed = {self.every.placed[row] for row in np.flatnonzero(rows)}
        ranks = [rank for each in placed if (rank := self.rank_of(each, dropped))]
        return min(ranks, default=None)

    def rank_of(self, placed: Placed, dropped: Sequence[Demand] = ()) -> Rank | None:
        """The rank of a set, the less the better, without some demands; None where it is none."""
        key = tuple(dropped)
        if key not in self._questions:
            problem = self.asked.problem(dropped)
            in_keeping = InKeepingSets(self.asked, problem)
            self._questions[key] = in_keeping, in_keeping.question(problem)
        in_keeping, question = self._questions[key]
        filled = in_keeping.harmony.ingredient_set(sorted(placed))
        worth = None if filled is None else question.worth(filled)
        return None if filled is None or worth is None else (-worth, len(placed), filled)


def _is_band(
    band: tuple[float, float], aim: tuple[float, float], value: float, tolerance: float
) -> bool:
    slack = UNNOTICED * tolerance
    low = max(0.0, value - slack) if value < aim[0] - 1e-9 else aim[0]
    high = value + slack if value > aim[1] + 1e-9 else aim[1]
    return bool(abs(band[0] - low) < SAME and (band[1] == high or abs(band[1] - high) < SAME))


def placed_of(answer: Answer) -> Placed:
    """The part and ingredient of each pour."""
    return frozenset((pour.part, pour.ingredient.key) for pour in answer.pours)


def check_answer(found: Design, known: Truth) -> None:
    """What is called best is the best, what is called impossible is, and nothing is mismeasured."""
    if found.status is Status.IMPOSSIBLE:
        assert not known.possible
    if found.answer is not None:
        assert known.has(found.answer)
    if not known.possible:
        return
    if found.targets is not None and found.status is Status.OPTIMAL:
        _check_best(found, known, found.targets)
    if found.goal is not None and found.goal_settled and found.targets is not None:
        best = _least(found, known, known.kept & known.held_to(found.targets))
        assert found.bound == pytest.approx(best, abs=SAME)


def _check_best(found: Design, known: Truth, targets: Targets) -> None:
    assert found.answer is not None
    reach = known.kept & known.held_to(targets)
    assert found.answer.off_aim <= targets.off + UNNOTICED * len(targets.limits) + SAME
    if found.goal is None or found.problem.goal is Goal.FEWEST:
        if found.goal is not None:
            bottles = known.every.values["bottles"]
            reach &= bottles <= bottles[reach].min() + SAME
        own = known.rank_of(placed_of(found.answer))
        assert own == known.best_rank(reach)
    if found.goal is not None:
        value = found.answer.values[found.goal.name]
        assert value == pytest.approx(_least(found, known, reach), abs=SAME)


def _least(found: Design, known: Truth, rows: Bools) -> float:
    assert found.goal is not None
    return float(known.every.values[found.goal.name][rows].min())


def check_reasons(found: Design, known: Truth) -> None:
    """What is said to hold an answer back does, what is said not to does not."""
    why, every = found.why, known.every
    if why is None or found.answer is None or found.targets is None:
        return
    by_sets = found.goal is None and not found.targets.off
    goals = every.off_aim if found.goal is None else every.values[found.goal.name]
    held = known.held_to(found.targets) if by_sets or found.goal is not None else every.off_aim >= 0
    for reason in why.reasons:
        if reason.demand not in every.demands or reason.binding is None:
            continue
        rows = held & np.array([broken <= {reason.demand} for broken in every.broken], dtype=bool)
        if by_sets:
            dropped = (reason.demand,)
            own = known.rank_of(placed_of(found.answer), dropped)
            best = known.best_rank(rows, dropped)
            assert own is not None
            assert best is not None
            assert reason.binding == (best < own), reason.demand.name
            if reason.worth is not None and reason.worth.instead is not None:
                assert known.rank_of(placed_of(reason.worth.instead), dropped) == best
        else:
            without = float(goals[rows].min())
            assert reason.binding == (without < (why.value or 0.0) - BETTER), reason.demand.name
            if reason.worth is not None:
                assert reason.worth.dropped == pytest.approx(without, abs=SAME)
                _check_worth(goals[rows], rows, every, reason.demand, reason.worth)


def _check_worth(
    goals: Floats, rows: Bools, every: Everything, demand: Demand, worth: Worth
) -> None:
    """One step more, and how far loosening helps, by every drink that breaks this limit alone."""
    if demand.measure is None or worth.stepped is None:
        return
    values = every.values[demand.measure.name][rows]
    sign = 1.0 if demand.kind is DemandKind.MOST else -1.0
    within_a_step = sign * (values - demand.bound) <= demand.measure.step * (1 + 1e-9)
    assert worth.stepped == pytest.approx(goals[within_a_step].min(), abs=SAME)
    best = sign * (values[goals <= worth.dropped + SAME])
    assert worth.until == pytest.approx(sign * best.min(), abs=2 * SAME)
