"""Serves come to what a bartender throws away and a till is paid, and get better by exchanges."""

from __future__ import annotations

import random
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from solver.clock import Clock
from solver.night.as_needed import units_for
from solver.night.best_serves import BestServes
from solver.night.exchange import MISSING, Exchanges, Serves
from solver.night.improve import wished_serves
from solver.night.menu_rows import demands_of, rows_of
from solver.night.problem import (
    WHOLE_SHARE,
    Night,
    NightDrink,
    NightLot,
    Nights,
    PlanValues,
    Source,
    UseUp,
)
from solver.night.regroup import Regrouping, known
from solver.night.solve import OF_PLANS
from solver.search.milp.integer_program import (
    CpSatProgram,
    Enough,
    SolvedProgram,
    restricted,
    total,
    with_fixed,
)
from tests.night.bartender import serve
from tests.night.nights import large, small
from tests.night.test_best_plan import worth

TIME = 30.0


def serves_of(question: Nights) -> Serves:
    return Serves(question, wished_serves(question), 1, question.worth_costs)


def a_bar(seed: int) -> Nights:
    return large(seed, days=5, drinks=6, house=3, bottles=9)


@settings(max_examples=40)
@given(st.integers(0, 10**6))
def test_serves_come_to_what_a_bartender_throws_away_and_what_is_paid(seed: int) -> None:
    question = small(seed)
    serves = wished_serves(question)
    units = units_for(question, serves)
    found = Serves(question, serves, 1, 1)
    if units is None or question.use_up:
        assert units is not None or found.loss >= 10**9
        return
    plan = PlanValues(tuple(map(tuple, serves)), tuple(units))
    assert found.loss == worth(question, plan, serve(question, plan), OF_PLANS)[0]


@settings(max_examples=20)
@given(st.integers(0, 10**6))
def test_after_exchanges_serves_come_to_what_the_same_serves_come_to_from_the_start(
    seed: int,
) -> None:
    question, pick = a_bar(seed), random.Random(seed)
    serves = serves_of(question)
    before = serves.loss
    places = list(product(range(5), range(6)))
    guessed = [serves.alone(night, drink, 1) for night, drink in places]
    done = []
    for _ in range(12):
        night, (out, instead) = pick.randrange(5), pick.sample(range(6), 2)
        if serves.serves[night][out]:
            done.append((night, out, instead))
            serves.exchange(night, out, instead)
    anew = Serves(question, serves.serves, 1, question.worth_costs)
    assert serves.loss == anew.loss
    assert all(
        serves.alone(night, drink, 1) == anew.alone(night, drink, 1) for night, drink in places
    )
    for night, out, instead in reversed(done):
        serves.exchange(night, instead, out)
    assert serves.loss == before
    assert guessed == [serves.alone(night, drink, 1) for night, drink in places]
    assert serves.serves == wished_serves(question)


@pytest.mark.parametrize("seed", range(4))
def test_exchanges_help_and_stay_within_limits(seed: int) -> None:
    question = a_bar(seed)
    serves = serves_of(question)
    before, nights = serves.loss, [sum(night) for night in serves.serves]
    limits = [[(count - 3, count + 3) for count in night] for night in serves.serves]
    in_all = [(count - 5, count + 5) for count in serves.totals]
    Exchanges(serves, limits, in_all).run(Clock.of(TIME), 10)
    assert serves.loss < before
    assert [sum(night) for night in serves.serves] == nights
    for counts, ends in zip([*serves.serves, serves.totals], [*limits, in_all], strict=True):
        assert all(
            least <= count <= most for count, (least, most) in zip(counts, ends, strict=True)
        )


def test_what_is_left_of_what_was_to_be_used_up_counts_from_the_end_of_that_day() -> None:
    question = Nights(
        days=2,
        values=[1],
        lots=[NightLot(0, 20)],
        sources=[],
        drinks=[NightDrink({0: 1}, 0, WHOLE_SHARE, WHOLE_SHARE)],
        nights=[Night(0, 10), Night(1, 5)],
        use_up=[UseUp(0, day=0, within=3)],
    )
    assert Serves(question, [[10], [5]], 1, 1).loss == 7 * MISSING


