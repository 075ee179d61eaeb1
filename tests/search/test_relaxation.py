"""The outer model cuts off no drink: checked without any solver."""

import itertools
import random
from dataclasses import replace

from solver.measures import CHANGES, MEASURES, SHIFT
from solver.search.exact import evaluate, evaluate_one
from solver.search.intervals import windows
from solver.search.milp.relaxation import Fineness, Relaxation, formulate
from solver.search.problem import Drink, Goal, Limit, PartRule, Problem
from tests.each import each
from tests.search.instances import (
    SHARED,
    SWEETEST,
    every_drink,
    problem,
    random_drink,
    with_characters,
    with_formers,
    with_ranges,
    with_shared_part,
)

SIZES = {"base": 3, "sour": 2, "sweet": 2, "modifier": 2, "bitter": 1}
LONG = {"base": 2, "sour": 1, "sweet": 2, "lengthener": 2}
NEARLY = (10.0, 20.00000002)
"""Two pours that come to 30, but for what rounding may add."""
FINENESSES = (Fineness(), Fineness().finer(), Fineness().finer().finer().finer())


def tightest(given: Problem, drink: Drink) -> Problem:
    """The same problem, with every measure held at exactly the drink's own value."""
    measures = (*MEASURES.values(), CHANGES, SHIFT, *given.characters)
    open_limits = tuple(Limit(each.name, each) for each in measures)
    values = evaluate_one(replace(given, limits=open_limits), drink).values
    exact = tuple(
        Limit(each.name, each, float(values[each.name][0]), float(values[each.name][0]))
        for each in measures
    )
    return replace(given, limits=exact, choices=())


def broken_rows(relaxation: Relaxation, drink: Drink) -> list[str]:
    """Names of the rows and variables that the drink does not satisfy."""
    values = relaxation.lifted(drink)
    broken = [
        variable.name
        for variable, value in zip(relaxation.rows.variables, values, strict=True)
        if not variable.low <= value <= variable.high
    ]
    for row in relaxation.rows.rows:
        total = sum(c * values[v] for v, c in zip(row.variables, row.coefficients, strict=True))
        if total > row.upper:
            broken.append(row.name)
    return broken


@each(itertools.product(range(12), [SIZES, LONG]))
def test_every_drink_satisfies_every_row_when_limits_lie_exactly_on_its_values(
    seed: int, sizes: dict[str, int]
) -> None:
    given = with_formers(problem(seed, sizes, with_limits=False), seed)
    given = replace(with_characters(given, seed), limits=())
    rng = random.Random(seed)
    for fineness in FINENESSES:
        drink = random_drink(rng, given)
        tight = tightest(given, drink)
        relaxation = formulate(tight, windows(tight), fineness, goal=None)
        assert broken_rows(relaxation, drink) == []


@each(range(24))
def test_a_drink_sweeter_than_any_that_is_poured_satisfies_every_row_too(seed: int) -> None:
    techniques = ("none", "stir", "build")
    given = problem(seed, SWEETEST, with_limits=False, techniques=techniques)
    rng = random.Random(seed)
    for fineness in FINENESSES:
        drink = random_drink(rng, given)
        tight = tightest(given, drink)
        relaxation = formulate(tight, windows(tight), fineness, goal=None)
        assert broken_rows(relaxation, drink) == []


def test_a_total_that_is_passed_by_rounding_alone_is_kept_and_one_pour_too_large_is_not() -> None:
    given = replace(problem(1, {"base": 2}, with_limits=False), choices=())
    pours = [
        replace(c, amounts=(amount, 40.0))
        for c, amount in zip(given.candidates, NEARLY, strict=True)
    ]
    for count, poured, kept in ((2, ((0, 0), (1, 0)), True), (1, ((0, 1),), False)):
        part = PartRule("base", count, count, total_high=30.0)
        tried = replace(given, candidates=tuple(pours), parts=(part,))
        assert bool(evaluate_one(tried, poured).feasible[0]) is kept
        rows = formulate(tried, windows(tried), Fineness(), goal=None)
        assert (broken_rows(rows, poured) == []) is kept


