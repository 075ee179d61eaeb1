"""Minimal conflicts and binding demands, against every set of demands there is."""

import itertools
import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.clock import TimeUpError
from solver.explain import conflicts
from solver.explain.binding import binding
from solver.explain.conflicts import ConflictOracle, all_conflicts, one_conflict

Sets = list[frozenset[int]]

cores = st.lists(st.frozensets(st.integers(0, 7), min_size=1, max_size=4), min_size=1, max_size=6)

offered = st.lists(
    st.tuples(st.frozensets(st.integers(0, 6), min_size=1), st.floats(0, 1)), max_size=6
)


def oracle_of(impossible: Sets) -> ConflictOracle[int]:
    """An oracle to whom exactly these sets, and those around them, are impossible."""

    def ask(items: frozenset[int]) -> frozenset[int] | None:
        return None if any(core <= items for core in impossible) else items

    return ConflictOracle(ask)


def minimal(sets: Sets) -> set[frozenset[int]]:
    return {each for each in sets if not any(other < each for other in sets)}


@given(cores)
def test_all_conflicts_are_found_and_nothing_else(impossible: Sets) -> None:
    found = all_conflicts(range(8), oracle_of(impossible), most=99)
    assert found.complete
    assert set(found.found) == minimal(impossible)
    assert [len(each) for each in found.found] == sorted(len(each) for each in found.found)


def hitting_sets(sets: set[frozenset[int]], items: range) -> set[frozenset[int]]:
    """The minimal sets that meet all of some sets, by looking at every set there is."""
    every = (
        frozenset(chosen)
        for size in range(len(items) + 1)
        for chosen in itertools.combinations(items, size)
    )
    found: set[frozenset[int]] = set()
    for chosen in every:
        if all(chosen & each for each in sets) and not any(known <= chosen for known in found):
            found.add(chosen)
    return found


@given(cores)
def test_all_corrections_are_found_and_nothing_else(impossible: Sets) -> None:
    found = all_conflicts(range(8), oracle_of(impossible), most=99, most_corrections=999)
    assert set(found.corrections) == hitting_sets(minimal(impossible), range(8))
    assert [len(c) for c in found.corrections] == sorted(len(c) for c in found.corrections)


@given(cores, st.integers(1, 3), st.integers(1, 3))
def test_what_a_cap_leaves_is_minimal_and_some_correction_is_always_found(
    impossible: Sets, most: int, most_corrections: int
) -> None:
    found = all_conflicts(range(8), oracle_of(impossible), most, most_corrections)
    everything = minimal(impossible)
    assert set(found.found) <= everything
    assert found.corrections
    assert set(found.corrections) <= hitting_sets(everything, range(8))
    if found.complete:
        assert set(found.found) == everything


@given(cores)
def test_a_drink_that_keeps_more_than_was_asked_saves_questions(impossible: Sets) -> None:
    """An oracle that tells all that its drink keeps is asked no more than one that does not."""
    corrections = sorted(map(sorted, hitting_sets(minimal(impossible), range(8))))

    def ask(items: frozenset[int]) -> frozenset[int] | None:
        whole = (frozenset(range(8)).difference(gone) for gone in corrections)
        return next((kept for kept in whole if items <= kept), None)

    told, plain = ConflictOracle(ask), oracle_of(impossible)
    more, less = (all_conflicts(range(8), each, most=99) for each in (told, plain))
    assert set(more.found) == set(less.found)
    assert told.asked <= plain.asked


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
    assert found.corrections == (frozenset(),)
    assert found.complete


def test_a_cap_on_conflicts_is_owned_up_to() -> None:
    impossible = [frozenset(pair) for pair in itertools.combinations(range(6), 2)]
    found = all_conflicts(range(6), oracle_of(impossible), most=4)
    assert len(found.found) == 4
    assert not found.complete


def test_of_many_demands_all_conflicts_are_found() -> None:
    impossible = [frozenset({1, 2}), frozenset({2, 3}), frozenset({4, 40})]
    found = all_conflicts(range(60), oracle_of(impossible))
    assert found.complete
    assert set(found.found) == set(impossible)
    assert set(found.corrections) == {
        frozenset({2, 4}), frozenset({2, 40}), frozenset({1, 3, 4}), frozenset({1, 3, 40}),
    }  # fmt: skip


def test_too_many_sets_to_look_through_are_not_called_complete(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(conflicts, "MOST_TRIED", 100)
    apart = [frozenset(range(4 * k, 4 * k + 4)) for k in range(8)]
    found = all_conflicts(range(32), oracle_of(apart))
    assert not found.complete
    assert set(found.found) <= set(apart)
    assert found.corrections


def test_what_the_oracle_was_told_is_not_asked_again() -> None:
    oracle = oracle_of([frozenset({1, 2})])
    assert oracle.possible(frozenset({0, 1}))
    assert not oracle.possible(frozenset({1, 2}))
    before = oracle.asked
    assert oracle.possible(frozenset({1}))
    assert not oracle.possible(frozenset({0, 1, 2}))
    assert oracle.asked == before


@given(cores, st.integers(0, 20))
def test_what_was_found_before_the_time_ran_out_is_told(impossible: Sets, most: int) -> None:
    oracle = oracle_of(impossible)
    answer = oracle.ask
    asked: list[frozenset[int]] = []

    def ask(items: frozenset[int]) -> frozenset[int] | None:
        asked.append(items)
        if len(asked) > most:
            raise TimeUpError
        return answer(items)

    oracle.ask = ask
    found = all_conflicts(range(8), oracle, most=99, most_corrections=999)
    assert set(found.found) <= minimal(impossible)
    assert found.undecided == (len(asked) > most)
    assert found.complete != found.undecided


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


def test_where_not_even_nothing_is_possible_no_way_out_is_made_up() -> None:
    found = all_conflicts(range(3), oracle_of([frozenset()]))
    assert found.found == (frozenset(),)
    assert found.corrections == ()
    assert found.complete
