"""What is offered among drinks that nobody would tell apart."""

from dataclasses import replace

import pytest

from solver.measures import MEASURES
from solver.search.best import UNNOTICED, best, verified
from solver.search.clock import Clock
from solver.search.cpsat import CpSat
from solver.search.exact import evaluate, evaluate_one
from solver.search.loop import Drinks, Ending, Search
from solver.search.problem import Limit
from tests.search.instances import brute_force, every_drink, problem

SIZES = {"base": 2, "sour": 1, "sweet": 2, "modifier": 2, "bitter": 2}


@pytest.mark.parametrize("seed", range(12))
def test_the_offer_has_the_fewest_ingredients_of_all_that_nobody_would_tell_apart(
    seed: int,
) -> None:
    given = replace(problem(seed, SIZES, with_limits=False), choices=())
    found = best(given, CpSat(), Clock.of(60))
    counted = replace(given, limits=(Limit("any", MEASURES["bottles"]),))
    every = evaluate(counted, every_drink(counted)[1])
    close = every.off_aim < found.optimum.value + UNNOTICED
    fewest = every.values["bottles"][close].min()
    assert found.chosen.drink is not None
    assert len(found.chosen.drink) == fewest
    rivals = close & (every.values["bottles"] == fewest)
    assert found.chosen.value == pytest.approx(every.off_aim[rivals].min(), abs=1e-9)


def test_a_solver_that_finds_better_than_the_bound_is_not_passed_over() -> None:
    given = replace(problem(0, SIZES, with_limits=False), choices=())
    found = best(given, CpSat(), Clock.of(60))
    assert verified(found, CpSat(), Clock.of(60))
    wrong = replace(found.optimum, drink=None, value=9.0, bound=9.0)
    with pytest.raises(RuntimeError, match="against a bound of 9"):
        verified(replace(found, optimum=wrong), CpSat(), Clock.of(60))


def test_no_verdict_of_a_second_solver_without_time_for_it() -> None:
    given = replace(problem(0, SIZES, with_limits=False), choices=())
    found = best(given, CpSat(), Clock.of(60))
    stopped = replace(found, optimum=replace(found.optimum, ending=Ending.STOPPED))
    assert verified(stopped, CpSat(), Clock.of(60)) is None


def test_nothing_to_pour_is_impossible_by_halves_and_on_rows() -> None:
    given = replace(problem(0, SIZES), candidates=(), choices=())
    for by_halves in (True, False):
        search = Search(
            given,
            None,
            tolerance=0.1,
            backend=CpSat(),
            clock=Clock.of(60),
            drinks=Drinks.of(given, by_halves=by_halves),
        )
        assert search.run().ending is Ending.IMPOSSIBLE
        assert search.any().ending is Ending.IMPOSSIBLE


@pytest.mark.parametrize("seed", range(20))
def test_any_drink_under_a_value_is_found_if_and_only_if_there_is_one(seed: int) -> None:
    given = problem(seed, SIZES)
    best_value = brute_force(given)
    for by_halves in (True, False):
        for gain in (-0.3, 0.3):
            below = 1.0 if best_value is None else best_value + gain
            search = Search(
                given,
                None,
                tolerance=0.1,
                backend=CpSat(),
                clock=Clock.of(60),
                drinks=Drinks.of(given, by_halves=by_halves),
            )
            found = search.any(below)
            expected = best_value is not None and gain > 0
            assert (found.drink is not None) == expected
            assert (found.ending is Ending.IMPOSSIBLE) != expected
            if found.drink is not None:
                evaluation = evaluate_one(given, found.drink)
                assert evaluation.feasible[0]
                assert evaluation.off_aim[0] < below