@each(range(8))
def test_rows_of_a_part_that_holds_two_are_kept_by_its_drinks_and_broken_by_others(
    seed: int,
) -> None:
    given = with_shared_part(problem(seed, SHARED, with_limits=False), seed)
    given = replace(given, choices=())
    relaxation = formulate(given, windows(given), Fineness(), goal=None)
    loose = replace(given, parts=tuple(PartRule(p.name, 0, 2) for p in given.parts))
    drinks, amounts = every_drink(replace(given, parts=(*given.parts[:-1], loose.parts[-1])))
    feasible = evaluate(given, amounts).feasible
    for row in random.Random(seed).sample(range(len(drinks)), 60):
        broken = [name for name in broken_rows(relaxation, drinks[row]) if "modifier" in name]
        if feasible[row]:
            assert broken == []
        elif given.parts[-1].count_low:  # else its least total is left to the exact evaluator
            assert broken


def test_two_amounts_of_one_ingredient_break_a_row() -> None:
    given = with_shared_part(problem(0, SHARED, with_limits=False), 0)
    relaxation = formulate(given, windows(given), Fineness(), goal=None)
    twice = len(given.candidates) - 1
    assert "one pour of each" in broken_rows(relaxation, ((twice, 0), (twice, 1)))


def test_one_ingredient_in_two_parts_breaks_a_row() -> None:
    given = problem(0, SIZES, with_limits=False)
    first, *_, last = range(len(given.candidates))
    name = given.candidates[first].ingredient
    renamed = replace(given.candidates[last], ingredient=name)
    given = replace(given, candidates=(*given.candidates[:-1], renamed), choices=())
    relaxation = formulate(given, windows(given), Fineness(), goal=None)
    assert "in one part" in broken_rows(relaxation, ((first, 0), (last, 0)))
    assert "in one part" not in broken_rows(relaxation, ((first, 0),))


@each(range(12))
def test_the_objective_never_exceeds_the_exact_distance(seed: int) -> None:
    given = replace(problem(seed, SIZES, with_limits=False), choices=())
    given = with_ranges(given) if seed % 2 else given
    drink = random_drink(random.Random(seed), given)
    exact = float(evaluate_one(given, drink).off_aim[0])
    for fineness in FINENESSES:
        within = windows(given, exact)
        relaxation = formulate(given, within, fineness, goal=None, below=exact)
        assert broken_rows(relaxation, drink) == []
        objective = relaxation.lifted(drink)[relaxation.objective]
        assert objective <= exact * relaxation.objective_scale + 1e-6


@each(range(12))
def test_the_objective_never_exceeds_the_exact_change(seed: int) -> None:
    given = with_formers(problem(seed, SIZES, with_limits=False), seed)
    given = replace(given, choices=(), goal=Goal.NEAREST)
    drink = random_drink(random.Random(seed + 1), given)
    for measure in given.goal.measures:
        exact = float(evaluate_one(given, drink).values[measure.name][0])
        relaxation = formulate(given, windows(given), Fineness(), goal=measure, below=exact)
        assert broken_rows(relaxation, drink) == []
        objective = relaxation.lifted(drink)[relaxation.objective]
        scaled = exact * relaxation.objective_scale
        assert scaled - 1 <= objective <= scaled + 1e-6


def test_a_forbidden_drink_breaks_its_row_and_no_other_drink_does() -> None:
    given = replace(problem(1, SIZES, with_limits=False), choices=())
    rng = random.Random(1)
    drink, other = random_drink(rng, given), random_drink(rng, given)
    assert drink != other
    relaxation = formulate(given, windows(given), Fineness(), goal=None, forbidden=[drink])
    assert broken_rows(relaxation, drink) == ["seen"]
    assert broken_rows(relaxation, other) == []
