"""Where published drinks stand among themselves: the file that says it is what the counts make.

Sources: see tests/outside/shortfalls.py.
"""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from solver.harmony.counted import load_standing
from solver.harmony.dial import Dial
from solver.harmony.harmony import worth_of
from solver.search.sets.set_question import IngredientSet, SetQuestion
from tests.harmony.bars import harmony
from tests.outside import shortfalls

Rows = list[tuple[str, str, tuple[float, ...]]]


@cache
def rows() -> Rows:
    return shortfalls.rows()


@pytest.mark.parametrize("dial", Dial)
def test_the_file_of_shortfalls_is_what_counts_and_profiles_make(dial: Dial) -> None:
    at = list(Dial).index(dial)
    made = sorted(values[at] for _, _, values in rows())
    np.testing.assert_allclose(load_standing(dial).shortfalls, made, atol=2e-4)


def test_what_nine_of_ten_published_drinks_come_up_to_few_drinks_drawn_evenly_do() -> None:
    standing, rng = load_standing(Dial.FAMILIAR), np.random.default_rng(1)
    assert len(standing.shortfalls) >= 70
    reached = [
        worth_of(worth) >= best - standing.reached_by(0.9)
        for profile in ("sour", "stirred", "daisy", "highball", "equal-parts", "cream")
        for question in (harmony(profile).question(),)
        for best in (shortfalls.best(profile, Dial.FAMILIAR),)
        for filled in (drawn(question, rng) for _ in range(200))
        if (worth := question.worth(filled)) is not None
    ]
    assert len(reached) > 500
    assert np.mean(reached) < 0.2


def drawn(question: SetQuestion, rng: np.random.Generator) -> IngredientSet:
    """As many ingredients for each part as it may hold, drawn evenly."""
    counts = [int(rng.integers(part.least, part.most + 1)) for part in question.parts]
    return tuple(
        tuple(sorted(int(i) for i in rng.choice(part.members, count, replace=False)))
        for part, count in zip(question.parts, counts, strict=True)
    )


def test_shares_of_published_drinks_and_shortfalls_answer_each_other() -> None:
    standing = load_standing(Dial.FAMILIAR)
    for share in (0.1, 0.5, 0.9, 1.0):
        reached = standing.reached_by(share)
        assert standing.come_up_to(reached) >= share
        assert standing.come_up_to(reached - 2e-3) < share + 1 / len(standing.shortfalls)
    assert standing.come_up_to(-10.0) == 0.0
    assert standing.come_up_to(100.0) == 1.0
