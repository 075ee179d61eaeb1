"""What one question works out of a bar and a profile the next one takes, and nothing else."""

from __future__ import annotations

import random
from dataclasses import replace

from solver.requests.asked_drink import AskedDrink
from solver.requests.request import Request
from tests.each import each
from tests.tasks.bars import any_request, demo

PROFILE = "sour"


def asked(request: Request) -> AskedDrink:
    bar = demo()
    return AskedDrink.of(bar.profile(PROFILE), bar, request)


@each(range(8))
def test_a_question_after_others_is_the_same_question(seed: int) -> None:
    """On a bar that others asked before, it is posed as on one that nobody did."""
    request = any_request(random.Random(seed), demo())
    fresh = replace(demo())
    alone = AskedDrink.of(fresh.profile(PROFILE), fresh, request)
    after = asked(request)
    assert after.demands == alone.demands
    assert after.problem() == alone.problem()
    assert after.problem(after.demands) == alone.problem(alone.demands)


def test_it_is_worked_out_once_for_each_bar_and_reading_of_a_profile() -> None:
    bar = demo()
    once = asked(Request()).pourables
    assert asked(any_request(random.Random(1), bar)).pourables is once
    finer = bar.with_pour_set("five-ml")
    assert AskedDrink.of(finer.profile(PROFILE), finer, Request()).pourables is not once
    other = bar.profile(PROFILE).model_copy(update={"name": "sour"})
    assert AskedDrink.of(other, bar, Request()).pourables is not once
