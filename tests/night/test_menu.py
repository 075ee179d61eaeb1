"""The best menu against every menu and every plan there is, and against a bartender."""

from __future__ import annotations

import itertools
import random
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from solver.clock import Clock
from solver.night.demands import DemandKind, NightDemand
from solver.night.menu_rows import demands_of, rows_of
from solver.night.offering import broken, offered
from solver.night.pouring import pour
from solver.night.problem import (
    WHOLE_SHARE,
    Capacity,
    MenuRules,
    Night,
    NightDrink,
    NightLot,
    Nights,
    PlanValues,
    Source,
)
from solver.night.solve import (
    GIVEN_UP,
    MENUS_WASTE_FIRST,
    NightAim,
    NoPlan,
    Planned,
    best_plan,
)
from solver.night.why_none import conflicts, nearest
from solver.search.milp.in_floats import Highs
from solver.search.milp.integer_program import CpSatProgram
from solver.search.milp.narrowing import Narrowing
from tests.night.bartender import RefusedError, serve, to_pay
from tests.night.nights import count, plans, small

FEW = 5_000
Worth = tuple[int, ...]
"""What each stage comes to, in order."""


def with_menu(seed: int) -> Nights:
    """A small question of which a menu is to be chosen, with random limits on it."""
    question = small(seed)
    pick = random.Random(-1 - seed)
    drinks = range(len(question.drinks))

    def some() -> frozenset[int]:
        return frozenset(at for at in drinks if pick.random() < 0.6)

    menu = MenuRules(
        most=pick.randint(1, 3),
        costs=[pick.randint(1, 60) for _ in drinks],
        keeps=[pick.choice((6000, 7500, 8000)) for _ in drinks],
        margin=pick.choice((None, None, 7000, 7800)),
        fixed=some() if pick.random() < 0.2 else frozenset(),
        either=[frozenset({0, 1})] if len(drinks) > 1 and pick.random() < 0.2 else [],
        guests=[some()] if pick.random() < 0.4 else [],
        capacities=[Capacity(some(), pick.randint(0, 3), pick.choice((10000, 4000)))]
        if pick.random() < 0.3
        else [],
        kinds=[some(), some(), some()],
        for_two=pick.random() < 0.3,
    )
    limits = ((0, 10000), (2500, 7500), (1000, 10000), (3000, 10000))
    made = [NightDrink(d.takes, *pick.choice(limits), 0) for d in question.drinks]
    return replace(question, drinks=made, menu=menu, capacities=())


def few(first: int, cases: int) -> list[Nights]:
    found = (with_menu(seed) for seed in itertools.count(first))
    return list(itertools.islice((each for each in found if count(each) <= FEW), cases))


def users(question: Nights, item: int) -> set[int]:
    """The drinks that take an item, or what is cooked from it: item 0 is cooked from item 3."""
    items = {item, 0} if item == 3 else {item}
    return {at for at, drink in enumerate(question.drinks) if items & set(drink.takes)}


