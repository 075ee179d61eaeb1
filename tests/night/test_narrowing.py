"""What is chosen first and then narrowed is true of the whole, and can be poured."""

from __future__ import annotations

from types import SimpleNamespace

from hypothesis import given, settings
from hypothesis import strategies as st

from solver.clock import Clock
from solver.night.menu_rows import demands_of, rows_of
from solver.search.milp.in_floats import _own_bound, no_more_than
from solver.search.milp.integer_program import (
    CpSatProgram,
    Enough,
    Infeasible,
    ProgramOutOfTime,
    SolvedProgram,
    total,
)
from solver.search.milp.narrowing import narrowed
from tests.night.bartender import serve
from tests.night.test_menu import with_menu

TIME = 60.0


@given(st.floats(-1e-9, 1e-9), st.sampled_from((1.0, 1e2, 1e4, 1e5)))
def test_noise_about_a_bound_of_nothing_proves_nothing(noise: float, scale: float) -> None:
    """It grows with what is added up, and not with what that comes to."""
    bounds = SimpleNamespace(dual_bound=noise)
    said = SimpleNamespace(termination=SimpleNamespace(objective_bounds=bounds))
    assert SolvedProgram((), 1, _own_bound(said, scale)).whole_bound == 0


@settings(max_examples=40)
@given(st.integers(0, 10**6), st.sampled_from((0.0, 0.01, 0.3)))
def test_what_is_narrowed_is_as_near_to_the_best_as_it_says(seed: int, share: float) -> None:
    question = with_menu(seed)
    rows = rows_of(question, frozenset(demands_of(question)))
    goal = rows.loss()
    best = CpSatProgram().minimise(rows.program, goal, Clock.of(TIME))
    unknown = ProgramOutOfTime()
    found = narrowed(rows.program, goal, Clock.of(TIME), Enough(share=share), unknown)
    if isinstance(best, Infeasible):
        assert isinstance(found, ProgramOutOfTime)
        return
    assert isinstance(best, SolvedProgram)
    assert found.bound <= best.value
    if isinstance(found, SolvedProgram):
        assert best.value <= found.value == total(goal, found.values)
        serve(question, rows.plan(found.values))  # it refuses what is not there


@settings(max_examples=30)
@given(st.integers(0, 10**6))
def test_nothing_is_ruled_out_that_comes_to_no_more_and_all_that_comes_to_more(seed: int) -> None:
    question = with_menu(seed)
    rows = rows_of(question, frozenset(demands_of(question)))
    goal = rows.loss()
    best = CpSatProgram().minimise(rows.program, goal, Clock.of(TIME))
    if not isinstance(best, SolvedProgram):
        return
    whole = [v for v, unit in enumerate(rows.program.units) if unit == 1.0]
    below = no_more_than(rows.program, goal, best.value - 1, Clock.of(TIME), whole)
    assert isinstance(below, Infeasible)
    there = no_more_than(rows.program, goal, best.value, Clock.of(TIME), whole)
    assert not isinstance(there, Infeasible)
