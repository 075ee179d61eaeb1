"""What the search calls best or impossible, against every drink there is."""

from dataclasses import replace
from itertools import pairwise

import pytest

from solver.clock import Clock
from solver.mixture.melt import TECHNIQUES
from solver.search.enumeration import dual_tree
from solver.search.exact import evaluate_one
from solver.search.intervals import Windows, windows
from solver.search.milp.backend import Backend
from solver.search.milp.cpsat import CpSat
from solver.search.milp.mathopt import MathOpt
from solver.search.minimise import EXACT, Drinks, Search
from solver.search.problem import Goal, Problem
from solver.search.result import Impossible, Optimal, Result
from tests.each import each
from tests.search.instances import (
    SHARED,
    SWEETEST,
    brute_force,
    problem,
    with_characters,
    with_ranges,
    with_shared_part,
)

TOLERANCE = 0.02
SHAPES: tuple[dict[str, int], ...] = (
    {"base": 2, "sour": 1, "sweet": 2, "bitter": 1, "lengthener": 1},
    {"base": 2, "sour": 2, "sweet": 2, "modifier": 2},
    {"base": 3, "sour": 1, "sweet": 2, "bitter": 2},
)
LARGER = {"base": 10, "sour": 2, "sweet": 4, "modifier": 4}


def optimum(given: Problem, backend: Backend | None) -> Result:
    """What the search finds: by halves, or by a MILP solver."""
    return Search(
        given,
        given.goal.measure,
        tolerance=TOLERANCE,
        backend=backend or CpSat(),
        clock=Clock.of(60),
        drinks=Drinks.of(given, by_halves=backend is None),
    ).run()


def agrees(given: Problem, backend: Backend | None) -> bool:
    """Whether the search and brute force agree on the optimum, or that there is none."""
    goal = given.goal.measure
    tolerance = TOLERANCE if backend else EXACT
    found = optimum(given, backend)
    best = brute_force(given)
    if best is None:
        return isinstance(found, Impossible)
    if not isinstance(found, Optimal):
        return False
    evaluation = evaluate_one(given, found.drink)
    value = evaluation.off_aim[0] if goal is None else evaluation.values[goal.name][0]
    return (
        bool(evaluation.feasible[0])
        and value == found.value
        and found.value <= best + tolerance + 1e-9
        and found.bound <= best + 1e-9
    )


@pytest.mark.parametrize(("seed", "goal"), [*enumerate(Goal)])
def test_rows_find_the_optimum_of_every_drink_there_is(seed: int, goal: Goal) -> None:
    assert agrees(problem(seed, SHAPES[seed % len(SHAPES)], goal=goal), CpSat())


@pytest.mark.sweep
@pytest.mark.parametrize("goal", list(Goal))
@pytest.mark.parametrize("seed", range(100, 200))
def test_the_optimum_equals_that_of_every_drink_there_is_at_length(seed: int, goal: Goal) -> None:
    given = problem(seed, SHAPES[seed % len(SHAPES)], goal=goal)
    assert agrees(given, None)
    assert agrees(given, CpSat())


@each(range(200, 260))
def test_halves_find_the_optimum_of_every_drink_there_is(seed: int) -> None:
    goal = list(Goal)[seed % len(Goal)]
    assert agrees(problem(seed, SHAPES[seed % len(SHAPES)], goal=goal), None)


@pytest.mark.parametrize("seed", range(260, 264))
def test_drinks_sweeter_than_any_that_are_poured_are_found_too(seed: int) -> None:
    given = problem(seed, SWEETEST, techniques=("none", "build"))
    assert agrees(given, None)
    assert agrees(given, CpSat())


def ranges_are_kept(seed: int) -> bool:
    given = with_ranges(problem(seed, SHAPES[seed % len(SHAPES)]))
    return agrees(given, None) and agrees(given, CpSat())


