"""Minimal conflicts and binding demands, against every set of demands there is."""

import itertools
import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.reasons.binding import binding
from solver.reasons.conflicts import (
    MOST_ITEMS,
    Conflicts,
    Oracle,
    UndecidedError,
    all_conflicts,
    one_conflict,
)

Sets = list[frozenset[int]]

cores = st.lists(st.frozensets(st.integers(0, 7), min_size=1, max_size=4), min_size=1, max_size=6)

offered = st.lists(
    st.tuples(st.frozensets(st.integers(0, 6), min_size=1), st.floats(0, 1)), max_size=6
)


def oracle_of(impossible: Sets) -> Oracle[int]:
    """An oracle to whom exactly these sets, and those around them, are impossible."""

    def ask(items: frozenset[int]) -> frozenset[int] | None:
        return None if any(core <= items for core in impossible) else items

    return Oracle(ask)


def minimal(sets: Sets) -> set[frozenset[int]]:
    return {each for each in sets if not any(other < each for other in sets)}


@given(cores)
def test_all_conflicts_are_found_and_nothing_else(impossible: Sets) -> None:
    found = all_conflicts(range(8), oracle_of(impossible), most=99)
    assert found.complete
    assert set(found.found) == minimal(impossible)
    assert [len(each) for each in found.found] == sorted(len(each) for each in found.found)


@given(cores, st.randoms())
def test_one_conflict_is_minimal_whatever_the_order(impossible: Sets, order: random.Random) -> None:
    items = list(range(8))
    order.shuffle(items)
    assert one_conflict(items, oracle_of(impossible)) in minimal(impossible)


@given(cores, st.frozensets(st.integers(0, 7)))
def test_a_conflict_with_a_background_is_minimal_beside_it(
    impossible: Sets, background: frozenset[int]
) -> None:
    oracle = oracle_of(impossible)
    items = [item for item in range(8) if item not in background]
    conflict = one_conflict(items, oracle, background)
    assert not oracle.possible(background | conflict)
    for item in conflict:
        assert oracle.possible(background | conflict - {item})


def test_no_conflicts_where_everything_is_possible() -> None:
    found = all_conflicts(range(5), oracle_of([frozenset({9})]))
    assert found.found == ()
    assert found.complete


def test_a_cap_on_conflicts_is_owned_up_to() -> None:
    impossible = [frozenset(pair) for pair in itertools.combinations(range(6), 2)]
    found = all_conflicts(range(6), oracle_of(impossible), most=4)
    assert len(found.found) == 4
    assert not found.complete


def test_many_demands_give_minimal_conflicts_that_are_not_called_complete() -> None:
    many = MOST_ITEMS + 3
    impossible = [frozenset({1, 2}), frozenset({2, 3}), frozenset({4, 20})]
    found = all_conflicts(range(many), oracle_of(impossible))
    assert not found.complete
    assert set(found.found) <= set(impossible)
    assert len(found.found) == 2


def test_what_the_oracle_was_told_is_not_asked_again() -> None:
    oracle = oracle_of([frozenset({1, 2})])
    assert oracle.possible(frozenset({0, 1}))
    assert not oracle.possible(frozenset({1, 2}))
    before = oracle.asked
    assert oracle.possible(frozenset({1}))
    assert not oracle.possible(frozenset({0, 1, 2}))
    assert oracle.asked == before


def test_without_time_one_conflict_is_undecided() -> None:
    def ask(_: frozenset[int]) -> frozenset[int] | None:
        raise UndecidedError

    with pytest.raises(UndecidedError):
        one_conflict(range(3), Oracle(ask))
    assert all_conflicts(range(3), Oracle(ask)) == Conflicts((), complete=False, undecided=True)


@given(cores, st.integers(0, 40))
def test_what_was_found_before_the_time_was_up_are_conflicts(impossible: Sets, most: int) -> None:
    whole = oracle_of(impossible)
    asked = 0

    def ask(items: frozenset[int]) -> frozenset[int] | None:
        nonlocal asked
        asked += 1
        if asked > most:
            raise UndecidedError
        return whole.ask(items)

    found = all_conflicts(range(8), Oracle(ask), most=99)
    every = all_conflicts(range(8), oracle_of(impossible), most=99)
    assert set(found.found) <= set(every.found)
    assert found.undecided or found == every
    assert not (found.undecided and found.complete)


@given(
    st.lists(st.tuples(st.frozensets(st.integers(0, 6), min_size=1), st.floats(0, 1)), max_size=6)
)
def test_a_demand_binds_if_and_only_if_dropping_it_alone_helps(
    offers: list[tuple[frozenset[int], float]],
) -> None:
    """Each offer is a drink with its value, and the demands that it breaks."""

    def without(dropped: frozenset[int]) -> float | None:
        values = [value for broken, value in offers if broken <= dropped and value < 1.0]
        return min(values, default=None)

    expected = {i: value for i in range(7) if (value := without(frozenset({i}))) is not None}
    found = binding(
        range(7), lambda many: without(many) is not None, lambda one: without(frozenset({one}))
    )
    assert found == expected


def test_one_question_is_enough_where_nothing_binds() -> None:
    questions: list[frozenset[int]] = []

    def helps(dropped: frozenset[int]) -> bool:
        questions.append(dropped)
        return False

    assert binding(range(12), helps, lambda _: pytest.fail("a second question")) == {}
    assert len(questions) == 1
