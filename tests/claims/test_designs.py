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
from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from solver.cli.exits import exit_code
from solver.search.best import UNNOTICED, Agreed
from solver.search.cpsat import CpSat
from solver.search.problem import Floats, Goal
from solver.show.document import design_json
from solver.show.text import design_text
from solver.tasks.answer import Answer
from solver.tasks.demands import STRUCTURE, Asked
from solver.tasks.design import Design, Explain, Open, Status, design
from solver.tasks.ground import BETTER
from solver.tasks.request import DEFINING
from tests.claims.moments import Cut, counted, cut_short, moment
from tests.tasks.bars import Everything
from tests.tasks.test_why import minimal_conflicts, posed

GOALS = (Goal.CLOSEST, Goal.CLOSEST, Goal.CHEAPEST, Goal.LIGHTEST, Goal.FEWEST)
SAME = 1e-6


class Truth:
    """Every drink of a request: what keeps everything that was asked, and what it is."""

    def __init__(self, asked: Asked) -> None:
        self.asked = asked
        self.every = Everything.of(asked)
        self.kept = np.array([not broken for broken in self.every.broken], dtype=bool)
        goal = asked.request.goal.measure
        self.goals: Floats = self.every.off_aim if goal is None else self.every.values[goal.name]

    @property
    def best(self) -> float | None:
        """The least of the goal of all that keeps what was asked."""
        return float(self.goals[self.kept].min()) if self.kept.any() else None

    def has(self, answer: Answer) -> bool:
        """Whether a drink is one that keeps what was asked, and is measured rightly."""
        same = np.abs(self.every.off_aim - answer.off_aim) < SAME
        for name, value in answer.values.items():
            if value is not None:
                same &= np.abs(self.every.values[name] - value) < SAME * max(1.0, abs(value))
        return bool((same & self.kept).any())

    def offered(self) -> float:
        """How far from the aims the drink is that is offered, as told in `search.best`."""
        off, bottles = self.every.off_aim, self.every.values["bottles"]
        best = self.goals[self.kept].min()
        if self.asked.request.goal is not Goal.CLOSEST:
            return float(off[self.kept & (self.goals <= best + SAME)].min())
        close = self.kept & (off < best + UNNOTICED)
        return float(off[close & (bottles == bottles[close].min())].min())


@cache
def truth(seed: int) -> Truth:
    asked = posed(seed)
    goal = random.Random(seed).choice(GOALS)
    alternatives = random.Random(-seed).randint(0, 2)
    request = replace(asked.request, goal=goal, alternatives=alternatives)
    return Truth(replace(asked, request=request))


def answered(asked: Asked) -> Design:
    """Everything that can be asked for at once."""
    seed = len(asked.demands)
    explain = (Explain.LIMITS, Explain.EVERYTHING)[seed % 2]
    return design(
        asked.profile, asked.bar, asked.request, CpSat(), verify=seed % 3 == 0, explain=explain
    )


def check_answer(found: Design, known: Truth) -> None:
    best = known.best
    if found.status is Status.OPTIMAL:
        assert best is not None
        assert found.answer is not None
        assert found.answer.off_aim == pytest.approx(known.offered(), abs=SAME)
    if found.status is Status.IMPOSSIBLE:
        assert best is None
    if found.answer is not None:
        assert known.has(found.answer)
    if found.goal_settled and best is not None:
        assert found.bound == pytest.approx(best, abs=SAME)
    if best is not None:
        assert found.bound <= best + SAME
    assert found.status is not Status.DISPUTED
    assert isinstance(found.verdict, Agreed) or found.verdict is None or Open.VERIFY in found.open


def check_alternatives(found: Design, known: Truth) -> None:
    drinks = [a for a in (found.answer, *found.alternatives) if a is not None]
    assert all(map(known.has, found.alternatives))
    told = [frozenset(i.key for i in drink.ingredients) for drink in drinks]
    apart = [
        frozenset(p.ingredient.key for p in drink.pours if p.part in DEFINING) for drink in drinks
    ]
    # The answer comes first; in which order the alternatives were found nobody says.
    assert not any(apart[0] <= keys for keys in told[1:])
    for (own, keys), (own_of_other, of_other) in itertools.combinations(
        zip(apart, told, strict=True), 2
    ):
        assert not (own <= of_other and own_of_other <= keys)
    short = len(found.alternatives) < found.asked_alternatives
    if found.status is Status.OPTIMAL and short and not found.alternatives_cut:
        others = [
            poured
            for poured, kept in zip(known.every.poured, known.kept, strict=True)
            if kept and not any(own <= poured for own in apart)
        ]
        assert not others


def check_reasons(found: Design, known: Truth) -> None:
    why, every = found.why, known.every
    if why is None:
        return
    demands = set(every.demands)
    for reason in why.reasons:
        if reason.demand in demands and reason.binding is not None:
            keeps = np.array([broken <= {reason.demand} for broken in every.broken], dtype=bool)
            without = float(known.goals[keeps].min())
            assert reason.binding == (without < (why.value or 0.0) - BETTER), reason.demand.name
            if reason.worth is not None:
                assert reason.worth.dropped == pytest.approx(without, abs=SAME)
    if found.status is not Status.IMPOSSIBLE:
        return
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
    assert bool(re.search(r"Proven[: ]", text)) == found.goal_settled
    if re.search("nothing on the shelf|has no such", text):
        assert found.goal_settled
    if "no further alternative" in text:
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
    check_alternatives(found, known)
    check_reasons(found, known)
    check_words(found, known)


@cache
def counts_of(seed: int) -> dict[str, int]:
    with counted() as counts:
        answered(truth(seed).asked)
    return counts


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


@pytest.mark.parametrize("seed", range(1000, 1012))
def test_what_is_said_in_full_is_so(seed: int) -> None:
    known = truth(seed)
    found = answered(known.asked)
    check(found, known)
    assert exit_code(found) in {0, 1}
    assert found.why is not None
    assert not found.why.undecided


@pytest.mark.parametrize("seed", range(1000, 1012))
def test_nothing_false_is_said_whatever_cuts_it_short(seed: int) -> None:
    for number in range(4):
        tried(seed, number)


def test_the_moments_are_of_every_sort() -> None:
    ends = Counter(tried(seed, number) for seed in range(1000, 1006) for number in range(8))
    assert {"0", "3", "130"} <= ends.keys()


@pytest.mark.sweep
@pytest.mark.parametrize("seed", range(2000, 2150))
def test_nothing_false_is_said_at_length(seed: int) -> None:
    known = truth(seed)
    check(answered(known.asked), known)
    for number in range(10):
        tried(seed, number)
    for cache_ in (truth, counts_of):
        cache_.cache_clear()
