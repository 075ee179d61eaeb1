"""Reasons, conflicts and ways out, against every drink there is."""

from __future__ import annotations

import itertools
import random
from collections.abc import Callable
from dataclasses import replace

import pytest

from solver.clock import Clock
from solver.measures import MEASURES
from solver.pantry.bar import Bar
from solver.pantry.profile_files import find_profile, profile_files
from solver.requests.asked_drink import AskedDrink
from solver.requests.demands import STRUCTURE, Demand, DemandKind
from solver.requests.origin import ASKED
from solver.requests.read_request import WrittenRequest, read_request
from solver.requests.request import Request
from solver.search.milp.cpsat import CpSat
from solver.tasks.design import design
from solver.tasks.design_result import Explain, Status
from solver.tasks.subproblems import Subproblems
from solver.tasks.ways_out import DemandChange
from solver.tasks.why import Why, why_impossible
from tests.tasks.bars import (
    Everything,
    any_request,
    demo,
    demo_with,
    loud_request,
    small_bar,
    small_request,
    sour,
)
from tests.tasks.truth import Truth, check_answer, check_reasons

Sets = set[frozenset[Demand]]


def posed(
    seed: int, request: Callable[[random.Random, Bar], Request] = small_request
) -> AskedDrink:
    rng = random.Random(seed)
    bar = small_bar(rng)
    return AskedDrink.of(sour(), bar, request(rng, bar))


def minimal_conflicts(every: Everything) -> Sets:
    """Sets that every drink breaks, and no smaller one within."""
    broken: Sets = set()
    for drink in sorted(set(every.broken), key=len):
        if not any(known <= drink for known in broken):
            broken.add(drink)
    blamed = [d for d in every.demands if any(d in drink for drink in broken)]
    found: Sets = set()
    for size in range(1, len(blamed) + 1):
        for chosen in map(frozenset, itertools.combinations(blamed, size)):
            if all(chosen & drink for drink in broken) and not any(f < chosen for f in found):
                found.add(chosen)
    return found


def check_impossible(every: Everything) -> Why:
    why = why_impossible(Subproblems(every.asked, CpSat(), Clock.of(60)))
    assert not why.undecided
    found = {frozenset(d for d in each if d.kind not in STRUCTURE) for each in why.conflicts}
    expected = minimal_conflicts(every)
    assert found == expected if why.complete else found <= expected
    check_ways_out(every, why)
    return why


def check_ways_out(every: Everything, why: Why) -> None:
    """Every single limit that helps alone is moved as little as can be, and no other is named."""
    alone = {d for d in every.demands if every.possible(frozenset(every.demands) - {d})}
    single = {w.changes[0].demand: w for w in why.ways_out if len(w.changes) == 1}
    assert {d for d in single if d.kind not in STRUCTURE} == alone
    for demand, way in single.items():
        bound = way.changes[0].bound
        if demand.measure is None or bound is None:
            continue
        rows = [row for row, broken in enumerate(every.broken) if broken <= {demand}]
        values = every.values[demand.measure.name][rows]
        least = values.min() if demand.kind is DemandKind.MOST else values.max()
        unit = 10.0**-demand.measure.decimals
        sign = 1.0 if demand.kind is DemandKind.MOST else -1.0
        assert -2e-6 <= sign * (bound - least) < unit
    check_joint_ways(every, why)


def check_joint_ways(every: Everything, why: Why) -> None:
    """Ways out of several changes make the request possible, and are there where no one does."""
    joint = [{c.demand for c in w.changes} for w in why.ways_out if len(w.changes) > 1]
    for changed in joint:
        assert every.possible(frozenset(every.demands) - changed)
    possible = every.possible(frozenset())
    assert [way for way in why.ways_out if way.changes] or not possible


def check(seed: int, request: Callable[[random.Random, Bar], Request] = small_request) -> bool:
    """Whether the request was possible; everything said of it is checked."""
    known = Truth(posed(seed, request))
    if not known.possible:
        check_impossible(known.every)
        return False
    asked = known.asked
    found = design(asked.profile, asked.bar, asked.request, CpSat(), explain=Explain.LIMITS)
    assert found.status is Status.OPTIMAL
    assert found.why is not None
    assert not found.why.undecided
    check_answer(found, known)
    check_reasons(found, known)
    return True


MEASURED = range(6)
"""Seeds of requests, possible and impossible ones; hundreds more with -m sweep."""
WISHED = (0, 1, 2, 4, 6, 17, 18)
LOUD = (0, 1, 2, 7, 9, 12)


@pytest.mark.parametrize("seed", MEASURED)
def test_what_is_said_of_a_request_is_so_of_every_drink_there_is(seed: int) -> None:
    check(seed)


@pytest.mark.parametrize("seed", WISHED)
def test_what_is_said_is_so_with_wishes_of_every_kind(seed: int) -> None:
    check(seed, any_request)


@pytest.mark.parametrize("seed", LOUD)
def test_what_is_said_is_so_of_how_loud_a_character_is_to_be(seed: int) -> None:
    check(seed, loud_request)


@pytest.mark.sweep
@pytest.mark.parametrize("seed", range(100, 400))
def test_what_is_said_is_so_of_how_loud_a_character_is_to_be_at_length(seed: int) -> None:
    check(seed, loud_request)


def test_random_wishes_for_characters_are_possible_and_impossible() -> None:
    verdicts = [Everything.of(posed(seed, loud_request)).best() is None for seed in LOUD]
    assert 2 <= sum(verdicts) <= 4


