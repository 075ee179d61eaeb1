"""What such a drink usually has, and the bar has nothing of, is said beside the drink.

Common practice, no source: tomato juice without Worcestershire and hot sauce is bare.
"""

from __future__ import annotations

from dataclasses import replace

from solver.drinks.empty_parts import empty_parts
from solver.pantry.bar import Bar
from solver.pantry.load_bar import load_bar
from solver.pantry.profile import Profile
from solver.pantry.profile_files import find_profile, profile_files

LIBRARY = load_bar(None)


def profile(name: str) -> Profile:
    return find_profile(name, profile_files(None))


def without(*kinds: str) -> Bar:
    """A bar with all of the library but some kinds."""
    rows = (row for row in LIBRARY.stock if not any(map(row.ingredient.is_kind, kinds)))
    return replace(LIBRARY, stock=tuple(rows))


def missing(name: str, bar: Bar, *filled: str) -> list[set[str]]:
    return [{item.key for item in of} for of in empty_parts(profile(name), bar, filled)]


def test_a_savoury_drink_misses_its_two_sauces_where_the_shelf_has_no_seasoning() -> None:
    bare = without("seasoning/savoury")
    sauces = {"worcestershire-sauce", "hot-sauce"}
    assert missing("savoury", bare, "base", "juice", "sour") == [sauces]


def test_nothing_is_missing_that_the_shelf_has_or_that_is_seldom_poured() -> None:
    assert missing("savoury", LIBRARY, "base", "juice", "sour") == []
    assert missing("sour", without("bitters", "seasoning"), "base", "sour", "sweet") == []


def test_sugar_is_not_missed_where_syrup_is_poured_instead() -> None:
    bare = without("sugar")
    assert missing("muddled", bare, "base", "sour", "sweet") == []
    assert missing("hot-coffee", bare, "base", "sweet", "lengthener", "cream") == []
