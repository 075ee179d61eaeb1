"""What a rough view of a program says is true of the whole, and what it finds can be poured."""

from __future__ import annotations

import math
import random
from collections.abc import Iterator
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from solver.clock import Clock
from solver.night.best_serves import BestServes
from solver.night.menu_rows import demands_of, rows_of
from solver.night.problem import Nights
from solver.search.milp import roughly as roughly_
from solver.search.milp.integer_program import (
    CpSatProgram,
    Enough,
    Infeasible,
    Program,
    ProgramOutOfTime,
    SolvedProgram,
    total,
)
from solver.search.milp.roughly import better_of, nearest, roughly, rounded
from tests.night.bartender import serve
from tests.night.nights import large, small
from tests.night.test_menu import with_menu

TIME = 60.0


def held_against_the_whole(question: Nights, *, exchanged: bool = False) -> None:
    rows = rows_of(question, frozenset(demands_of(question)))
    goal = rows.loss()
    best = CpSatProgram().minimise(rows.program, goal, Clock.of(TIME))
    if exchanged:
        rows.program.finish = BestServes(rows, goal, 1, question.worth_costs).finish
    found = roughly(rows.program, goal, Clock.of(TIME), Enough())
    if isinstance(best, Infeasible):
        assert isinstance(found, ProgramOutOfTime)
        return
    assert isinstance(best, SolvedProgram)
    assert found.bound <= best.value
    if isinstance(found, SolvedProgram):
        assert found.value >= best.value
        assert found.value == total(goal, found.values)
        serve(question, rows.plan(found.values))  # it refuses what is not there


@settings(max_examples=30)
@given(st.integers(0, 10**6), st.booleans())
def test_a_rough_bound_holds_and_a_rough_plan_can_be_poured(seed: int, menu: bool) -> None:
    held_against_the_whole(with_menu(seed) if menu else small(seed))


@pytest.mark.parametrize("long", [False, True])
def test_the_bound_is_of_all_plans_though_some_alone_are_searched(
    long: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Exchanges end with one plan, whose value bounds no other."""
    monkeypatch.setattr(roughly_, "MANY", 0 if long else 10**9)
    for seed in range(30):
        held_against_the_whole(small(seed), exchanged=True)


@pytest.mark.sweep
@pytest.mark.parametrize("block", range(10))
def test_a_rough_bound_holds_and_a_rough_plan_can_be_poured_at_length(block: int) -> None:
    for seed in range(100 * block, 100 * block + 100):
        held_against_the_whole(small(seed))
        held_against_the_whole(with_menu(seed))


def test_the_rough_plan_of_a_larger_bar_is_near_its_bound() -> None:
    question = large(0, days=3, drinks=6, house=2, bottles=12)
    rows = rows_of(question, frozenset(demands_of(question)))
    goal = rows.loss()
    found = roughly(rows.program, goal, Clock.of(TIME), Enough(share=0.01))
    assert isinstance(found, SolvedProgram)
    assert found.bound <= found.value <= 1.25 * found.bound
    serve(question, rows.plan(found.values))


def test_groups_keep_their_sums_when_they_are_rounded() -> None:
    """Three drinks by thirds on two nights of four: no night has three, and none has five."""
    program = Program()
    nights = [[program.whole(0, 4) for _ in range(3)] for _ in range(2)]
    leads = [program.whole(0, 8) for _ in range(3)]
    for night in nights:
        program.between(dict.fromkeys(night, 1), 4, 4)
    for at, lead in enumerate(leads):
        program.between({lead: 1, nights[0][at]: -1, nights[1][at]: -1}, 0, 0)
        program.between({lead: 1}, 2, 3)
    program.leads += leads
    program.follows += nights
    found = roughly(program, {leads[0]: 1}, Clock.of(TIME), Enough())
    assert isinstance(found, SolvedProgram)
    assert found.value == 2
    assert [sum(found.values[v] for v in night) for night in nights] == [4, 4]


@given(st.randoms(use_true_random=False))
def test_the_nearest_is_the_best_of_all_ways_to_round_up_or_down(pick: random.Random) -> None:
    """Two nights of three drinks; what all of one drink come to is paid in packs."""
    program = Program()
    nights = [[program.whole(0, 9) for _ in range(3)] for _ in range(2)]
    packs = [program.whole(0, 9) for _ in range(3)]
    values = [pick.randrange(12) / 4 for _ in range(4)]
    values = [*values[:2], 7 - sum(values[:2]), *values[2:], 7 - sum(values[2:]), 0.0, 0.0, 0.0]
    size, costs = pick.randint(2, 4), [pick.randint(1, 9) for _ in packs]
    for night in nights:
        program.between(dict.fromkeys(night, 1), 7, 7)
    for at, pack in enumerate(packs):
        program.between({pack: size, nights[0][at]: -1, nights[1][at]: -1}, 0, None)
    program.between({nights[0][0]: 1, nights[1][0]: 1}, None, most := pick.randint(1, 6))
    program.follows += nights
    ways = [
        [a + b for a, b in zip(*both, strict=True)]
        for both in product(*(list(rounded_ways(values[3 * n : 3 * n + 3])) for n in range(2)))
    ]
    paid = [
        sum(cost * -(-count // size) for cost, count in zip(costs, counts, strict=True))
        for counts in ways
        if counts[0] <= most
    ]
    found = nearest(program, dict(zip(packs, costs, strict=True)), Clock.of(TIME), values)
    assert isinstance(found, SolvedProgram) == bool(paid)
    if isinstance(found, SolvedProgram):
        assert found.value == min(paid)
        assert found.bound == -math.inf


def rounded_ways(values: list[float]) -> Iterator[tuple[int, ...]]:
    ways = product(*({math.floor(value), math.ceil(value)} for value in values))
    return (way for way in ways if sum(way) == 7)


def test_of_two_answers_the_better_plan_and_the_better_bound_are_kept() -> None:
    plan, bound = SolvedProgram((7,), 7, 1.0), SolvedProgram((9,), 9, 5.0)
    assert better_of(plan, bound) == better_of(bound, plan) == SolvedProgram((7,), 7, 5.0)
    assert better_of(ProgramOutOfTime(6.0), plan) == SolvedProgram((7,), 7, 6.0)
    assert better_of(ProgramOutOfTime(6.0), ProgramOutOfTime(2.0)) == ProgramOutOfTime(6.0)


def test_the_odd_one_goes_to_whoever_is_furthest_behind() -> None:
    """Two drinks of which half a serve each is due on every night take turns."""
    program = Program(follows=[[0, 1], [2, 3], [4, 5], [6, 7]])
    whole = rounded(program, [0.5] * 8)
    assert [whole[v] for v in range(8)] == [1, 0, 0, 1, 1, 0, 0, 1]
