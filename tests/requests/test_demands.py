"""Dropping a demand only ever adds drinks: conflicts are found by dropping, and rest on that."""

from __future__ import annotations

import random
from dataclasses import replace

import numpy as np
import pytest

from solver.clock import Clock
from solver.mixture.numeric import Floats
from solver.pantry.bar import Bar
from solver.pantry.profile import Profile
from solver.pantry.profile_files import find_profile, profile_files
from solver.requests.allowed_pours import Pourables, PourRules
from solver.requests.asked_drink import AskedDrink
from solver.requests.bar_taste import taste_of
from solver.requests.demands import Demand, DemandKind
from solver.requests.origin import ASKED
from solver.requests.read_request import WrittenRequest, read_request
from solver.requests.request import Request
from solver.search.exact_evaluator import evaluate
from solver.search.milp.cpsat import CpSat
from solver.search.problem import Candidate, Problem
from solver.tasks.subproblems import Subproblems
from solver.tasks.why import why_impossible
from tests.each import each
from tests.search.instances import random_drink
from tests.tasks.bars import any_request, demo, demo_with, small_bar, sour

DRINKS = 300


def posed(seed: int) -> AskedDrink:
    """A random request: of a sour, or every other time of any profile."""
    rng = random.Random(seed)
    files = profile_files(None)
    profile = find_profile(rng.choice(sorted(files)), files) if seed % 2 else sour()
    bar = bar_for(profile, rng) if seed % 2 else small_bar(rng)
    bar = bar.with_pour_set(rng.choice(("quarter-ounce", "five-ml")))
    request = any_request(rng, bar)
    if seed % 3 == 0:
        request = replace(request, feature=(rng.choice(bar.stock).ingredient.key,))
    return AskedDrink.of(profile, bar, request)


def bar_for(profile: Profile, rng: random.Random) -> Bar:
    """The demonstration bar with three bottles for each part of a profile, if it has so many."""
    kept: set[str] = set()
    for part in profile.parts:
        fitting = [s.ingredient.key for s in demo().stock if part.accepts(s.ingredient)]
        kept.update(rng.sample(fitting, min(3, len(fitting))))
    return demo_with(*kept)


def poured(problem: Problem, rng: random.Random) -> Floats:
    """Random drinks of a problem that it allows, as amounts, shape (n, candidates)."""
    parts = tuple(replace(p, count_low=min(p.count_low, 1)) for p in problem.parts)
    loose = replace(problem, parts=parts)
    try:
        drinks = {random_drink(rng, loose) for _ in range(DRINKS)}
    except ValueError:  # nothing fills a part
        return np.zeros((0, len(problem.candidates)))
    amounts = np.array([problem.amounts(drink) for drink in sorted(drinks)])
    return np.asarray(amounts[evaluate(problem, amounts).feasible])


def carried(amounts: Floats, problem: Problem, other: Problem) -> Floats:
    """The same pours as amounts of the candidates of another problem, which must have them."""
    place = {(c.ingredient, c.part): i for i, c in enumerate(other.candidates)}
    same = np.zeros((len(amounts), len(other.candidates)))
    for index, candidate in enumerate(problem.candidates):
        column = amounts[:, index]
        if (column > 0).any():
            at = place[candidate.ingredient, candidate.part]
            known = np.array([0.0, *other.candidates[at].amounts])
            assert np.isclose(column[:, None], known, rtol=1e-9, atol=0).any(axis=1).all()
            same[:, at] = column
    return same


def asking(*wanted: str) -> Request:
    """A request for ingredients, as written."""
    return read_request(WrittenRequest(wanted=wanted), demo())


@each(range(30))
def test_every_drink_that_is_allowed_with_a_demand_is_allowed_without_it(seed: int) -> None:
    asked = posed(seed)
    rng = random.Random(seed)
    for _ in range(4):
        share = rng.choice((0.3, 0.6, 0.9))
        gone = frozenset(d for d in asked.demands if rng.random() < share)
        if gone == frozenset(asked.demands):
            continue
        problem = asked.problem(gone)
        amounts = poured(problem, rng)
        for demand in sorted(frozenset(asked.demands) - gone, key=_name)[::3]:
            without = asked.problem(gone | {demand})
            assert evaluate(without, carried(amounts, problem, without)).feasible.all(), demand.name


def pours(candidates: tuple[Candidate, ...]) -> set[tuple[str, int, float]]:
    """Each ingredient in its part with each of its amounts, to nine digits."""
    return {(c.ingredient, c.part, float(f"{a:.9g}")) for c in candidates for a in c.amounts}


def _name(demand: Demand) -> str:
    return demand.name


def test_the_random_requests_make_demands_of_every_kind_and_allow_drinks() -> None:
    kinds = {demand.kind for seed in range(20) for demand in posed(seed).demands}
    assert kinds == set(DemandKind)
    rng = random.Random(1)
    problems = (posed(seed) for seed in range(20))
    allowed = [
        len(poured(asked.problem([d for d in asked.demands if rng.random() < 0.6]), rng))
        for asked in problems
    ]
    assert sum(count > 20 for count in allowed) >= 4