def test_a_chain_saves_a_bottle_that_no_exchange_alone_does() -> None:
    """Two bottles of 10 are bought for 12 serves of one drink, and 20 of the other are there."""
    question = Nights(
        days=1,
        values=[1, 1],
        lots=[NightLot(1, 20)],
        sources=[Source(0, 10, (0,), 5, cost=100)],
        drinks=[NightDrink({item: 1}, 0, WHOLE_SHARE, 5000) for item in range(2)],
        nights=[Night(0, 24)],
    )
    serves = Serves(question, [[12, 12]], 1, 1)
    assert serves.loss == 200
    assert min(serves.estimate(0, 0, 1), serves.estimate(0, 1, 0)) == 0
    Exchanges(serves, [[(0, 24), (0, 20)]], [(0, 24), (0, 20)]).run(Clock.of(TIME), 20)
    assert serves.loss == 100
    assert serves.totals[0] <= 10


@pytest.mark.parametrize("seed", range(4))
def test_what_is_given_is_poured_first_where_it_lasts_shorter(seed: int) -> None:
    """A batch that keeps no day beside a lot that keeps: what a plan gives is taken where it is
    better, and never where it is worse."""
    question = a_bar(seed)
    plain = serves_of(question)
    house = next(at for at, source in enumerate(question.sources) if source.takes)
    day = question.sources[house].days[-1]
    serves = wished_serves(question)
    other = Serves(question, serves, 1, question.worth_costs, [(house, day, 1)])
    assert other.loss <= plain.loss


@pytest.mark.parametrize("seed", [0])
def test_drinks_that_are_planned_anew_make_plans_no_worse_and_they_can_be_poured(
    seed: int,
) -> None:
    question = large(seed, days=3, drinks=12, house=3, bottles=12)
    rows = rows_of(question, frozenset(demands_of(question)))
    goal = rows.loss()
    serves = serves_of(question)
    before = serves.loss
    groups = Regrouping(rows, goal, serves)
    groups.run(Clock.of(3), 2, lambda: False)
    assert groups.serves.loss < before
    found = CpSatProgram().minimise(
        with_fixed(rows.program, known(rows, groups.serves)), goal, Clock.of(TIME)
    )
    assert isinstance(found, SolvedProgram)
    serve(question, rows.plan(found.values))  # it refuses what is not there
    # Where an item goes by lots, rows round what spoils of each lot.
    assert groups.serves.loss <= found.value <= 1.01 * groups.serves.loss


