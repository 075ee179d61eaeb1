"""A set of which some pours are allowed is never ruled out by what is in it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from solver.clock import Clock
from solver.search.exact_evaluator import evaluate
from solver.search.nogoods import Nogoods
from solver.search.problem import PartRule
from tests.search.instances import SHARED, every_drink, problem

LATE = 10**6
"""Sets after which pairs rule out."""


def test_no_set_with_a_drink_is_ruled_out_where_a_part_holds_two() -> None:
    given = problem(0, SHARED, with_limits=False)
    *others, last = given.parts
    given = replace(given, parts=(*others, PartRule(last.name, 0, 2)))
    drinks, amounts = every_drink(given)
    feasible = evaluate(given, amounts).feasible
    poured = {frozenset(i for i, _ in drinks[at]) for at in np.flatnonzero(feasible)}
    nogoods = Nogoods(given, Clock.of(60))
    twos = 0
    for members in poured:
        held = tuple(
            tuple((i,) for i in sorted(members) if given.candidates[i].part == part)
            for part in range(len(given.parts))
        )
        twos += len(held[-1]) == 2
        assert not nogoods.rule_out(held, LATE)
    assert twos
