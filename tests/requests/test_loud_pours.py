"""What is loud is poured by its usual most, unless it is the base or was asked for."""

from __future__ import annotations

import pytest

from solver.harmony.counted import load_counts
from solver.pantry.load_bar import load_bar
from solver.pantry.profile_files import find_profile, profile_files
from solver.requests.asked_drink import AskedDrink
from solver.requests.request import IngredientWish, Request

BAR = load_bar(None)
MOST = load_counts().most_ml
PROFILES = sorted(profile_files(None))


def asked(name: str, *keys: str) -> AskedDrink:
    wanted = tuple(map(IngredientWish, keys))
    return AskedDrink.of(find_profile(name, profile_files(None)), BAR, Request(wanted=wanted))


@pytest.mark.parametrize("name", PROFILES)
def test_nothing_loud_is_poured_beyond_its_most_where_it_is_not_the_idea(name: str) -> None:
    of = asked(name)
    for each in of.problem().candidates:
        part, most = of.profile.parts[each.part], MOST(each.ingredient)
        named = part.name == "base" or each.ingredient in part.usual
        if most is not None and not named and BAR.bottles.find(each.ingredient).per == "ml":
            assert max(each.amounts) <= most * (1 + 1e-9)


def test_what_was_asked_for_may_be_as_loud_as_the_profile_lets_it() -> None:
    def most_of(of: AskedDrink) -> float:
        parts = of.profile.parts
        pours = (
            max(each.amounts)
            for each in of.problem().candidates
            if each.ingredient == "fernet" and parts[each.part].name == "modifier"
        )
        return max(pours, default=0.0)

    most = MOST("fernet")
    assert most is not None
    assert most_of(asked("stirred")) <= most < most_of(asked("stirred", "fernet"))
