"""What a plan says of what is bought in pieces."""

from __future__ import annotations

import pytest

from solver.pantry.library import load_library
from solver.show.text.plan_words import amount_said, order_said
from solver.tasks.plan.answer import BuyingOrder
from solver.tasks.plan.supply import Supply, SupplyWay

EGG = load_library().find("whole-egg")


@pytest.mark.parametrize(("eggs", "said"), [(1, "3 pieces"), (10, "3 cartons of 10 pieces")])
def test_eggs_are_ordered_by_the_piece_or_the_carton(eggs: int, said: str) -> None:
    supply = Supply(SupplyWay.BUY, unit=eggs * 48.5, keeps=None, price=3.0)
    assert order_said(BuyingOrder(EGG, supply, 3, 9.0, 0.0)) == said


@pytest.mark.parametrize(
    ("name", "each", "said"),
    [
        ("whole limes", 10, "2 cartons of 10 pieces"),
        ("whole limes", 12.5, "2 cartons of 1 kg"),  # a bag of them
        ("honey", 500, "2 bottles of 500 g"),
        ("gin", 700, "2 bottles of 700 mL"),
    ],
)
def test_an_order_says_what_the_shelf_says_a_bottle_holds(
    name: str, each: float, said: str
) -> None:
    item = load_library().find(name)
    unit = each if item.piece is None else each * item.piece.value
    if item.sold_by == "weight":
        unit = each / item.weight_g(1.0)
    assert (
        order_said(BuyingOrder(item, Supply(SupplyWay.BUY, unit, None, 3.0), 2, 6.0, 0.0)) == said
    )


def test_amounts_of_eggs_are_pieces_and_of_egg_white_are_not() -> None:
    assert amount_said(48.5 * 7, EGG) == "7 pieces"
    assert amount_said(340.0, load_library().find("egg-white")) == "340 mL"
