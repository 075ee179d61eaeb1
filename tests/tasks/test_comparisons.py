"""A step is noticed: its target is rounded the way that was wished."""

from __future__ import annotations

import pytest

from solver.tasks.comparative_wishes import _beyond


@pytest.mark.parametrize(
    ("value", "sign", "target"),
    [(5.64, 1.0, 5.7), (5.66, 1.0, 5.7), (5.64, -1.0, 5.6), (5.66, -1.0, 5.6), (5.6, 1.0, 5.6)],
)
def test_a_target_is_rounded_to_more_and_never_to_less(
    value: float, sign: float, target: float
) -> None:
    assert _beyond(value, sign, 1) == pytest.approx(target)