def is_a_menu(question: Nights, menu: MenuRules, plan: PlanValues) -> bool:
    """Whether a menu is as it was asked for: written without the product."""
    on = {at for night in plan.serves for at, n in enumerate(night) if n}
    drawn = [serves for serves in plan.serves if sum(serves)]
    for at in on:
        drink = question.drinks[at]
        nights = [n for n, serves in enumerate(drawn) if serves[at]]
        if nights != list(range(nights[0], nights[-1] + 1)):
            return False
        mine = [drawn[n] for n in nights]
        # Half its least share of all drinks, or what a single night may have of it at most.
        half = Fraction(drink.low, 2 * WHOLE_SHARE) * sum(map(sum, drawn))
        night_s = -(-drink.high * max(map(sum, drawn)) // WHOLE_SHARE)
        if sum(s[at] for s in mine) < min(int(half), night_s):
            return False
        for poured, low_of, high_of in (
            *((serves[at], sum(serves), sum(serves)) for serves in mine),
            (sum(s[at] for s in mine), sum(map(sum, mine)), sum(map(sum, drawn))),
        ):
            low = Fraction(drink.low * low_of, WHOLE_SHARE)
            high = Fraction(drink.high * high_of, WHOLE_SHARE)
            if not low - 1 < poured < high + 1:
                return False
    there = {lot.item for lot in question.lots}
    there |= {3} if 0 in there else set()  # who has what is cooked knows what it is cooked from
    for source, units in zip(question.sources, plan.bought(question), strict=True):
        new = units and source.cost and source.item not in there and not source.free
        if menu.for_two and new and len(users(question, source.item) & on) < 2:
            return False
    return (
        len(on) <= menu.most
        and all(len(on & group) <= 1 for group in menu.either)
        and all(any(s[at] for at in group) for group in menu.guests for s in drawn)
        and (menu.margin is None or all(menu.keeps[at] >= menu.margin for at in on))
        and menu.fixed <= on
        and all(
            (n := sum(serves[at] for at in capacity.drinks)) <= capacity.most
            and n < Fraction(capacity.share * sum(serves), WHOLE_SHARE) + 1
            for capacity in menu.capacities
            for serves in plan.serves
        )
    )


def worth(
    question: Nights, menu: MenuRules, plan: PlanValues, thrown: int, *, waste_first: bool
) -> Worth:
    on = {at for night in plan.serves for at, n in enumerate(night) if n}
    poured = sum(menu.costs[at] * n for night in plan.serves for at, n in enumerate(night))
    same = sum(max(0, len(group & on) - 1) + (not group & on) for group in menu.kinds)
    same += sum(not all(night[at] for night in plan.serves if any(night)) for at in on)
    cost = to_pay(question, plan)
    money = (thrown, cost) if waste_first else (cost + question.worth_costs * thrown,)
    return *money, poured, same


def keeps_the_rest(question: Nights, plan: PlanValues) -> tuple[bool, int]:
    """Whether a plan can be poured and keeps what is asked of stock and money; what it throws."""
    try:
        served = serve(question, plan)
    except RefusedError:
        return False, 0
    thrown = served.worth_thrown(question)
    if question.spend is not None and to_pay(question, plan) > question.spend:
        return False, thrown
    for use_up in question.use_up:
        gone = sum(t for item, day, t in served.thrown if item == use_up.item and day <= use_up.day)
        if served.left(use_up.item) + gone > use_up.within:
            return False, thrown
    return True, thrown


def every_menu(question: Nights, menu: MenuRules, *, waste_first: bool) -> list[Worth]:
    found = []
    for plan in plans(question):
        if is_a_menu(question, menu, plan):
            kept, thrown = keeps_the_rest(question, plan)
            if kept:
                found.append(worth(question, menu, plan, thrown, waste_first=waste_first))
    return found


def best_of(found: list[Worth]) -> Worth:
    """Stage after stage; pouring may cost so much more than the least."""
    *money, _, _ = min(found)
    good = [each for each in found if list(each[:-2]) == money]
    least = min(poured for *_, poured, _ in good)
    within = [each for each in good if each[-2] <= int(least * (1 + GIVEN_UP[NightAim.POURING]))]
    return *money, least, min(same for *_, same in within)


def compare(first: int, cases: int) -> None:
    possible = 0
    for number, question in enumerate(few(first, cases)):
        menu, waste_first = question.menu, number % 3 == 0
        assert menu is not None
        every = every_menu(question, menu, waste_first=waste_first)
        aims = MENUS_WASTE_FIRST if waste_first else ()
        match best_plan(question, CpSatProgram(), Clock.of(60), share=0.0, aims=aims):
            case Planned() as planned:
                assert every
                assert planned.proven
                assert not broken(question, menu, planned.plan)
                kept, thrown = keeps_the_rest(question, planned.plan)
                assert kept
                own = worth(question, menu, planned.plan, thrown, waste_first=waste_first)
                assert own == tuple(stage.value for stage in planned.stages)
                *money, least, same = best_of(every)
                assert (*own[:-2], own[-1]) == (*money, same)
                assert planned.stages[-2].bound == least
                possible += 1
            case NoPlan():
                assert not every
            case _:
                raise AssertionError
    assert 0.1 * cases < possible < 0.95 * cases  # both ends of the claim are tried


def is_kept(question: Nights, menu: MenuRules, plan: PlanValues) -> bool:
    try:
        return not broken(question, menu, plan)
    except ValueError:
        return False


def test_a_menu_that_is_told_is_one_and_any_other_is_refused() -> None:
    """Of every plan there is, not only of what the solver found."""
    menus = others = 0
    for question in few(700, 30):
        assert question.menu is not None
        for plan in itertools.islice(plans(question), 0, 3000, 7):
            kept = is_a_menu(question, question.menu, plan)
            assert is_kept(question, question.menu, plan) == kept
            menus, others = menus + kept, others + (not kept)
    assert menus > 100
    assert others > 100


THREE = Nights(
    days=3,
    values=(1,),
    lots=(),
    sources=(Source(item=0, size=10, days=(0,), most=9, cost=5),),
    drinks=[NightDrink({0: 1}, 2500, 10000, 0), NightDrink({}, 0, 6000, 0)],
    nights=[Night(0, 4), Night(1, 0), Night(2, 4)],
)
ANY_TWO = MenuRules(most=2, costs=[1, 1], keeps=[7000, 8000])
EVEN = ((2, 2), (0, 0), (2, 2))


@pytest.mark.parametrize(
    ("menu", "serves", "named"),
    [
        (ANY_TWO, EVEN, ()),
        (ANY_TWO, ((2, 1), (0, 0), (2, 2)), (NightDemand(DemandKind.FORECAST),)),
        (replace(ANY_TWO, most=1), EVEN, (NightDemand(DemandKind.MOST),)),
        (replace(ANY_TWO, margin=7000), EVEN, ()),
        (replace(ANY_TWO, margin=7001), EVEN, (NightDemand(DemandKind.MARGIN),)),
        (replace(ANY_TWO, for_two=True), EVEN, (NightDemand(DemandKind.FOR_TWO),)),
        (
            replace(ANY_TWO, fixed=frozenset({0, 1})),
            ((4, 0), (0, 0), (4, 0)),
            (NightDemand(DemandKind.OFFERED, 1),),
        ),
        (
            replace(ANY_TWO, guests=[frozenset({0}), frozenset({1})]),
            ((4, 0), (0, 0), (2, 2)),
            (NightDemand(DemandKind.GUEST, 1),),
        ),
        (replace(ANY_TWO, capacities=[Capacity(frozenset({0}), 2)]), EVEN, ()),
        (
            replace(ANY_TWO, capacities=[Capacity(frozenset({0}), 1)]),
            EVEN,
            (NightDemand(DemandKind.CAPACITY, 0),),
        ),
        # 2 is one more than a quarter of 4, which is not within the whole drink
        (
            replace(ANY_TWO, capacities=[Capacity(frozenset({0}), 9, 2500)]),
            EVEN,
            (NightDemand(DemandKind.CAPACITY, 0),),
        ),
        (replace(ANY_TWO, capacities=[Capacity(frozenset({0}), 9, 2501)]), EVEN, ()),
        # 4 of 4 are more than 6 in 10 by more than a drink, 3 of 4 and 5 of 8 are not
        (ANY_TWO, ((0, 4), (0, 0), (0, 4)), (NightDemand(DemandKind.SHARES),)),
        (ANY_TWO, ((1, 3), (0, 0), (2, 2)), ()),
    ],
)
def test_what_a_menu_does_not_keep_is_named(
    menu: MenuRules, serves: tuple[tuple[int, ...], ...], named: tuple[NightDemand, ...]
) -> None:
    assert broken(THREE, menu, PlanValues(serves, ({0: 1},))) == named


def test_no_menu_has_a_drink_that_was_gone_or_one_drink_twice() -> None:
    with pytest.raises(ValueError, match="twice"):
        broken(THREE, replace(ANY_TWO, either=[frozenset({0, 1})]), PlanValues(EVEN, ({0: 1},)))
    nights = [Night(day, 4) for day in range(3)]
    gone = PlanValues(((2, 2), (4, 0), (2, 2)), ({0: 1},))
    with pytest.raises(ValueError, match="gone again"):
        broken(replace(THREE, nights=nights), ANY_TWO, gone)


@pytest.mark.parametrize("block", range(3))
def test_the_best_menu_is_the_best_of_all_there_are(block: int) -> None:
    compare(1000 * block, 20)


@pytest.mark.sweep
@pytest.mark.parametrize("block", range(40))
def test_the_best_menu_is_the_best_of_all_there_are_at_length(block: int) -> None:
    compare(200_000 + 1000 * block, 50)


@settings(max_examples=15)
@given(st.integers(0, 10**6))
def test_a_menu_is_poured_from_what_is_there_and_another_solver_has_no_better(seed: int) -> None:
    question = with_menu(seed)
    lost = (NightAim.LOSS,)
    first = best_plan(question, Narrowing(), Clock.of(60), aims=lost)
    second = best_plan(question, Highs(), Clock.of(60), aims=lost)
    assert isinstance(first, Planned) == isinstance(second, Planned)
    if not isinstance(first, Planned) or not isinstance(second, Planned):
        return
    assert first.stages[0].bound <= second.stages[0].value
    assert second.stages[0].bound <= first.stages[0].value
    for found in (first, second):
        serve(question, found.plan)  # it refuses what is not there, and what has spoiled
        pour(question, found.plan)
        assert question.menu is not None
        assert is_a_menu(question, question.menu, found.plan)


@settings(max_examples=15)
@given(st.integers(0, 10**6))
def test_what_clashes_on_a_menu_is_minimal_and_a_way_out_leaves_one(seed: int) -> None:
    question = with_menu(seed)
    if not isinstance(best_plan(question, CpSatProgram(), Clock.of(60)), NoPlan):
        return
    told = conflicts(question, CpSatProgram(), Clock.of(60))

    def possible(kept: frozenset[NightDemand]) -> bool:
        rows = rows_of(question, kept)
        return hasattr(CpSatProgram().minimise(rows.program, {}, Clock.of(60)), "values")

    assert told.complete
    for conflict in told.found:
        assert not possible(conflict)
        assert all(possible(conflict - {demand}) for demand in conflict)
    for correction in told.corrections:
        assert possible(frozenset(demands_of(question)) - correction)


def two_drinks(**more: object) -> Nights:
    """Six serves of each of two drinks are there; five are wanted, at a margin of 78 %."""
    menu = MenuRules(2, [30, 20], [7600, 8100], margin=7800)
    given: dict[str, object] = {
        "days": 1,
        "values": [1, 1],
        "lots": [],
        "sources": [],
        "drinks": [NightDrink({0: 1}, 0, WHOLE_SHARE, 0), NightDrink({1: 1}, 0, WHOLE_SHARE, 0)],
        "nights": [Night(0, 5)],
        "menu": menu,
        **more,
    }
    return Nights(**given)  # type: ignore[arg-type]


def test_what_cannot_hold_together_is_said_with_how_near_a_menu_comes() -> None:
    question = two_drinks(lots=[NightLot(0, 9), NightLot(1, 3)], spend=0)
    assert isinstance(best_plan(question, CpSatProgram(), Clock.of(10)), NoPlan)
    told = conflicts(question, CpSatProgram(), Clock.of(10))
    forecast, margin = NightDemand(DemandKind.FORECAST), NightDemand(DemandKind.MARGIN)
    assert told.found == (frozenset({forecast, margin}),)
    near = nearest(question, [forecast], CpSatProgram(), Clock.of(10))
    assert near is not None
    assert near.value == -3
    near = nearest(question, [margin], CpSatProgram(), Clock.of(10))
    assert near is not None
    assert WHOLE_SHARE - near.value == 7600
    assert offered(near.plan)


def poured_for_least(question: Nights) -> tuple[tuple[int, ...], ...]:
    planned = best_plan(question, CpSatProgram(), Clock.of(10))
    assert isinstance(planned, Planned)
    return planned.plan.serves


def test_what_is_off_the_menu_does_not_come_back_even_where_that_saves_what_spoils() -> None:
    """Two serves of the first drink must go on the first night, two come on the third."""
    question = two_drinks(
        days=3,
        lots=[NightLot(0, 2, 0), NightLot(0, 2, None, 2), NightLot(1, 6)],
        nights=[Night(day, 2) for day in range(3)],
        menu=MenuRules(2, [1, 1], [8000, 8000]),
    )
    assert [night[0] for night in poured_for_least(question)] == [2, 0, 0]


def test_a_drink_has_its_least_share_on_each_night_and_not_only_in_all() -> None:
    """Half of all drinks is the first one, of which there is hardly any before the second night."""
    question = two_drinks(
        days=2,
        lots=[NightLot(0, 1), NightLot(0, 9, None, 1), NightLot(1, 20)],
        sources=[Source(0, 1, (0,), 9, cost=50)],
        drinks=[
            NightDrink({0: 1}, 5000, WHOLE_SHARE, 0),
            NightDrink({1: 1}, 0, WHOLE_SHARE, 0),
        ],
        nights=[Night(0, 6), Night(1, 6)],
        menu=MenuRules(2, [30, 20], [8000, 8000], guests=[frozenset({0})]),
    )
    first, second = poured_for_least(question)
    assert first[0] == 3
    assert second[0] >= 3


def test_a_drink_is_offered_for_half_its_least_share_of_all_drinks_at_least() -> None:
    """Of 30 drinks that is 6; on one night of 10 its least share is 4, and there are 5."""
    question = two_drinks(
        days=3,
        lots=[NightLot(0, 5), NightLot(1, 30)],
        sources=[Source(0, 1, (0,), 9, cost=50)],
        drinks=[
            NightDrink({0: 1}, 4000, WHOLE_SHARE, 0),
            NightDrink({1: 1}, 0, WHOLE_SHARE, 0),
        ],
        nights=[Night(day, 10) for day in range(3)],
        menu=MenuRules(2, [30, 20], [8000, 8000], fixed=frozenset({0})),
    )
    assert sum(night[0] for night in poured_for_least(question)) == 6


def test_what_is_new_is_bought_for_two_drinks_or_for_none() -> None:
    """The first drink is asked for, and so the third one, which pours the same, comes with it."""
    drinks = [NightDrink({item: 1}, 0, WHOLE_SHARE, 0) for item in (0, 1, 0)]
    question = two_drinks(
        lots=[NightLot(1, 9)],
        sources=[Source(0, 1, (0,), 9, cost=1)],
        drinks=drinks,
        menu=MenuRules(3, [2, 1, 2], [8000] * 3, fixed=frozenset({0}), for_two=True),
    )
    (night,) = poured_for_least(question)
    assert night[0] > 0
    assert night[2] > 0
    alone = MenuRules(2, [2, 1], [8000] * 2, fixed=frozenset({0}), for_two=True)
    without = replace(question, drinks=drinks[:2], menu=alone)
    assert isinstance(best_plan(without, CpSatProgram(), Clock.of(10)), NoPlan)
    known = replace(without, menu=replace(alone, known=frozenset({0})))
    assert isinstance(best_plan(known, CpSatProgram(), Clock.of(10)), Planned)


def test_what_goes_into_a_syrup_that_is_there_is_nothing_new() -> None:
    """Item 0 is cooked from item 2, which only the first drink's syrup needs."""
    question = two_drinks(
        values=[1, 1, 1],
        lots=[NightLot(0, 1), NightLot(1, 9)],
        sources=[Source(0, 9, (0,), 1, takes={2: 1}), Source(2, 1, (0,), 1, cost=7)],
        drinks=[
            NightDrink({0: 1}, 5000, WHOLE_SHARE, 0),
            NightDrink({1: 1}, 0, WHOLE_SHARE, 0),
        ],
        menu=MenuRules(2, [2, 1], [8000] * 2, fixed=frozenset({0}), for_two=True),
    )
    assert poured_for_least(question)[0][0] >= 2
    new = replace(question, lots=[NightLot(1, 9)])
    assert isinstance(best_plan(new, CpSatProgram(), Clock.of(10)), NoPlan)


def test_of_one_drink_poured_in_two_ways_one_is_offered_whatever_spoils() -> None:
    question = two_drinks(
        lots=[NightLot(0, 3, 0), NightLot(1, 3, 0)],
        sources=[Source(1, 1, (0,), 9, cost=5)],
        menu=MenuRules(2, [1, 1], [8000] * 2, either=[frozenset({0, 1})]),
    )
    assert poured_for_least(question) == ((0, 5),)


def test_a_drink_has_no_more_than_its_share_of_all_drinks() -> None:
    """Half of three is two at most on each night, and half of six is three."""
    question = two_drinks(
        days=2,
        lots=[NightLot(0, 4, 1), NightLot(1, 9)],
        drinks=[NightDrink({0: 1}, 0, 5000, 0), NightDrink({1: 1}, 0, WHOLE_SHARE, 0)],
        nights=[Night(0, 3), Night(1, 3)],
        menu=MenuRules(2, [1, 1], [8000] * 2),
    )
    assert sum(night[0] for night in poured_for_least(question)) == 3
