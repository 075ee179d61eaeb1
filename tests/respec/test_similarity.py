"""What can stand in for what: by composition, and never where figures say too little."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from solver.measures import MEASURES
from solver.pantry.disclosure import stated, together
from solver.pantry.ingredient import Ingredient
from solver.pantry.library import load_library
from solver.pantry.own_figures import with_own_figures
from solver.tasks.respec.consequences import GuestConsequences, consequences, told
from solver.tasks.respec.similarity import (
    ALIKE,
    BRINGS_NOTHING,
    Contributions,
    stand_ins,
    strangeness,
)
from tests.examples import examples

LIBRARY = load_library()
TOLERANCES = {MEASURES["abv"]: 1.0, MEASURES["sugar"]: 0.7, MEASURES["acid"]: 0.08,
              MEASURES["volume"]: 10.0}  # fmt: skip
SOUR = Contributions(TOLERANCES, 160.0)
"""What pours bring to a sour of 160 mL with 7 g of sugar and 0.8 g of acid in 100 mL."""
ITEMS = st.sampled_from(list(LIBRARY))
SETS = st.lists(ITEMS, max_size=5)


def find(key: str) -> Ingredient:
    return LIBRARY.find(key)


def like(key: str, amount: float, other: str) -> float:
    found = SOUR.like_for_like(find(key), amount, find(other))
    assert found is not None
    return found


def offered(key: str, amount: float) -> set[str]:
    return {item.key for item in stand_ins(find(key), amount, LIBRARY, SOUR)}


def test_rich_syrup_for_simple_at_the_same_sugar() -> None:
    """61.48 and 88.45 g/100 mL: the ICUMSA polynomial, as in outside/data/physics_syrups.csv."""
    expected = 30.0 * 61.48 / 88.45
    assert like("simple-syrup", 30.0, "rich-syrup") == pytest.approx(expected, rel=0.005)


def test_a_spirit_of_another_strength_at_the_same_alcohol() -> None:
    strong = with_own_figures(find("gin"), {"abv": 50.0})
    weak = with_own_figures(find("gin"), {"abv": 40.0})
    assert SOUR.like_for_like(strong, 60.0, weak) == pytest.approx(75.0)


def test_an_acid_solution_for_citrus_at_the_same_acid() -> None:
    lime, solution = find("lime-juice"), find("lime-acid")
    expected = 22.5 * lime.acid.value / solution.acid.value
    assert like("lime-juice", 22.5, "lime-acid") == pytest.approx(expected, rel=1e-6)
    assert {"lime-acid", "lemon-juice"} <= offered("lime-juice", 22.5)


@pytest.mark.parametrize(
    ("key", "amount", "stands_in", "does_not"),
    [
        (
            "simple-syrup",
            15.0,
            {"rich-syrup", "honey-syrup", "white-sugar"},
            {"gin", "lemon-juice"},
        ),
        ("lemon-juice", 22.5, {"lime-juice"}, {"espresso", "simple-syrup", "sparkling-wine"}),
        ("gin", 60.0, {"vodka", "rye-whiskey"}, {"sweet-vermouth", "coffee-liqueur", "absinthe"}),
        ("soda-water", 90.0, set(), {"water", "brewed-coffee", "tonic-water"}),
        ("egg-white", 30.0, {"aquafaba"}, {"egg-yolk", "heavy-cream"}),
        ("aromatic-bitters", 1.8, {"orange-bitters"}, {"gin", "fernet"}),
    ],
)
def test_what_is_offered_brings_the_same_or_is_of_its_kind(
    key: str, amount: float, stands_in: set[str], does_not: set[str]
) -> None:
    found = offered(key, amount)
    assert stands_in <= found
    assert does_not.isdisjoint(found)
    assert key not in found


@given(item=ITEMS, other=ITEMS, amount=st.floats(1.0, 120.0))
def test_like_for_like_brings_as_much_of_what_the_pour_mainly_brings(
    item: Ingredient, other: Ingredient, amount: float
) -> None:
    measure = SOUR.mainly(item, amount)
    instead = SOUR.like_for_like(item, amount, other)
    assume(measure is not None and instead is not None)
    assert measure is not None
    assert instead is not None
    at = SOUR.measures.index(measure)
    assert SOUR.of(other)[at] * instead == pytest.approx(SOUR.of(item)[at] * amount)


@settings(max_examples=examples(0.15))  # each compares the whole library
@given(key=st.sampled_from(["gin", "lime-juice", "simple-syrup", "orange-liqueur"]),
       amount=st.floats(5.0, 120.0))  # fmt: skip
def test_what_is_alike_differs_by_less_than_a_share_of_what_the_pour_brings(
    key: str, amount: float
) -> None:
    item = find(key)
    alike = [other for other in LIBRARY if SOUR.alike(item, amount, other)]
    assert item in alike
    brings = SOUR.of(item) * amount
    for other in alike:
        instead = SOUR.like_for_like(item, amount, other) or 0.0
        apart = np.abs(brings - SOUR.of(other) * instead).max()
        assert apart <= max(ALIKE * brings.max(), BRINGS_NOTHING) * (1 + 1e-9)
        assert amount / 2 <= instead <= amount * 2


@given(item=ITEMS, other=ITEMS)
def test_strangers_are_as_strange_either_way(item: Ingredient, other: Ingredient) -> None:
    assert strangeness(item, other) == strangeness(other, item)
    assert strangeness(item, item) == 0.0


@given(before=SETS, after=SETS)
def test_what_a_guest_is_told_follows_from_what_is_gained_and_lost(
    before: list[Ingredient], after: list[Ingredient]
) -> None:
    old, new = together(map(stated, before)), together(map(stated, after))
    found = consequences(old, new)
    assert (told(old) - set(found.lost)) | set(found.gained) == told(new)
    assert set(found.gained).isdisjoint(found.lost)
    assert consequences(new, old).gained == found.lost


@given(poured=SETS)
def test_every_allergen_and_everything_of_animals_is_told(poured: list[Ingredient]) -> None:
    said = told(together(map(stated, poured)))
    for item in poured:
        assert {GuestConsequences("contains", word) for word in item.allergens or ()} <= said
        assert {GuestConsequences("of animal origin:", word) for word in item.animal or ()} <= said
        for word in item.may_contain:
            assert {
                GuestConsequences("contains", word),
                GuestConsequences("may contain", word),
            } & said
        for word in item.may_animal:
            both = {
                GuestConsequences("of animal origin:", word),
                GuestConsequences("may be of animal origin:", word),
            }
            assert both & said
        assert {GuestConsequences("to declare:", word) for word in item.declare} <= said
        if item.allergens is None:
            assert GuestConsequences("allergens not known of", item.name) in said


def gin(abv_pct: float, sugar_g_100ml: float = 0.0) -> Ingredient:
    return with_own_figures(find("gin"), {"abv": abv_pct, "sugar": sugar_g_100ml})


def test_a_quarter_of_a_noticeable_difference_is_brought_and_less_counts_for_its_volume() -> None:
    """40 % of 1 mL in 160 mL is 0.25 % vol, of which 1 % vol is noticed. Our own choice."""
    assert SOUR.mainly(gin(40), 1.01) is MEASURES["abv"]
    assert SOUR.mainly(gin(40), 0.99) is None
    assert SOUR.like_for_like(gin(40), 0.99, find("water")) == 0.99
    assert SOUR.like_for_like(gin(40), 0.99, find("white-sugar")) is None


def test_what_is_alike_differs_by_a_third_of_what_a_pour_mainly_brings_at_most() -> None:
    """60 mL of 40 % bring 15 noticeable differences; a third are 5, of sugar 9.33 g/100 mL."""
    assert SOUR.alike(gin(40), 60.0, gin(40, 9.3))
    assert not SOUR.alike(gin(40), 60.0, gin(40, 9.4))


def test_what_is_alike_is_poured_half_to_twice_as_much() -> None:
    assert SOUR.alike(gin(40), 60.0, gin(20.1))
    assert not SOUR.alike(gin(40), 60.0, gin(19.9))
    assert SOUR.alike(gin(40), 60.0, gin(79.9))
    assert not SOUR.alike(gin(40), 60.0, gin(80.1))


def test_foam_stands_in_for_egg_white_and_egg_white_for_foam_and_no_other_kind() -> None:
    assert "aquafaba" in offered("egg-white", 30.0)
    assert "egg-white" in offered("aquafaba", 30.0)
    assert "egg-yolk" not in offered("aquafaba", 30.0)
