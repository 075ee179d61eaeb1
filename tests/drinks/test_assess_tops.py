"""What is poured last in a built drink stands on the ice like the rest of it."""

from __future__ import annotations

from pathlib import Path

import pytest

from solver.drinks.assess import assess, find_drink
from solver.pantry.load_bar import load_bar

BAR = load_bar(Path(__file__).parents[2] / "demo")


@pytest.mark.parametrize("technique", ["build-top", "highball"])
def test_a_mixer_melts_as_much_ice_whether_or_not_it_is_called_a_top(technique: str) -> None:
    poured = find_drink(("2 oz gin", "4 oz soda-water"), (), BAR)
    topped = find_drink(("2 oz gin",), ("4 oz soda-water",), BAR)
    one, other = (assess(spec, BAR, technique=technique) for spec in (poured, topped))
    assert one.values == other.values


def test_what_tops_a_shaken_drink_meets_no_ice() -> None:
    poured = find_drink(("2 oz gin", "4 oz soda-water"), (), BAR)
    topped = find_drink(("2 oz gin",), ("4 oz soda-water",), BAR)
    one, other = (assess(spec, BAR, technique="shake-top") for spec in (poured, topped))
    assert (one.values["volume"] or 0) > (other.values["volume"] or 0) + 20
