"""What is loud is poured by its usual most, unless it is the base or was asked for."""

from __future__ import annotations

from solver.harmony.counted import load_counts
from solver.pantry.load_bar import load_bar
from solver.pantry.profile_files import find_profile, profile_files
from solver.requests.asked_drink import AskedDrink
from solver.requests.request import IngredientWish, Request
from tests.each import each

BAR = load_bar(None)
MOST = load_counts().most_ml
PROFILES = sorted(profile_files(None))


def asked(name: str, *keys: str) -> AskedDrink:
    wanted = tuple(map(IngredientWish, keys))
    return AskedDrink.of(find_profile(name, profile_files(None)), BAR, Request(wanted=wanted))


@each(PROFILES)
def test_nothing_loud_is_poured_beyond_its_most_where_it_is_not_the_idea(name: str) -> None:
    of = asked(name)
    for one in of.problem().candidates:
        part, most = of.profile.parts[one.part], MOST(one.ingredient)
        named = part.name == "base" or one.ingredient in part.usual
        if most is not None and not named and BAR.bottles.find(one.ingredient).per == "ml":
            assert max(one.amounts) <= most * (1 + 1e-9)


def test_what_was_asked_for_may_be_as_loud_as_the_profile_lets_it() -> None:
    def most_of(of: AskedDrink) -> float:
        parts = of.profile.parts
        pours = (
            max(one.amounts)
            for one in of.problem().candidates
            if one.ingredient == "fernet" and parts[one.part].name == "modifier"
        )
        return max(pours, default=0.0)

    most = MOST("fernet")
    assert most is not None
    assert most_of(asked("stirred")) <= most < most_of(asked("stirred", "fernet"))
