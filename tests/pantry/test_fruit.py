"""Fruit by the piece: what it weighs, the juice it gives, and how many to press."""

from __future__ import annotations

import pytest

from solver.mixture import measure
from solver.pantry.figure import Figure
from solver.pantry.fruit import fruit_by_juice
from solver.pantry.library import load_library
from solver.quantities import parse_pour

FRUIT = fruit_by_juice(load_library())


def test_every_juice_that_a_bar_presses_has_its_fruit() -> None:
    assert {juice: fruit.key for juice, fruit in FRUIT.items()} == {
        "lime-juice": "whole-limes",
        "lemon-juice": "whole-lemons",
        "orange-juice": "whole-oranges",
        "grapefruit-juice": "whole-grapefruits",
        "tangerine-juice": "whole-tangerines",
        "pineapple-juice": "whole-pineapples",
        "passion-fruit-juice": "whole-passion-fruits",
    }
    library = load_library()
    assert all(library.find(juice).is_kind("juice") for juice in FRUIT)


@pytest.mark.parametrize("juice", sorted(FRUIT))
def test_no_fruit_gives_more_juice_than_its_flesh_holds(juice: str) -> None:
    fruit = FRUIT[juice]
    density = float(measure(load_library().find(juice).composition()).mass_g)
    assert 0.2 < fruit.juice.value * density / fruit.weight.value < 0.6


def test_more_is_pressed_than_poured() -> None:
    limes = FRUIT["lime-juice"]
    assert limes.pieces(28) == pytest.approx(1 / 0.87)
    assert limes.units(28) == pytest.approx(80 / 0.87)


def test_fruit_is_weighed_or_counted() -> None:
    limes = load_library().find("whole-limes")
    assert limes.units(parse_pour("3 pieces")) == 240
    assert limes.units(parse_pour("1 kg")) == 1000
    assert limes.piece_ml is None


def test_a_house_that_weighed_its_fruit_is_believed() -> None:
    weighed = Figure(value=95, basis="published", source="our scale")
    own = load_library().find("whole-limes").model_copy(update={"piece": weighed})
    assert fruit_by_juice(load_library().shadowed_by([own]))["lime-juice"].weight.value == 95
