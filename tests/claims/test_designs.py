"""Whatever cuts a search short, and whenever: nothing false is said.

Random requests on small bars are answered with a time limit or an interrupt at a random moment, and
every claim of the answer, of its document and of its text is compared with every drink there is.
"""

from __future__ import annotations

import itertools
import json
import random
import re
from collections import Counter
from collections.abc import Iterable
from collections.abc import Set as AbstractSet
from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from solver.cli.exits import exit_code
from solver.harmony.harmony import BottleWish
from solver.requests.asked_drink import AskedDrink
from solver.requests.demands import STRUCTURE
from solver.requests.in_keeping_sets import unlike
from solver.search.lexicographic import Agreed
from solver.search.milp.cpsat import CpSat
from solver.search.problem import Goal
from solver.show.documents.design import design_json
from solver.show.text.design import design_text
from solver.tasks.design import design
from solver.tasks.design_result import Design, Explain, Open, Status
from tests.claims.moments import Cut, counted, cut_short, moment
from tests.tasks.test_why import minimal_conflicts, posed
from tests.tasks.truth import Truth, check_answer, check_reasons

GOALS = (Goal.IN_KEEPING, Goal.IN_KEEPING, Goal.CHEAPEST, Goal.LIGHTEST, Goal.FEWEST)
SAME = 1e-6
CUT = (1000, 1002, 1003, 1004, 1005, 1007, 1009, 1010)
MOMENTS = 6
"""Seeds of requests that are cut short, and how often each is; fifteen hundred with -m sweep."""


@cache
def truth(seed: int) -> Truth:
    asked = posed(seed)
    goal = random.Random(seed).choice(GOALS)
    alternatives = random.Random(-seed).randint(0, 2)
    request = replace(asked.request, goal=goal, alternatives=alternatives)
    return Truth(replace(asked, request=request))


def answered(asked: AskedDrink) -> Design:
    """Everything that can be asked for at once."""
    seed = len(asked.demands)
    explain = (Explain.LIMITS, Explain.EVERYTHING)[seed % 2]
    return design(
        asked.profile, asked.bar, asked.request, CpSat(), verify=seed % 3 == 0, explain=explain
    )


def check_verdict(found: Design) -> None:
    assert found.status is not Status.DISPUTED
    assert isinstance(found.verdict, Agreed) or found.verdict is None or Open.VERIFY in found.open


def check_alternatives(found: Design, known: Truth) -> None:
    """Each is of another base family than all before it, and has none of their modifiers."""
    drinks = [a for a in (found.answer, *found.alternatives) if a is not None]
    assert all(map(known.has, found.alternatives))
    for one, other in itertools.combinations(drinks, 2):
        wishes = unlike(known.asked, ((p.part, p.ingredient.key) for p in one.pours))
        assert keeps(wishes, {p.ingredient.key for p in other.pours})
    short = len(found.alternatives) < found.asked_alternatives
    if found.status is Status.OPTIMAL and short and not found.alternatives_cut:
        wishes_of_all = [
            wish
            for drink in drinks
            for wish in unlike(known.asked, ((p.part, p.ingredient.key) for p in drink.pours))
        ]
        others = known.kept & np.array([keeps(wishes_of_all, p) for p in known.every.poured])
        assert known.best_rank(others) is None


def keeps(wishes: Iterable[BottleWish], poured: AbstractSet[str]) -> bool:
    return all(wish.high is None or len(wish.bottles & poured) <= wish.high for wish in wishes)


def check_conflicts(found: Design, known: Truth) -> None:
    why, every = found.why, known.every
    if why is None or found.status is not Status.IMPOSSIBLE:
        return
    demands = set(every.demands)
    minimal = minimal_conflicts(every)
    said = {frozenset(d for d in each if d.kind not in STRUCTURE) for each in why.conflicts}
    assert said <= minimal
    if why.complete:
        assert said == minimal
    single = {w.changes[0].demand for w in why.ways_out if len(w.changes) == 1} & demands
    alone = {d for d in every.demands if every.possible(frozenset(every.demands) - {d})}
    assert single <= alone
    if not why.undecided:
        assert single == alone