@pytest.mark.parametrize("seed", range(400, 406))
def test_ranges_for_aims_are_kept_as_exactly_as_values(seed: int) -> None:
    assert ranges_are_kept(seed)


@pytest.mark.sweep
@pytest.mark.parametrize("seed", range(6000, 6100))
def test_ranges_for_aims_are_kept_as_exactly_as_values_at_length(seed: int) -> None:
    assert ranges_are_kept(seed)


@pytest.mark.parametrize("apart", [2e-7, 2e-5])
def test_pours_that_are_equal_for_the_evaluator_are_equal_for_the_search(apart: float) -> None:
    """They lie about where a sixth decimal is rounded."""
    given = replace(problem(1, {"base": 1, "sweet": 1}, with_limits=False), choices=())
    at = 10.0000005
    amounts = (at - apart / 2, at + apart / 2)
    pours = zip(given.candidates, amounts, strict=True)
    candidates = tuple(replace(each, amounts=(amount,)) for each, amount in pours)
    equal = replace(given, candidates=candidates, equal=frozenset({0, 1}))
    assert (brute_force(equal) is not None) is (apart < 1e-6)
    assert agrees(equal, None)
    assert agrees(equal, CpSat())


def equal_pours_are_the_best(seed: int) -> bool:
    shape = {"base": 2, "sweet": 2, "modifier": 2, "bitter": 1}
    given = replace(problem(seed, shape, with_limits=seed % 2 == 0), equal=frozenset({0, 1, 2}))
    return agrees(given, None) and agrees(given, CpSat())


@pytest.mark.parametrize("seed", range(420, 424))
def test_equal_pours_are_the_best_of_all_equal_pours(seed: int) -> None:
    assert equal_pours_are_the_best(seed)


@pytest.mark.sweep
@pytest.mark.parametrize("seed", range(6100, 6200))
def test_equal_pours_are_the_best_of_all_equal_pours_at_length(seed: int) -> None:
    assert equal_pours_are_the_best(seed)


def shared(seed: int) -> Problem:
    goal = list(Goal)[seed % len(Goal)]
    given = problem(seed, SHARED, goal=goal, with_limits=seed % 2 == 0)
    return with_shared_part(given, seed)


@pytest.mark.parametrize("seed", range(440, 448))
def test_parts_that_hold_two_and_a_total_are_filled_as_well_as_can_be(seed: int) -> None:
    assert agrees(shared(seed), None)
    assert agrees(shared(seed), CpSat())


def test_some_of_the_best_drinks_pour_two_in_the_shared_part() -> None:
    found = [optimum(shared(seed), None) for seed in range(440, 448)]
    sizes = [len(each.drink) for each in found if isinstance(each, Optimal)]
    assert 3 <= min(sizes) < max(sizes) == 5


