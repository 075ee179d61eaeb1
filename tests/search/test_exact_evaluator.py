"""The exact evaluator, and what a MILP solver may claim by it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from solver.clock import Clock
from solver.search.exact_evaluator import evaluate, evaluate_one
from solver.search.milp.cpsat import CpSat
from solver.search.minimise import Drinks, Search
from solver.search.result import Optimal
from tests.search.instances import every_drink, problem


def test_an_ingredient_is_not_poured_in_two_parts() -> None:
    given = problem(0, {"base": 1, "sweet": 1}, with_limits=False)
    one, other = given.candidates
    same = replace(other, ingredient=one.ingredient)
    twice = replace(given, candidates=(one, same), choices=())
    apart = replace(given, choices=())
    drink = ((0, 0), (1, 0))
    assert evaluate_one(apart, drink).feasible[0]
    assert not evaluate_one(twice, drink).feasible[0]


@pytest.mark.parametrize("seed", range(12))
def test_a_bound_of_rows_holds_whatever_is_known_at_first(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The best lies within two tolerances of what is known, and not within one."""
    given = problem(seed, {"base": 2, "sour": 1, "sweet": 2})
    drinks, amounts = every_drink(given)
    found = evaluate(given, amounts)
    off = np.where(found.feasible, found.off_aim, np.inf)
    known = int(np.argsort(off)[np.isfinite(off).sum() // 2])
    if not np.isfinite(off[known]) or off[known] - off.min() < 1e-3:
        return
    monkeypatch.setattr(Search, "descents", iter(()))
    tolerance = float(off[known] - off.min()) / 1.5
    rows = Drinks(given, by_halves=False)
    search = Search(
        given, None, tolerance=tolerance, backend=CpSat(), clock=Clock.of(60), drinks=rows
    )
    result = search.run(drinks[known])
    assert isinstance(result, Optimal)
    assert result.bound <= off.min() + 1e-9
    assert result.value - off.min() <= tolerance + 1e-9
