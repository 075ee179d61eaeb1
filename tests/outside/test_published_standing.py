"""Where published drinks stand among themselves: the file that says it is what the counts make.

Sources: see tests/outside/shortfalls.py.
"""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from solver.harmony.counted import load_standing
from solver.harmony.dial import Dial
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


def test_half_of_the_published_drinks_are_nearly_the_best_of_their_kind() -> None:
    """And they stand out: drinks that no book has fall far behind them (no blind test: whoever
    wrote what profiles call usual knew the association's)."""
    standing = load_standing(Dial.FAMILIAR)
    assert len(standing.shortfalls) >= 70
    assert standing.reached_by(0.5) < 1.5


def test_shares_of_published_drinks_and_shortfalls_answer_each_other() -> None:
    standing = load_standing(Dial.FAMILIAR)
    for share in (0.1, 0.5, 0.9, 1.0):
        reached = standing.reached_by(share)
        assert standing.come_up_to(reached) >= share
        assert standing.come_up_to(reached - 2e-3) < share + 1 / len(standing.shortfalls)
    assert standing.come_up_to(-10.0) == 0.0
    assert standing.come_up_to(100.0) == 1.0