def test_of_drinks_that_are_planned_anew_only_what_is_better_is_kept(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    question = a_bar(0)
    rows = rows_of(question, frozenset(demands_of(question)))
    best = serves_of(question)
    worse = serves_of(question)
    monkeypatch.setattr(Serves, "loss", property(lambda each: 0 if each is best else 1))
    monkeypatch.setattr(Regrouping, "_step", lambda *_: worse)
    groups = Regrouping(rows, rows.loss(), best)
    groups.run(Clock.of(TIME), 2, lambda: False)
    assert groups.serves is best


@settings(max_examples=20)
@given(st.integers(0, 10**6))
def test_a_restricted_program_has_the_best_of_those_with_the_same_values(seed: int) -> None:
    question, pick = small(seed), random.Random(seed)
    rows = rows_of(question, frozenset(demands_of(question)))
    goal = rows.loss()
    best = CpSatProgram().minimise(rows.program, goal, Clock.of(TIME))
    if not isinstance(best, SolvedProgram):
        return
    kept = {v: x for v, x in enumerate(best.values) if pick.random() < 0.5}
    own, free = restricted(rows.program, kept)
    at = {v: position for position, v in enumerate(free)}
    part = {at[v]: c for v, c in goal.items() if v in at}
    found = CpSatProgram().minimise(own, part, Clock.of(TIME))
    assert isinstance(found, SolvedProgram)
    there = {v: c for v, c in goal.items() if v not in at}
    assert found.value + total(there, best.values) == best.value


def test_a_plan_that_is_good_enough_is_left_as_it_is() -> None:
    question = a_bar(0)
    rows = rows_of(question, frozenset(demands_of(question)))
    best = BestServes(rows, rows.loss(), 1, question.worth_costs)
    found = SolvedProgram((), 100, 99.5)
    assert best.solved(found, Clock.of(TIME), Enough(share=0.01)) is found


def test_what_spoils_is_rounded_up_to_what_is_counted() -> None:
    question = Nights(
        days=2,
        values=[2],
        lots=[NightLot(0, 7, 0)],
        sources=[],
        drinks=[NightDrink({0: 1}, 0, WHOLE_SHARE, WHOLE_SHARE)],
        nights=[Night(0, 1)],
        worth_unit=10,
    )
    assert Serves(question, [[1]], 1, 5).loss == 10  # 12 of worth are two tens, at 5 each


@pytest.mark.parametrize(("bottles", "loss"), [(1, 15), (4, 50)])
def test_what_is_given_is_got_only_where_it_is_cheaper(bottles: int, loss: int) -> None:
    """Five by the piece are 50, which is what is got where nothing is given."""
    question = Nights(
        days=1,
        values=[1],
        lots=[],
        sources=[Source(0, 1, (0,), 9, cost=10), Source(0, 10, (0,), 9, cost=15)],
        drinks=[NightDrink({0: 1}, 0, WHOLE_SHARE, WHOLE_SHARE)],
        nights=[Night(0, 5)],
    )
    assert Serves(question, [[5]], 1, 1, [(1, 0, bottles)]).loss == loss


def test_what_is_cooked_takes_its_fruit_on_the_day_it_is_begun() -> None:
    """The fruit is there on the first day alone, and the syrup is poured on the second."""
    question = Nights(
        days=2,
        values=[1, 1],
        lots=[NightLot(1, 3, 0)],
        sources=[Source(0, 4, (1,), 1, takes={1: 3}, lead=1)],
        drinks=[NightDrink({0: 1}, 0, WHOLE_SHARE, WHOLE_SHARE)],
        nights=[Night(1, 4)],
    )
    assert Serves(question, [[4]], 1, 1).loss == 0


def test_what_is_got_on_the_day_it_is_to_be_used_up_counts_as_left() -> None:
    question = Nights(
        days=1,
        values=[1],
        lots=[],
        sources=[Source(0, 3, (0,), 1)],
        drinks=[NightDrink({0: 1}, 0, WHOLE_SHARE, WHOLE_SHARE)],
        nights=[Night(0, 1)],
        use_up=[UseUp(0, day=0, within=0)],
    )
    assert Serves(question, [[1]], 1, 1).loss == 2 * MISSING


@pytest.mark.parametrize("seed", range(3))
def test_a_chain_that_helps_nothing_is_undone(seed: int) -> None:
    question = a_bar(seed)
    serves = serves_of(question)
    limits = [[(count - 3, count + 3) for count in night] for night in serves.serves]
    in_all = [(count - 5, count + 5) for count in serves.totals]
    for _ in range(4):
        before = serves.loss
        Exchanges(serves, limits, in_all).run(Clock.of(TIME), 2)
        assert serves.loss <= before
    assert serves.loss == serves.anew(serves.serves, []).loss


@pytest.mark.parametrize("seed", range(3))
def test_an_exchange_that_promised_too_much_is_undone(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """An estimate leaves out what two items are both made of."""
    question = a_bar(seed)
    serves = serves_of(question)
    Exchanges(serves, [[(0, 99)] * 6] * 5, [(0, 999)] * 6).run(Clock.of(TIME), 0)
    before = serves.loss
    monkeypatch.setattr(Serves, "estimate", lambda *_: -1)
    Exchanges(serves, [[(0, 99)] * 6] * 5, [(0, 999)] * 6).run(Clock.of(TIME), 0)
    assert serves.loss <= before
