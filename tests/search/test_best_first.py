"""Sets come best first, each once, none missing: compared with every set of small questions."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from solver.clock import Clock, TimeUpError
from solver.search.sets.best_first import best_first
from solver.search.sets.seats import Seats
from solver.search.sets.set_question import SetPart, SetQuestion, SetWish
from tests.each import each
from tests.search.set_questions import every_set, question

PATIENT = Clock.of(3600.0)


@pytest.mark.parametrize("spread", [2, 1000])
def test_every_set_comes_once_in_the_stated_order(spread: int) -> None:
    counts = set()
    for seed in range(60):
        given = question(seed, spread=spread)
        found = list(best_first(given, PATIENT))
        assert found == every_set(given)
        counts.add(min(len(found), 2))
    assert counts == {0, 1, 2}


@pytest.mark.sweep
def test_every_set_comes_once_in_the_stated_order_in_many_questions() -> None:
    for seed in range(1000, 3000):
        given = question(seed, most_names=10, most_parts=5)
        assert list(best_first(given, PATIENT)) == every_set(given)


@each(range(30))
def test_pushing_worth_from_pairs_to_seats_changes_no_set(seed: int) -> None:
    seats = Seats.of(question(seed))
    if not (seats.count and (np.diff(seats.starts) > 0).all()):
        return
    reparametrised = seats.reparametrised()

    def worth(of: Seats, options: tuple[int, ...]) -> int:
        pairs = sum(int(of.together[two]) for two in itertools.combinations(options, 2))
        return sum(int(of.worth[option]) for option in options) + pairs

    spans = [range(span.start, span.stop) for span in seats.spans]
    for options in itertools.islice(itertools.product(*spans), 500):
        assert worth(seats, options) == worth(reparametrised, options)
    best = sum(int(reparametrised.worth[span].max()) for span in reparametrised.spans)
    assert best <= sum(int(seats.worth[span].max()) for span in seats.spans) + sum(
        int(seats.together[one, other].max())
        for one, other in itertools.combinations(seats.spans, 2)
    )


def large(parts: int = 5, each: int = 20) -> SetQuestion:
    """A question with 210^5 sets, with worths like those of the built-in library."""
    rng = np.random.default_rng(5)
    names = parts * each
    half = np.triu(rng.normal(0, 350_000, (names, names)).astype(np.int64), 1)
    rows = tuple(
        SetPart(
            tuple(range(part * each, (part + 1) * each)),
            tuple(rng.integers(-6_000_000, 0, each).tolist()),
            1,
            (0, -500_000),
        )
        for part in range(parts)
    )
    return SetQuestion(tuple(f"i{n:03}" for n in range(names)), rows, half + half.T)


def test_a_hundred_of_very_many_sets_are_found_without_looking_at_the_rest() -> None:
    given = large()
    found = list(itertools.islice(best_first(given, PATIENT, most_begun=20_000), 100))
    assert len(set(found)) == 100
    assert all(a.worth >= b.worth for a, b in itertools.pairwise(found))
    assert [given.worth(each.ingredients) for each in found] == [each.worth for each in found]


def test_a_wish_for_something_rare_is_met_without_looking_at_what_lacks_it() -> None:
    given = large()
    rare = min(range(20), key=lambda one: given.parts[0].worths[one])
    wish = SetWish(frozenset({(0, rare)}), low=1)
    wished = SetQuestion(given.names, given.parts, given.together, (wish,))
    first = next(best_first(wished, PATIENT, most_begun=20_000))
    assert rare in first.poured


def test_the_clock_ends_the_search() -> None:
    with pytest.raises(TimeUpError):
        list(best_first(large(), Clock.of(0.0)))


def test_what_is_begun_is_bounded() -> None:
    with pytest.raises(TimeUpError):
        list(best_first(large(), PATIENT, most_begun=50))


def test_nothing_poured_is_no_set() -> None:
    part = SetPart((0,), (-5,), 0, (0, 0))
    (only,) = best_first(SetQuestion(("gin",), (part,), np.zeros((1, 1), dtype=np.int64)), PATIENT)
    assert only.ingredients == ((0,),)


def test_a_question_without_parts_has_no_sets() -> None:
    assert not list(best_first(SetQuestion((), (), np.zeros((0, 0), dtype=np.int64)), PATIENT))
