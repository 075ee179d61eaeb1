"""Of allergens and what is of animals, a file has the say; of all else, what goes in.

The bottles are made in the house, and nobody has said what goes into them.
"""

from __future__ import annotations

import tempfile
from collections.abc import Collection
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.pantry.avoidance import Against
from solver.pantry.bar import Bar
from solver.pantry.disclosure import Disclosure
from solver.pantry.guest_words import guest_words, is_stated, meanings
from solver.pantry.vocabulary import ALLERGENS, ANIMAL_ORIGINS
from tests.guests.houses import bar_of, stated

ALSO_WITHOUT = frozenset({"rye", "aquafaba"})
"""Words of guests that are ingredients too, ones without the allergen that the word stands for."""
STATED = sorted(
    " ".join(said)
    for said, found in meanings().items()
    if all(is_stated(each) and not each.hidden for each in found)
    and not ALSO_WITHOUT.intersection(said)
)
LIKE_KINDS = ("egg", "eggs", "egg white", "egg-white", "egg yolk", "dairy", "no dairy")
NAMED = ("honey", "heavy cream", "butter", "whole egg", "almonds", "orgeat", "shrimp", "oat milk")
ONLY_NAMED = (
    "lemon juice", "cinnamon", "coco", "coconut cream", "chickpeas", "aquafaba", "grapes", "kosher",
    "vodka", "rum", "apple", "mint", "legumes", "syrup/plain",
)  # fmt: skip


@cache
def bar() -> Bar:
    silent = {"name": "silent", "character": ["juniper"], **stated("spirit/gin")}
    table = {**silent, "name": "gin of the house", "allergens": [], "animal": []}
    with tempfile.TemporaryDirectory() as folder:
        found = bar_of(Path(folder), {"house-gin": table, "silent": silent})
        assert found.avoidable
    return found


def against(word: str, told: Disclosure) -> Against | None:
    return bar().avoidable.word(word).against(told)


def gin(allergens: Collection[str] = (), animal: Collection[str] = ()) -> Disclosure:
    """The gin, were these its allergens and what it has of animals."""
    told = bar().told_of(bar().library.find("house-gin"))
    return Disclosure(frozenset(allergens), animal=frozenset(animal), holds=told.holds)


@pytest.mark.parametrize("word", [*LIKE_KINDS, *NAMED])
def test_what_states_that_it_holds_none_is_poured_for_who_avoids_it(word: str) -> None:
    assert against(word, gin()) is None


@pytest.mark.parametrize("word", ONLY_NAMED)
def test_a_word_that_no_file_states_asks_for_what_goes_in(word: str) -> None:
    assert against(word, gin()) is Against.NOT_KNOWN


@given(
    st.sampled_from(STATED),
    st.sets(st.sampled_from(sorted(ALLERGENS))),
    st.sets(st.sampled_from(sorted(ANIMAL_ORIGINS))),
)
def test_what_a_file_states_is_all_that_counts(
    word: str, allergens: set[str], animal: set[str]
) -> None:
    avoided = bar().avoidable.word(word)
    told = gin(allergens, animal)
    holds = bool(avoided.allergens & allergens or avoided.animal & animal)
    assert avoided.against(told) is (Against.HOLDS if holds else None)


@given(st.sampled_from(STATED))
def test_what_states_nothing_is_poured_for_nobody_who_avoids_an_allergen(word: str) -> None:
    avoided = bar().avoidable.word(word)
    if avoided.allergens or avoided.animal:
        assert against(word, bar().told_of(bar().library.find("silent"))) is Against.NOT_KNOWN


def test_every_word_of_guests_is_either_stated_or_asks_for_what_goes_in() -> None:
    told = gin()
    for key, meaning in guest_words().items():
        poured = against(key, told) is None
        assert poured == (is_stated(meaning) and not meaning.hidden), key