@each(("quarter-ounce", "five-ml"))
def test_whatever_is_shown_may_be_poured_as_before_with_a_finer_jigger_or_a_wider_range(
    pour_set: str,
) -> None:
    """Every ingredient of the demonstration bar, shown in every built-in profile."""
    bar = demo().with_pour_set(pour_set)
    shown = frozenset(stocked.ingredient.key for stocked in bar.stock)
    for name in profile_files(None):
        profile = find_profile(name, profile_files(None))
        pourables = Pourables(profile, bar, taste_of(bar))
        parts = frozenset(part.name for part in profile.parts)
        ways = [
            PourRules(asked=shown, featured=shown, featured_in_full=shown, finer=finer, loose=loose)
            for finer in (False, True)
            for loose in (frozenset[str](), parts)
        ]
        plain, wide, fine, both = (pours(pourables.candidates(rules)) for rules in ways)
        for fewer, more in ((plain, wide), (plain, fine), (wide, both), (fine, both)):
            assert fewer <= more, name


def amounts_of(asked: AskedDrink, key: str, *dropped: DemandKind) -> list[float]:
    """Ounces of 30 mL that may be poured of an ingredient without the demands of some kinds."""
    problem = asked.problem([d for d in asked.demands if d.kind in dropped])
    return [round(a / 30, 6) for c in problem.candidates if c.ingredient == key for a in c.amounts]


def test_a_pour_that_is_wished_for_is_the_only_one_until_the_wish_is_dropped() -> None:
    asked = AskedDrink.of(sour(), demo(), asking("mezcal=1..1 1/4 oz"))
    own = [1.25, 1.5, 1.75, 2.0, 2.25, 2.5]
    assert amounts_of(asked, "mezcal") == [1.0, 1.25]
    assert amounts_of(asked, "mezcal", DemandKind.POUR) == [1.0, *own]
    assert amounts_of(asked, "gin") == own
    assert amounts_of(asked, "mezcal", DemandKind.POURS) == [1.0, 1.25]
    wider = amounts_of(asked, "mezcal", DemandKind.POUR, DemandKind.POURS)
    assert wider == [k / 4 for k in range(3, 13)] + [3.5]


def test_of_two_pours_of_one_ingredient_both_are_asked() -> None:
    asked = AskedDrink.of(sour(), demo(), asking("mezcal=1..2 oz", "mezcal=1 1/2..3 oz"))
    assert amounts_of(asked, "mezcal") == [1.5, 1.75, 2.0]
    apart = AskedDrink.of(sour(), demo(), asking("mezcal=1 oz", "mezcal=2 oz"))
    why = why_impossible(Subproblems(apart, CpSat(), Clock.of(60)))
    assert [{d.says for d in each if d.origin == ASKED} for each in why.conflicts] == [
        {"with mezcal", "1 oz of mezcal", "2 oz of mezcal"}
    ]


def test_a_conflict_with_a_small_pour_blames_the_strength_and_not_the_pour() -> None:
    """The pour is less than the base may be; without that wish more of it could be poured."""
    bar = demo_with(
        "gin",
        "mezcal",
        "aged-rum",
        "orange-liqueur",
        "amaro",
        "lemon-juice",
        "lime-juice",
        "simple-syrup",
        "honey-syrup-2-1",
        "aromatic-bitters",
    )
    wish = WrittenRequest(
        measures={"abv": (">=18%",), "cost": ("<=2.30",)}, wanted=("mezcal=1 oz",), serves=12
    )
    asked = AskedDrink.of(sour(), bar, read_request(wish, bar))
    problems = Subproblems(asked, CpSat(), Clock.of(60))
    why = why_impossible(problems)
    (conflict,) = map(frozenset, why.conflicts)
    assert {d.says for d in conflict if d.origin == ASKED} == {
        "strength at least 18 % vol", "cost at most 2.30 EUR", "with mezcal",
    }  # fmt: skip
    force = frozenset(
        d
        for d in asked.demands
        if d.kind in {DemandKind.COUNT, DemandKind.POURS, DemandKind.JIGGER}
    )
    assert problems.kept(conflict | force) is None
    for demand in conflict:
        assert problems.kept((conflict | force) - {demand}) is not None


def test_a_long_pour_that_is_asked_for_is_measured_with_the_jigger() -> None:
    bar = demo().with_pour_set("five-ml")
    profile = find_profile("highball", profile_files(None))
    for ml in (95, 100, 105):
        request = read_request(WrittenRequest(wanted=(f"soda-water={ml} ml",)), bar)
        asked = AskedDrink.of(profile, bar, request)
        assert amounts_of(asked, "soda-water") == pytest.approx([ml / bar.measures.ounce_ml])
    (unmeasured,) = (
        demand
        for demand in AskedDrink.of(
            profile, bar, read_request(WrittenRequest(wanted=("soda-water=102 ml",)), bar)
        ).demands
        if demand.kind is DemandKind.POUR
    )
    assert "5 mL steps" in unmeasured.name


def test_a_bottle_that_is_short_is_a_demand_though_nobody_may_pour_it_yet() -> None:
    """What is avoided is in no drink; where that is dropped, there is too little of it."""
    bar = demo_with("gin", "rye-whiskey", "lemon-juice", "honey-syrup")
    stock = (replace(s, on_hand=10.0 if s.ingredient.key == "gin" else None) for s in bar.stock)
    bar = replace(bar, stock=tuple(stock))
    request = read_request(WrittenRequest(unwanted=("gin",), serves=10), bar)
    kinds = [demand.kind for demand in AskedDrink.of(sour(), bar, request).demands]
    assert kinds.count(DemandKind.STOCK) == 1
    enough = replace(request, serves=1, unwanted=())
    kept = replace(bar, stock=tuple(replace(s, on_hand=None) for s in bar.stock))
    assert DemandKind.STOCK not in {d.kind for d in AskedDrink.of(sour(), kept, enough).demands}