@pytest.mark.sweep
@pytest.mark.parametrize("seed", range(100, 400))
def test_what_is_said_is_so_with_wishes_of_every_kind_at_length(seed: int) -> None:
    check(seed, any_request)


@pytest.mark.sweep
@pytest.mark.parametrize("seed", range(100, 400))
def test_what_is_said_of_a_request_is_so_at_length(seed: int) -> None:
    check(seed)


def test_movements_of_different_measures_are_compared_by_what_is_noticed() -> None:
    for name, bound, moved in (("volume", 100.0, 110.0), ("abv", 18.0, 17.0)):
        measure = MEASURES[name]
        change = DemandChange(Demand(DemandKind.MOST, ASKED, name, measure, bound), moved)
        assert change.size == pytest.approx(abs(moved - bound) / measure.tolerance(bound))
    assert MEASURES["volume"].tolerance(100.0) != MEASURES["abv"].tolerance(18.0)


def test_conflicts_that_have_nothing_in_common_have_joint_ways_out() -> None:
    wish = WrittenRequest(
        measures={"abv": ("<=15%",)}, wanted=("mezcal",), unwanted=("spirit/agave",)
    )
    bar = demo_with(
        "gin",
        "rye-whiskey",
        "tequila-blanco",
        "mezcal",
        "orange-liqueur",
        "amaro",
        "sweet-vermouth",
        "dry-vermouth",
        "fino-sherry",
        "aromatic-bitters",
    )
    request = read_request(wish, bar)
    asked = AskedDrink.of(find_profile("stirred", profile_files(None)), bar, request)
    problems = Subproblems(asked, CpSat(), Clock.of(60))
    why = why_impossible(problems)
    assert not frozenset.intersection(*map(frozenset, why.conflicts))
    assert len(why.ways_out) == 2
    for way in why.ways_out:
        changed = {change.demand: change.bound for change in way.changes}
        assert len(changed) > 1
        assert all(changed.keys() & set(conflict) for conflict in why.conflicts)
        moved = {demand: bound for demand, bound in changed.items() if bound is not None}
        assert problems.any(changed.keys() - moved.keys(), moved) is not None
        for demand in changed:  # none of the changes is for nothing
            others = {d: b for d, b in moved.items() if d != demand}
            assert problems.any(changed.keys() - moved.keys() - {demand}, others) is None


def test_the_random_requests_are_possible_and_impossible() -> None:
    verdicts = [Everything.of(posed(seed)).best() is None for seed in MEASURED]
    assert 2 <= sum(verdicts) <= 4
    wished = [Everything.of(posed(seed, any_request)).best() is None for seed in WISHED]
    assert 2 <= sum(wished) <= 5


@pytest.mark.parametrize(
    "request_of", [small_request, any_request, loud_request], ids=["measures", "anything", "loud"]
)
@pytest.mark.parametrize(
    "seed", [*range(3), *(pytest.param(n, marks=pytest.mark.sweep) for n in range(3, 106))]
)
def test_ways_out_when_followed_are_possible_and_conflicts_dissolve(
    seed: int, request_of: Callable[[random.Random, Bar], Request]
) -> None:
    asked = posed(seed, request_of)
    problems = Subproblems(asked, CpSat(), Clock.of(60))
    if problems.kept(frozenset(asked.demands)) is not None:
        return
    why = why_impossible(problems)
    for way in why.ways_out:
        dropped = [c.demand for c in way.changes if c.bound is None]
        moved = {c.demand: c.bound for c in way.changes if c.bound is not None}
        again = problems.best(dropped, moved)
        assert way.bought or again is not None
    force = frozenset(d for d in asked.demands if d.kind in STRUCTURE)
    for conflict in map(frozenset, why.conflicts):
        assert problems.kept(conflict | force) is None
        for demand in conflict:
            assert problems.kept((conflict | force) - {demand}) is not None


def test_a_way_out_without_showing_something_is_what_that_request_is_offered() -> None:
    shown = ("rhubarb-syrup", "almond-spice-syrup")
    # So sweet that as much of it as is usual is off target: less of it is shown then.
    sweet = demo().library.find(shown[1])
    sugar = sweet.sugar.model_copy(update={"value": 76.0, "low": None, "high": None})
    sweet = sweet.model_copy(update={"sugar": sugar})
    stock = (
        replace(s, ingredient=sweet) if s.ingredient.key == shown[1] else s for s in demo().stock
    )
    library = demo().library.shadowed_by([sweet])
    bar = replace(demo(), stock=tuple(stock), library=library)
    both = read_request(WrittenRequest(feature=shown), bar)
    found = design(sour(), bar, both, CpSat(), explain=Explain.CONFLICTS)
    assert found.status is Status.IMPOSSIBLE
    assert found.why is not None
    told = {
        change.demand.subject: way.answer
        for way in found.why.ways_out
        for change in way.changes
        if change.demand.kind is DemandKind.WITH
    }
    assert set(told) == set(shown)
    for gone, kept in (shown, shown[::-1]):
        alone = design(
            sour(), bar, read_request(WrittenRequest(feature=(kept,)), bar), CpSat()
        ).answer
        assert alone is not None
        offered = [(pour.ingredient.key, pour.amount) for pour in told[gone].pours]
        assert offered == [(pour.ingredient.key, pour.amount) for pour in alone.pours]
