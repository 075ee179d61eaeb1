"""Tolerances that must agree have one home, and what prunes is looser than what decides."""

import ast
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from solver.explain.pareto_front import SAME_VALUE, over, under
from solver.measures import MEASURES
from solver.search import tolerances as t
from solver.search.exact_evaluator import evaluate, keeps_limit
from solver.search.problem import Limit
from solver.search.windows import windows
from tests.search.instances import every_drink, problem

LARGEST_POUR_ML = 250.0
LEAST_TOTAL_ML = 0.5
PROVES_NOTHING = {"local_search.py", "cpsat.py"}
"""A descent, and seconds of overrun."""
OF_FLOATS = {"highs.py", "relax_and_round.py"}
"""What solvers that calculate in floats are believed, in plans: nothing of a drink rests on it."""

EXCEEDS = {
    "windows hold what is let pass": (t.WINDOW_SLACK, t.LIMIT_SLACK),
    "inequalities are looser than windows": (t.ROW_SLACK, t.WINDOW_SLACK),
    "also where a bound is about 0": (t.ROW_SLACK_ABSOLUTE, t.LIMIT_SLACK * t.LEAST_LIMIT),
    "rounding of left-hand sides is less than of bounds": (t.ROW_SLACK_ABSOLUTE, t.ROW_SLACK),
    "less than a value is less than what is let pass": (SAME_VALUE, t.LIMIT_SLACK),
    "equally good drinks are one point of a curve": (SAME_VALUE, t.SAME_GOAL),
    "the same pour is an equal one": (
        t.SAME_LEVEL,
        t.SAME_POUR * LARGEST_POUR_ML,
    ),
    "totals are counted more finely than compared": (
        t.LIMIT_SLACK * LEAST_TOTAL_ML,
        t.SAME_TOTAL_ML,
    ),
    "a curve's values are told apart by the finest enclosures": (t.FINEST_BAND, SAME_VALUE),
    "solvers stop later than drinks are equally good": (t.OFF_AIM_GAP, t.SAME_GOAL),
    "nobody notices what a solver leaves open": (t.UNNOTICED, t.OFF_AIM_GAP),
}


@pytest.mark.parametrize("reason", EXCEEDS)
def test_what_must_exceed_something_does(reason: str) -> None:
    more, less = EXCEEDS[reason]
    assert more > less > 0


def test_every_goal_has_a_gap() -> None:
    assert all(t.gap_of(MEASURES.get(name)) > 0 for name in ("cost", "ethanol", "bottles"))
    assert t.gap_of(None) == t.OFF_AIM_GAP
    assert t.GOAL_GAPS["bottles"] < 1  # a whole number: the next best is one more


@pytest.mark.parametrize("name", ["volume", "abv", "sugar", "cost"])
def test_what_the_evaluator_lets_pass_is_in_the_window(name: str) -> None:
    given = problem(3, {"base": 2, "sour": 1, "sweet": 2})
    _, amounts = every_drink(given)
    measure = MEASURES[name]
    bound = replace(given, limits=(Limit("all", measure, 0.0, 1e9),), aims=())
    value = float(evaluate(bound, amounts[:1]).values[name][0])
    passing = Limit("just passing", measure, None, value / (1 + 0.9 * t.LIMIT_SLACK))
    assert keeps_limit(passing, np.array([value]))[0]
    window = windows(replace(bound, limits=(passing,))).measures[measure]
    assert window.low <= value <= window.high


@pytest.mark.parametrize("value", [0.0, 1e-4, 1.0, 250.0])
def test_what_is_under_a_value_does_not_pass_for_it(value: float) -> None:
    limit = Limit("under", MEASURES["cost"], None, under(value))
    assert not keeps_limit(limit, np.array([value]))[0]
    assert keeps_limit(replace(limit, high=over(value)), np.array([value]))[0]


def test_no_other_module_of_the_search_has_a_small_number_of_its_own() -> None:
    found = [
        f"{path.name}:{node.lineno} {node.value}"
        for path in sorted(Path(t.__file__).parent.rglob("*.py"))
        if path.name not in {"tolerances.py", *PROVES_NOTHING, *OF_FLOATS}
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Constant)
        and isinstance(node.value, float)
        and 0 < node.value <= t.FINEST_BAND
    ]
    assert found == []
