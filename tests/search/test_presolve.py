"""What is seen at a glance is so of every drink there is."""

import random
from dataclasses import replace

import numpy as np

from solver.search.exact_evaluator import evaluate
from solver.search.presolve import simple_drink, trivially_infeasible
from solver.search.problem import Choice, Limit, Problem
from tests.each import each
from tests.search.instances import brute_force, every_amount, every_drink, problem

SIZES = {"base": 2, "sour": 2, "sweet": 2, "modifier": 2}


def posed(seed: int) -> Problem:
    """A small problem with limits moved apart or together, and sometimes bottles missing."""
    rng = random.Random(seed)
    given = problem(seed, SIZES)
    limits = tuple(
        Limit(
            limit.name,
            limit.measure,
            None if limit.low is None else limit.low * rng.choice((1.0, 1.0, 1.6)),
            None if limit.high is None else limit.high * rng.choice((1.0, 1.0, 0.6)),
        )
        for limit in given.limits
    )
    gone = {rng.choice(("base", "sour", "sweet", "modifier")) if rng.random() < 0.2 else ""}
    candidates = tuple(c for c in given.candidates if c.ingredient.split("-")[0] not in gone)
    return replace(given, limits=limits, candidates=candidates, choices=())


def test_what_is_hopeless_is_impossible() -> None:
    infeasible = [given for given in map(posed, range(120)) if trivially_infeasible(given)]
    assert len(infeasible) > 20
    assert all(brute_force(given) is None for given in infeasible)


@each(range(20))
def test_a_problem_with_a_drink_is_not_hopeless_even_where_limits_leave_one_point(
    seed: int,
) -> None:
    given = posed(seed)
    drinks, amounts = every_drink(given)
    if not drinks:
        return
    named = replace(given, limits=tuple(replace(x, low=None, high=None) for x in given.limits))
    row = random.Random(seed).randrange(len(drinks))
    values = {name: float(v[row]) for name, v in evaluate(named, amounts).values.items()}
    # Both ends as far off the drink's own value as the exact evaluator lets pass.
    exact = tuple(
        Limit(
            x.name,
            x.measure,
            values[x.measure.name] * (1 + 9e-10),
            values[x.measure.name] * (1 - 9e-10),
        )
        for x in given.limits
    )
    tight = replace(given, limits=exact)
    if evaluate(named, amounts[row : row + 1]).feasible[0]:
        assert evaluate(tight, amounts[row : row + 1]).feasible[0]
        assert not trivially_infeasible(tight)


def test_a_wish_for_what_is_not_there_is_hopeless() -> None:
    given = replace(problem(1, SIZES, with_limits=False), choices=())
    assert not trivially_infeasible(given)
    assert trivially_infeasible(given.with_choices(Choice("none of it", frozenset(), low=1)))


def test_a_part_without_enough_ingredients_is_hopeless() -> None:
    given = replace(problem(1, SIZES, with_limits=False), choices=())
    parts = (replace(given.parts[0], count_low=3, count_high=3), *given.parts[1:])
    assert trivially_infeasible(replace(given, parts=parts))


@each(range(40))
def test_a_plain_drink_is_one_of_the_drinks(seed: int) -> None:
    given = problem(seed, SIZES, with_limits=False)
    drink = simple_drink(given)
    if not evaluate(given, every_amount(given)).feasible.any():
        assert drink is None
    if drink is not None:
        assert evaluate(given, given.amounts(drink)[np.newaxis]).feasible[0]


def test_a_plain_drink_is_found_where_nothing_but_parts_and_wishes_is_asked() -> None:
    posed = (problem(seed, SIZES, with_limits=False) for seed in range(40))
    wished = [given for given in posed if all(choice.high is None for choice in given.choices)]
    assert len(wished) > 20
    assert all(simple_drink(given) for given in wished)


def test_as_many_as_are_wished_for_are_enough() -> None:
    given = replace(problem(1, SIZES, with_limits=False), choices=())
    one = frozenset({0})
    assert not trivially_infeasible(given.with_choices(Choice("the only one", one, low=1)))
    assert trivially_infeasible(given.with_choices(Choice("two of one", one, low=2)))
    part = replace(given.parts[0], count_low=2, count_high=2)
    assert not trivially_infeasible(replace(given, parts=(part, *given.parts[1:])))
