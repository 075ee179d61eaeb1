"""What is offered among drinks that nobody would tell apart."""

from dataclasses import replace

import pytest

from solver.clock import Clock
from solver.measures import MEASURES
from solver.search.exact_evaluator import evaluate, evaluate_one
from solver.search.lexicographic import Agreed, Disagreed, best, verified
from solver.search.milp.cpsat import CpSat
from solver.search.minimise import Drinks, Search
from solver.search.problem import Drink, Limit, Problem
from solver.search.result import Impossible, Optimal, Stopped, Witness
from solver.search.tolerances import UNNOTICED
from tests.search.instances import brute_force, every_amount, problem

SIZES = {"base": 2, "sour": 1, "sweet": 2, "modifier": 2, "bitter": 2}


@pytest.mark.parametrize("seed", range(8))
def test_the_offer_has_the_fewest_ingredients_of_all_that_nobody_would_tell_apart(
    seed: int,
) -> None:
    given = replace(problem(seed, SIZES, with_limits=False), choices=())
    found = best(given, CpSat(), Clock.of(60))
    counted = replace(given, limits=(Limit("any", MEASURES["bottles"]),))
    every = evaluate(counted, every_amount(counted))
    assert isinstance(found.optimum, Optimal)
    assert isinstance(found.chosen, Optimal)
    close = every.off_aim < found.optimum.value + UNNOTICED
    fewest = every.values["bottles"][close].min()
    assert len(found.chosen.drink) == fewest
    rivals = close & (every.values["bottles"] == fewest)
    assert found.chosen.value == pytest.approx(every.off_aim[rivals].min(), abs=1e-9)


def test_a_solver_that_finds_better_than_the_bound_does_not_agree() -> None:
    given = replace(problem(0, SIZES, with_limits=False), choices=())
    found = best(given, CpSat(), Clock.of(60))
    assert verified(found, CpSat(), Clock.of(60)) == Agreed(CpSat().name)
    assert isinstance(found.optimum, Optimal)
    wrong = replace(found.optimum, value=9.0, bound=9.0)
    assert isinstance(verified(replace(found, optimum=wrong), CpSat(), Clock.of(60)), Disagreed)
    none = verified(replace(found, optimum=Impossible()), CpSat(), Clock.of(60))
    assert isinstance(none, Disagreed)


def test_no_verdict_of_a_second_solver_without_time_for_it() -> None:
    given = replace(problem(0, SIZES, with_limits=False), choices=())
    found = best(given, CpSat(), Clock.of(60))
    assert isinstance(verified(found, CpSat(), Clock.of(0)), Stopped)
    stopped = Stopped(None, 9.0, 0.0, interrupted=False)
    assert verified(replace(found, optimum=stopped), CpSat(), Clock.of(60)) is stopped


class Short(Clock):
    """A clock that runs out when it has been looked at so many times."""

    looks: int = 0
    most: int = 0

    @property
    def left(self) -> float:
        object.__setattr__(self, "looks", self.looks + 1)
        return 60.0 if self.looks <= self.most else 0.0


def short(most: int) -> Clock:
    clock = Short(0.0)
    object.__setattr__(clock, "most", most)
    return clock


@pytest.mark.parametrize("seed", range(3))
def test_a_choice_that_was_cut_short_is_never_called_proven(seed: int) -> None:
    """Whenever the time runs out: proven and the same as with all the time, or stopped."""
    given = replace(problem(seed, SIZES, with_limits=False), choices=())
    whole = best(given, CpSat(), Clock.of(60))
    stopped = 0
    for most in range(400):
        found = best(given, CpSat(), short(most))
        if found.chosen == whole.chosen:
            break
        assert isinstance(found.chosen, Stopped)
        assert not found.chosen.interrupted
        stopped += 1
    assert stopped
    assert found.chosen == whole.chosen


def interrupted(given: Problem, at: int, monkeypatch: pytest.MonkeyPatch) -> object:
    """What `best` comes to if the user stops it at the `at`-th evaluation of a drink."""
    count = 0

    def evaluated(problem: Problem, drink: Drink) -> object:
        nonlocal count
        count += 1
        if count == at:
            raise KeyboardInterrupt
        return evaluate_one(problem, drink)

    with monkeypatch.context() as patch:
        patch.setattr("solver.search.minimise.evaluate_one", evaluated)
        return best(given, CpSat(), Clock.of(60)).chosen


@pytest.mark.parametrize("seed", range(4))
def test_an_interrupt_at_any_moment_is_told(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    given = replace(problem(seed, SIZES, with_limits=False), choices=())
    whole = best(given, CpSat(), Clock.of(60)).chosen
    for at in range(1, 50):
        found = interrupted(given, at, monkeypatch)
        if found == whole:
            break
        assert isinstance(found, Stopped)
        assert found.interrupted


@pytest.mark.parametrize("least", [0, 1])
def test_nothing_to_pour_is_impossible_by_halves_and_on_rows(least: int) -> None:
    given = replace(problem(0, SIZES), candidates=(), choices=())
    given = replace(given, parts=tuple(replace(part, count_low=least) for part in given.parts))
    for by_halves in (True, False):
        search = Search(
            given,
            None,
            tolerance=0.1,
            backend=CpSat(),
            clock=Clock.of(60),
            drinks=Drinks(given, by_halves=by_halves),
        )
        assert isinstance(search.run(), Impossible)
        assert isinstance(search.any(), Impossible)


@pytest.mark.parametrize("seed", range(8))
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
                drinks=Drinks(given, by_halves=by_halves),
            )
            found = search.any(below)
            expected = best_value is not None and gain > 0
            assert isinstance(found, Witness if expected else Impossible)
            if isinstance(found, Witness):
                evaluation = evaluate_one(given, found.drink)
                assert evaluation.feasible[0]
                assert evaluation.off_aim[0] < below
