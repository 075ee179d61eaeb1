"""Prices of three specs of the demonstration and three others, worked by hand line by line."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from solver.pantry.load_bar import load_bar
from solver.tasks.price.price import costed_for, priced
from tests.stock.bars import copied, run

DEMO = Path(__file__).parents[2] / "demo"
WASTE, LEFT, ICE, PER_HOUR = 0.04, 0.015, 0.3 * 0.40, 15.0
"""Spilled, left in the bottle, 300 g of ice at 0.40 the kg, wages: as somebody may state them."""

RYE, LEMON, RHUBARB = 60 * 36.20 / 700, 22.5 * 7.80 / 1000, 22.5 * 3.40 / 1000
SALINE = 3 * 0.05 * 0.10 / 250
BOURBON, ALMOND, BITTERS = 60 * 27.90 / 700, 7.5 * 6.20 / 1000, 2 * 0.9 * 15.20 / 200
APERITIF, WINE, SODA = 60 * 15.90 / 1000, 90 * 9.40 / 750, 30 * 0.55 / 200
GIN, SIMPLE, MEZCAL = 60 * 21.50 / 700, 22.5 * 1.20 / 1000, 45 * 44.50 / 700
DEMERARA, RIBBON = 5 * 2.60 / 1000, 5 * 2.40 / 1000

BY_HAND = [
    # the pours out of bottles, those that the house makes or weighs, what is beside them
    (("harbour-light",), RYE + SALINE, LEMON + RHUBARB, RIBBON + ICE + 0.5 * 15 / 3309 * 22.5),
    (("rope-store",), BOURBON + BITTERS, ALMOND, ICE),
    (("low-water",), APERITIF + WINE + SODA, 0.0, RIBBON + ICE),
    (("60 ml gin", "22.5 ml simple-syrup"), GIN + SIMPLE, 0.0, ICE),
    (("45 ml mezcal", "5 g demerara-sugar"), MEZCAL, DEMERARA, ICE),
    (("60 ml gin", "22.5 ml lemon-juice", "22.5 ml rhubarb-syrup"), GIN, LEMON + RHUBARB,
     ICE + 0.5 * 15 / 3309 * 22.5),
]  # fmt: skip


@pytest.mark.parametrize(("drink", "bottled", "other", "beside"), BY_HAND, ids=str)
def test_every_line_of_a_price_is_what_a_hand_comes_to(
    drink: tuple[str, ...], bottled: float, other: float, beside: float
) -> None:
    bar = costed_for(load_bar(DEMO), "78%", None, "19%")
    costing = replace(
        bar.costing, waste=WASTE, left_in_bottle=LEFT, ice_price_kg=0.40,
        labour_per_hour=PER_HOUR, hands_on_min={"rhubarb-syrup": 30.0},
    )  # fmt: skip
    cost, asking = priced(drink, replace(bar, costing=costing))
    poured = bottled + other
    # of a bottle of which 1.5 % stays, 1/98.5 more is bought than is poured and spilled
    expected = poured * (1 + WASTE) + bottled * (1 + WASTE) * LEFT / (1 - LEFT) + beside
    assert cost.total == pytest.approx(expected, abs=0.001)
    assert asking is not None
    half_steps = asking.price / 0.50
    assert half_steps == round(half_steps)
    assert expected / (asking.price / 1.19) <= 0.22 + 1e-9
    assert expected / ((asking.price - 0.50) / 1.19) > 0.22 - 1e-3


def test_what_comes_by_the_piece_is_priced_by_the_piece() -> None:
    with copied() as root:
        assert run(root, "in", "whole-egg", "30", "--price", "0.30").exit_code == 0
        assert run(root, "in", "whole-egg", "12").exit_code == 0
        bar = load_bar(root)
        cost, _ = priced(("60 ml cognac", "1 piece whole-egg"), bar)
        (egg,) = (line.cost for line in cost.pours if line.ingredient.key == "whole-egg")
        assert egg == pytest.approx(0.30)
        row = bar.stocked("whole-egg")
        assert row is not None
        assert row.on_hand == pytest.approx(42 * 48.5)
