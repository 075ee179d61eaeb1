"""Ways to fill parts: counted before they are made, and never more of them in hand than needed."""

import itertools
import math
import random
import tracemalloc
from dataclasses import replace

import numpy as np
import pytest

import solver.search.enumeration.dual_tree as dual_tree
import solver.search.enumeration.meet_in_the_middle as by_halves
from solver.clock import Clock, TimeUpError
from solver.search.enumeration.fillings import (
    FillingCount,
    Fillings,
    PickRows,
    allowed_picks,
    count_of_all_fillings,
    count_of_fillings,
    fillings_of_part,
)
from solver.search.enumeration.meet_in_the_middle import MOST_SPLIT, Halves, _split
from solver.search.enumeration.pour_vectors import Picks
from solver.search.lexicographic import best
from solver.search.milp.cpsat import CpSat
from solver.search.problem import PartRule, Problem
from solver.search.result import Optimal
from tests.each import each
from tests.search.instances import every_drink, problem

PLENTY = Clock.of(3600)


def with_rule(rule: PartRule, bottles: int = 60) -> Problem:
    given = problem(0, {"modifier": bottles}, with_limits=False)
    return replace(given, parts=(rule,), choices=())


def count_of(given: Problem) -> FillingCount:
    picks = Picks.of(given)
    return count_of_fillings(picks, allowed_picks(given, picks)[0], 0, given.parts[0])


def rows_of(given: Problem) -> PickRows:
    picks = Picks.of(given)
    return fillings_of_part(picks, allowed_picks(given, picks)[0], 0, given.parts[0], PLENTY)


def test_no_more_ways_are_made_than_the_part_may_hold() -> None:
    """Three of sixty bottles are 100 times as many ways as two of them."""
    given = with_rule(PartRule("modifier", 0, 2))
    count = count_of(given)
    tracemalloc.start()
    rows = rows_of(given)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert len(rows) == count.filled
    assert peak < 200 * count.most


def test_what_would_be_in_hand_on_the_way_is_counted_too() -> None:
    """Twenty of twenty-two bottles are few ways; ten of them, which come before, are not."""
    given = with_rule(PartRule("modifier", 20, 20), 22)
    one = tuple(replace(c, amounts=c.amounts[:1]) for c in given.candidates)
    count = count_of(replace(given, candidates=one))
    assert count.filled == math.comb(22, 20)
    assert count.most == math.comb(22, 11)


@each(range(20))
def test_ways_are_counted_as_they_are_made(seed: int) -> None:
    rng = random.Random(seed)
    low = rng.randint(0, 2)
    total = (None, None) if rng.random() < 0.4 else (rng.uniform(0, 20), rng.uniform(20, 60))
    given = with_rule(PartRule("modifier", low, low + rng.randint(0, 2), *total), 4)
    rows = rows_of(given)
    drinks = [tuple(sorted(row[row >= 0])) for row in rows.tolist() for row in [np.array(row)]]
    assert len(set(drinks)) == len(rows) == count_of_all_fillings(given)


def test_a_total_exactly_on_its_bound_is_counted() -> None:
    given = with_rule(PartRule("modifier", 2, 2, None, 2 * 29.5735 / 4), 5)
    assert count_of_all_fillings(given) == math.comb(5, 2)


@each(range(6))
def test_the_ways_to_pour_are_the_drinks_there_are(seed: int) -> None:
    given = problem(seed, {"base": 3, "sweet": 2, "modifier": 2, "bitter": 1})
    assert count_of_all_fillings(given) == len(every_drink(given)[0])


def test_fillings_have_numbers_and_sums() -> None:
    parts = tuple(np.array(rows, dtype=np.int32) for rows in ([[0, -1], [0, 1]], [[2], [-1], [3]]))
    fillings = Fillings(parts)
    vectors = np.vstack([np.diag([1.0, 2.0, 3.0, 4.0]), np.zeros(4)])
    picks = fillings.picks(np.arange(6))
    expected = [(*one, *other) for one in parts[0].tolist() for other in parts[1].tolist()]
    assert picks.tolist() == [list(each) for each in expected]
    assert (fillings.sums(vectors, PLENTY) == vectors[picks].sum(axis=1)).all()
    with pytest.raises(TimeUpError):
        fillings.sums(vectors, Clock.of(0))


@each(range(10))
def test_parts_are_split_so_that_the_halves_have_fewest_ways_together(seed: int) -> None:
    rng = random.Random(seed)
    counts = [rng.choice([1, 2, 7, 30, 200]) for _ in range(rng.randint(0, 7))]
    halves = _split(counts)
    assert sorted(halves[0] + halves[1]) == list(range(len(counts)))
    ways = [math.prod(counts[i] for i in half) for half in halves]
    every = range(len(counts))
    subsets = itertools.chain.from_iterable(itertools.combinations(every, n) for n in every)
    least = min(
        (math.prod(counts[i] for i in s) + math.prod(counts[i] for i in set(every) - set(s)))
        for s in [(), *subsets]
    )
    assert sum(ways) == least


def test_many_parts_are_split_at_once_and_evenly() -> None:
    counts = [3] * (10 * MOST_SPLIT)
    one, other = _split(counts)
    assert len(one) == len(other) == 5 * MOST_SPLIT
    assert sorted(one + other) == list(range(len(counts)))


def test_nothing_is_made_of_a_problem_that_is_too_large() -> None:
    given = with_rule(PartRule("modifier", 0, 6), 200)
    tracemalloc.start()
    assert Halves.of(given, Picks.of(given), PLENTY) is None
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert peak < 5e6


def test_what_takes_too_much_memory_by_halves_goes_to_a_solver_of_rows(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    given = replace(problem(2, {"base": 2, "sour": 1, "sweet": 2}, with_limits=False), choices=())
    whole = best(given, CpSat(), PLENTY).optimum
    monkeypatch.setattr(by_halves, "FEW", 0)
    monkeypatch.setattr(dual_tree, "MOST_NUMBERS", 10)
    found = best(given, CpSat(), PLENTY).optimum
    assert isinstance(whole, Optimal)
    assert isinstance(found, Optimal)
    assert whole.compared == count_of_all_fillings(given)
    assert found.compared is None
    assert found.bound <= whole.value <= found.value + 1e-9
