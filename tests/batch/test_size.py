"""How much is made, as it is written: whole kegs and freezer bottles leave room, by practice."""

from __future__ import annotations

from typing import Any

import pytest

from solver.errors import BadInput
from solver.quantities import Measures
from solver.tasks.batch import Size, read_size
from solver.tasks.batch.measured_amounts import ScaleStep, read_step

MEASURES = Measures()


@pytest.mark.parametrize(
    ("said", "size"),
    [
        # common practice, no source: a keg is filled to nineteen parts of twenty
        ({"keg": "20 L"}, Size(volume_ml=19_000, vessel_ml=20_000, keg=True)),
        ({"make": "2 L"}, Size(volume_ml=2000)),
        ({"make": "2 L", "bottle": "500 ml"}, Size(volume_ml=2000, vessel_ml=500)),
        ({"serves": 20}, Size(serves=20)),
        ({"serves": 20, "bottle": "750 ml"}, Size(serves=20, vessel_ml=750)),
        ({"bottle": "750 ml"}, Size(volume_ml=750, vessel_ml=750, full=True)),
        ({"bottle": "750 ml", "bottles": 3}, Size(volume_ml=2250, vessel_ml=750, full=True)),
        ({"make": "10 ml"}, Size(volume_ml=10)),
        ({"make": "1000 L"}, Size(volume_ml=1e6)),
        ({"bottle": "10 L", "bottles": 100}, Size(volume_ml=1e6, vessel_ml=10_000, full=True)),
    ],
)
def test_a_size_is_read_as_it_is_said(said: dict[str, Any], size: Size) -> None:
    assert read_size(MEASURES, **said) == size


@pytest.mark.parametrize(
    ("said", "why"),
    [
        ({"make": "9.9 ml"}, "no size of a batch"),
        ({"make": "1000.1 L"}, "no size of a batch"),
        ({"bottle": "10 L", "bottles": 101}, "no batch"),
        ({"keg": "20 L", "bottle": "1 L"}, "--keg"),
        ({"keg": "20 L", "serves": 3}, "say it twice"),
        ({"make": "2 L", "serves": 3}, "say it twice"),
        ({"bottles": 3}, "needs their size"),
        ({}, "nothing says how much"),
    ],
)
def test_what_is_no_size_or_said_twice_is_refused(said: dict[str, Any], why: str) -> None:
    with pytest.raises(BadInput, match=why):
        read_size(MEASURES, **said)


def test_a_bottle_for_the_freezer_leaves_a_tenth_for_ice() -> None:
    """Common practice, no source: so much liquid, and no more than was asked for by volume."""
    full = read_size(MEASURES, bottle="1 L", bottles=2).for_freezer()
    assert (full.volume_ml, full.room_ml) == pytest.approx((1800, 900))
    asked = read_size(MEASURES, make="2 L", bottle="1 L").for_freezer()
    assert (asked.volume_ml, asked.room_ml) == pytest.approx((2000, 900))
    assert Size(serves=2).for_freezer().room_ml is None


@pytest.mark.parametrize(
    ("text", "step"), [("100 ml", ScaleStep(100)), ("1 g", ScaleStep(1, weighed=True))]
)
def test_a_step_is_read_up_to_the_coarsest(text: str, step: ScaleStep) -> None:
    assert read_step(text, MEASURES) == step


@pytest.mark.parametrize("text", ["100.1 ml", "0 ml"])
def test_what_is_no_step_is_refused(text: str) -> None:
    with pytest.raises(BadInput, match="no step of a jug"):
        read_step(text, MEASURES)