def check_words(found: Design, known: Truth) -> None:
    """What people and programs read claims no more than what is known."""
    asked = known.asked
    everything = found.explain is Explain.EVERYTHING
    text = " ".join(design_text(found, asked.bar, everything=everything).split())
    document = json.loads(design_json(found, asked.bar))
    settled = found.status is not Status.STOPPED
    assert document["status"] == found.status.value
    assert document["proof"]["checked"] == (found.status is Status.OPTIMAL)
    assert document["interrupted"] == found.interrupted
    assert (document["unsettled"] == []) == (not found.open)
    assert bool(re.search(r"Proven[:;, ]", text)) == found.goal_settled
    if re.search("[Nn]othing on the shelf|has no such|more in keeping", text):
        assert found.goal_settled
    if "no further one" in text:
        assert settled
        assert not found.alternatives_cut
    if "No limit alone" in text or "Nothing that was asked" in text or "No single change" in text:
        assert found.why is not None
        assert not found.why.undecided
    if found.why is not None and found.why.undecided:
        assert re.search("no time|[Ss]topped before|--why takes longer", text), text
    code = exit_code(found)
    assert (code == 130) == found.interrupted
    assert (code in {0, 1}) == (not found.open and not found.interrupted)
    assert code != 0 or found.status is Status.OPTIMAL
    assert code != 1 or found.status is Status.IMPOSSIBLE


def check(found: Design, known: Truth) -> None:
    check_answer(found, known)
    check_verdict(found)
    check_alternatives(found, known)
    check_reasons(found, known)
    check_conflicts(found, known)
    check_words(found, known)


@cache
def counts_of(seed: int) -> dict[str, int]:
    with counted() as counts:
        answered(truth(seed).asked)
    return counts


@cache
def tried(seed: int, number: int) -> str:
    """Cut a request short at a random moment, and check what is said; how it ended."""
    known = truth(seed)
    cut, at = moment(random.Random(f"{seed} {number}"), counts_of(seed))
    try:
        with cut_short(cut, at):
            found = answered(known.asked)
    except KeyboardInterrupt:
        assert cut in {Cut.INTERRUPT, Cut.ANYWHERE}
        return "nothing is said"
    check(found, known)
    return str(exit_code(found))


@pytest.mark.parametrize("seed", range(1000, 1008))
def test_what_is_said_in_full_is_so(seed: int) -> None:
    known = truth(seed)
    found = answered(known.asked)
    check(found, known)
    assert exit_code(found) in {0, 1}
    assert found.why is not None
    assert not found.why.undecided


# An interrupt that falls where a generator ends is swallowed by Python, which warns.
@pytest.mark.filterwarnings("ignore::pytest.PytestUnraisableExceptionWarning")
@pytest.mark.parametrize("seed", CUT)
def test_nothing_false_is_said_whatever_cuts_it_short(seed: int) -> None:
    for number in range(MOMENTS):
        tried(seed, number)


@pytest.mark.filterwarnings("ignore::pytest.PytestUnraisableExceptionWarning")
def test_an_interrupt_is_owned_up_to_whenever_it_comes() -> None:
    asked = truth(1000).asked

    def found() -> Design:
        return design(asked.profile, asked.bar, asked.request, CpSat(), explain=Explain.LIMITS)

    with counted(calls=False) as counts:
        assert not found().interrupted
    for at in (1, counts["looks"] // 2, counts["looks"]):
        with cut_short(Cut.INTERRUPT, at):
            assert found().interrupted


def test_the_moments_are_of_every_sort() -> None:
    ends = Counter(tried(seed, number) for seed in CUT for number in range(MOMENTS))
    assert {"3", "130"} <= ends.keys()
    assert ends["0"] + ends["1"], "none came too late to matter"


# An interrupt that falls where a generator ends is swallowed by Python, which warns.
@pytest.mark.filterwarnings("ignore::pytest.PytestUnraisableExceptionWarning")
@pytest.mark.sweep
@pytest.mark.parametrize("seed", range(2000, 2150))
def test_nothing_false_is_said_at_length(seed: int) -> None:
    known = truth(seed)
    check(answered(known.asked), known)
    for number in range(10):
        tried(seed, number)
    for cache_ in (truth, counts_of, tried):
        cache_.cache_clear()