@pytest.mark.parametrize("seed", range(460, 464))
def test_what_is_looked_at_in_pieces_comes_to_the_same(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As where inequalities over all strengths let too many drinks pass."""
    pieces = []
    cut = dual_tree._pieces

    def counted(within: Windows) -> list[Windows]:
        pieces.append(cut(within))
        return pieces[-1]

    given = problem(seed, LARGER, with_limits=seed % 3 == 0)
    given = replace(given, curve=TECHNIQUES["shake"].curve)
    whole = optimum(given, None)
    monkeypatch.setattr(dual_tree, "MOST_IN_ONE", 0)
    monkeypatch.setattr(dual_tree, "BATCH", 4)  # or all would be opened at once
    monkeypatch.setattr(dual_tree, "_pieces", counted)
    monkeypatch.setattr(Search, "descents", iter(()))  # nothing good is known at first
    found = optimum(given, None)
    assert pieces
    assert type(found) is type(whole)
    if isinstance(found, Optimal) and isinstance(whole, Optimal):
        assert found.value == pytest.approx(whole.value, abs=1e-9)


def test_pieces_hold_all_strengths_that_there_are() -> None:
    within = windows(problem(1, SHAPES[0]))
    found = dual_tree._pieces(within)
    assert len(found) > 1
    assert found[0].strength.low == within.strength.low
    assert found[-1].strength.high == within.strength.high
    for one, other in pairwise(found):
        assert one.strength.high == other.strength.low
    assert all(replace(each, strength=within.strength) == within for each in found)


def with_character(seed: int) -> Problem:
    """A small problem of which characters are asked: ranges, or for every third values."""
    given = problem(seed, SHAPES[seed % len(SHAPES)], with_limits=seed % 2 == 0)
    return with_characters(given, seed, aimed=seed % 3 == 0)


@each(range(440, 464))
def test_halves_keep_what_is_asked_of_characters_as_exactly_as_any_limit(seed: int) -> None:
    assert agrees(with_character(seed), None)


@pytest.mark.parametrize("seed", range(440, 464, 8))
def test_rows_keep_what_is_asked_of_characters_as_exactly_as_any_limit(seed: int) -> None:
    assert agrees(with_character(seed), CpSat())


@pytest.mark.sweep
@pytest.mark.parametrize("seed", range(5000, 5200))
def test_what_is_asked_of_characters_is_kept_as_exactly_as_any_limit_at_length(seed: int) -> None:
    given = with_character(seed)
    assert agrees(given, None)
    assert agrees(given, CpSat())


def test_characters_matter_to_some_of_the_random_problems_and_rule_out_all_of_others() -> None:
    given = [with_character(seed) for seed in range(440, 464)]
    free = [
        brute_force(replace(each, limits=tuple(m for m in each.limits if not m.measure.tags)))
        for each in given
    ]
    held = [brute_force(each) for each in given]
    assert sum(one != other for one, other in zip(free, held, strict=True)) >= 6
    assert sum(one is not None and other is None for one, other in zip(free, held, strict=True)) > 0


def halves_agree_with_rows(seed: int) -> bool:
    """Whether halves and CP-SAT agree on a problem too large for brute force."""
    given = problem(seed, LARGER)
    exact, rows = optimum(given, None), optimum(given, CpSat())
    if not (isinstance(exact, Optimal) and isinstance(rows, Optimal)):
        return isinstance(exact, Impossible) and isinstance(rows, Impossible)
    return rows.bound - 1e-9 <= exact.value <= rows.value + 1e-9 <= rows.bound + TOLERANCE + 2e-9


@pytest.mark.parametrize("seed", [301, 302])
def test_halves_and_rows_agree_on_larger_problems(seed: int) -> None:
    assert halves_agree_with_rows(seed)


@pytest.mark.sweep
@pytest.mark.parametrize("seed", [300, *range(303, 353)])
def test_halves_and_rows_agree_on_larger_problems_at_length(seed: int) -> None:
    assert halves_agree_with_rows(seed)


@pytest.mark.parametrize(
    ("seed", "solver"),
    [
        *((seed, "highs") for seed in (2, 3)),
        pytest.param(5, "highs", marks=pytest.mark.sweep),
        pytest.param(7, "highs", marks=pytest.mark.sweep),
        pytest.param(0, "highs", marks=pytest.mark.sweep),
        pytest.param(4, "highs", marks=pytest.mark.sweep),
        pytest.param(1, "highs", marks=pytest.mark.sweep),
        pytest.param(0, "scip", marks=pytest.mark.sweep),
        pytest.param(1, "scip", marks=pytest.mark.sweep),
    ],
)
def test_a_second_solver_agrees_with_every_drink_there_is(seed: int, solver: str) -> None:
    assert agrees(problem(seed, SHAPES[seed % len(SHAPES)]), MathOpt(solver))


def test_some_of_the_random_problems_are_impossible_and_some_are_not() -> None:
    verdicts = {
        brute_force(problem(seed, SHAPES[seed % len(SHAPES)])) is None for seed in range(10)
    }
    assert verdicts == {True, False}
