"""How usual an ingredient is in a part: by what a profile states, by counts, by the bar's specs."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.harmony.counted import load_counts
from solver.harmony.flavours import Flavour, flavours_of
from solver.harmony.shares import Share, count_shares, shares
from solver.harmony.taste import BarTaste
from solver.pantry.library import load_library
from solver.pantry.profile import Part
from tests.harmony.bars import made

COUNTS = load_counts()
BASES = [each for each in load_library() if each.is_kind("spirit")]
GIN = made("our-gin", "spirit/gin", "juniper")


def part(**table: object) -> Part:
    given = {"name": "base", "kinds": ("spirit",), "count": (0, 2), "each": "1 oz", **table}
    return Part.model_validate(given)


def of(given: Part, own: tuple[str, ...] = (), *, house: bool = False) -> dict[str, Share]:
    found = flavours_of([*BASES, *([GIN] if house else [])], COUNTS, BarTaste())
    return shares(given, sorted(set(found.values()), key=_name), COUNTS, own)


def _name(flavour: Flavour) -> str:
    return flavour.name


USUALS = st.dictionaries(
    st.sampled_from(["spirit", "spirit/gin", "spirit/rum", "gin", "dark-rum", "mezcal"]),
    st.floats(0.01, 0.16),
)


@given(USUALS, st.lists(st.sampled_from(["gin", "mezcal", "aged-rum"]), max_size=5))
def test_shares_of_what_is_counted_add_up_to_one(usual: dict[str, float], own: list[str]) -> None:
    found = of(part(usual=usual), tuple(own))
    assert math.isclose(sum(each.share for each in found.values()), 1.0)
    assert all(each.share > 0 for each in found.values())


def test_without_a_word_from_the_profile_counts_decide() -> None:
    found = of(part())
    assert max(found, key=lambda name: found[name].share) == "gin"
    ratio = found["gin"].share / found["vodka"].share
    assert math.isclose(ratio, (129 + 0.5) / (89 + 0.5))
    assert found["gin"].stated is None


def test_a_stated_kind_is_split_by_counts() -> None:
    found = of(part(usual={"spirit/whiskey": 0.8}))
    whiskey = {name: each for name, each in found.items() if each.word == "spirit/whiskey"}
    assert "bourbon" in whiskey
    assert math.isclose(sum(each.share for each in whiskey.values()), 0.8)
    assert whiskey["bourbon"].share > whiskey["rye-whiskey"].share > whiskey["irish-whiskey"].share


def test_the_closest_word_counts() -> None:
    found = of(part(usual={"spirit": 0.2, "spirit/rum": 0.3, "aged-rum": 0.4}))
    assert found["aged-rum"].word == "aged-rum"
    assert found["white-rum"].word == "spirit/rum"
    assert found["gin"].word == "spirit"


def test_what_is_not_named_has_at_most_what_counts_give_it() -> None:
    """Aquavit is poured once among 716 bases: that a profile leaves 10 % is no word for it."""
    kinds = ("vodka", "gin", "whiskey", "rum", "agave", "brandy", "anise")
    found = of(part(usual={f"spirit/{kind}": 0.9 / 7 for kind in kinds}))
    assert found["aquavit"].share < 0.005


def test_what_a_house_makes_is_as_rare_as_what_was_never_printed() -> None:
    plain, with_own = of(part()), of(part(), house=True)
    assert with_own["our-gin"].share == with_own["genever"].share == plain["genever"].share
    assert with_own["gin"].share == plain["gin"].share


def test_the_bars_specs_move_a_share() -> None:
    plain, own = of(part()), of(part(), ("mezcal",) * 3)
    assert own["mezcal"].share > 5 * plain["mezcal"].share
    assert (own["mezcal"].own, own["mezcal"].own_of) == (3, 3)
    assert own["gin"].share < plain["gin"].share


def test_a_profile_counts_like_fifty_printed_drinks_and_a_spec_of_the_bar_like_five() -> None:
    """Our own choice."""
    plain, own = of(part()), of(part(), ("mezcal", "mezcal", "gin"))
    assert own["mezcal"].share == pytest.approx((50 * plain["mezcal"].share + 10) / 65)
    assert own["vodka"].share == pytest.approx(50 * plain["vodka"].share / 65)
    stated = counted(part(usual_count={"0": 0.2, "1": 0.7, "2": 0.1}), (2,))
    assert stated == pytest.approx((10 / 55, 35 / 55, (5 + 5) / 55))


def test_what_no_profile_names_has_a_hundredth_at_the_least() -> None:
    """Where the profile names all there is."""
    found = of(part(usual={"spirit/gin": 1.0}))
    others = sum(each.share for each in found.values() if not each.word)
    assert others == pytest.approx(0.01 / 1.01)
    one, *rest = counted(part(usual_count={"1": 1.0}))
    assert (one, rest[1]) == pytest.approx((0.01 / 1.02, 0.01 / 1.02))


def counted(given: Part, own: tuple[int, ...] = ()) -> tuple[float, ...]:
    found = flavours_of(BASES, COUNTS, BarTaste())
    return count_shares(given, sorted(set(found.values()), key=_name), COUNTS, own)


def test_how_many_fill_a_part_is_as_the_profile_states() -> None:
    assert counted(part(usual_count={"0": 0.2, "1": 0.7, "2": 0.1})) == pytest.approx(
        (0.2, 0.7, 0.1)
    )
    assert counted(part(count=(1, 1), usual_count={"0": 0.8, "1": 0.2})) == (1.0,)


def test_a_count_that_is_not_named_is_rare_and_not_impossible() -> None:
    found = counted(part(usual_count={"1": 0.99}))
    assert found[1] > 0.9 > 0.02 > found[0] == found[2] > 0


@given(st.lists(st.sampled_from([0, 1, 2]), max_size=6))
def test_shares_of_counts_add_up_to_one(own: list[int]) -> None:
    for given_part in (part(), part(usual_count={"0": 0.5, "1": 0.4})):
        assert math.isclose(sum(counted(given_part, tuple(own))), 1.0)


def test_where_nothing_is_stated_a_part_is_filled_as_often_as_drinks_pour_such() -> None:
    bitters = [each for each in load_library() if each.is_kind("bitters")]
    found = flavours_of(bitters, COUNTS, BarTaste())
    flavours = sorted(set(found.values()), key=_name)
    empty, filled = count_shares(part(kinds=("bitters",), count=(0, 1)), flavours, COUNTS)
    assert 0.1 < filled < 124 / 716 < empty
