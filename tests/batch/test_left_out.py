"""What waits for service, by kind, technique and stage: common practice, no source."""

from __future__ import annotations

import pytest

from solver.pantry.load_bar import load_bar
from solver.pantry.pour import Pour
from solver.pantry.spec import Spec, SpecPour
from solver.tasks.batch.left_out import LeftOut, Wait, is_made_with_ice, wait_of

BAR = load_bar(None)


def line(key: str, stage: str = "first") -> Pour:
    item = BAR.library.find(key)
    pour = SpecPour.model_validate({"ingredient": key, "amount": f"20 {item.per}", "stage": stage})
    (found,) = Spec(name="made up", technique="shake", pours=(pour,)).poured(
        BAR.bottles, BAR.measures
    )
    return found


@pytest.mark.parametrize(
    ("key", "why"),
    [
        ("lime-juice", Wait.CITRUS), ("orange-juice", Wait.CITRUS), ("pineapple-juice", Wait.JUICE),
        ("tomato-juice", Wait.JUICE), ("heavy-cream", Wait.DAIRY), ("egg-white", Wait.EGG),
        ("aquafaba", Wait.FOAM), ("coconut-milk", Wait.COCONUT), ("mint-leaves", Wait.FRESH),
        ("sparkling-wine", Wait.BUBBLES), ("soda-water", Wait.BUBBLES),
        ("brewed-coffee", None), ("water", None), ("gin", None), ("simple-syrup", None),
        ("sweet-vermouth", None), ("cream-liqueur", None),
    ],
)  # fmt: skip
def test_what_does_not_keep_in_a_bottle_waits(key: str, why: Wait | None) -> None:
    assert wait_of(line(key), "shake") is why


@pytest.mark.parametrize(
    ("key", "why"), [("brewed-coffee", Wait.HOT), ("water", Wait.HOT), ("cognac", None)]
)
def test_what_is_hot_in_a_hot_drink_waits(key: str, why: Wait | None) -> None:
    assert wait_of(line(key), "hot") is why


def test_what_goes_on_top_waits_whatever_it_is() -> None:
    assert wait_of(line("gin", "top"), "shake") in {Wait.TOP, Wait.FLOAT}
    assert wait_of(line("soda-water", "top"), "shake-top") is Wait.BUBBLES
    assert wait_of(line("lime-juice", "top"), "shake") is Wait.CITRUS


def test_only_what_meets_the_ice_makes_the_batch_do_so_again() -> None:
    for key, stage, again in (
        ("lime-juice", "first", True),
        ("heavy-cream", "top", False),
        ("soda-water", "first", False),
    ):
        poured = line(key, stage)
        why = wait_of(poured, "shake")
        assert why is not None
        assert is_made_with_ice(LeftOut(poured, why)) is again
    assert not is_made_with_ice(LeftOut(line("water"), Wait.HOT))
