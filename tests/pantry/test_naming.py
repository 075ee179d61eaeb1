"""What is suggested for a name that nobody wrote into the library: everyday words, slips, kinds."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.pantry.ingredient import Ingredient
from solver.pantry.library import load_library
from solver.pantry.naming import Guesses

LIBRARY = load_library()
GUESSES = Guesses(LIBRARY)


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("peated whisky", "peated-scotch"),
        ("islay malt", "peated-scotch"),
        ("nonalcoholic gin", "non-alcoholic-spirit"),
        ("non-alcoholic rum", "non-alcoholic-spirit"),
        ("chai spice", "cinnamon-syrup"),
        ("cinnamon stick", "cassia"),
        ("oat milk, barista", "oat-milk"),
        ("double cream", "heavy-cream"),
        ("coffee liquer", "coffee-liqueur"),
        ("orange curaçao", "dry-curacao"),
        ("sugar sirup", "simple-syrup"),
        ("maple sirup", "maple-syrup"),
        ("limes", "lime-juice"),
        ("bourbn", "bourbon"),
        ("rye whisky", "rye-whiskey"),
        ("spiced rum", "white-rum"),
        ("aromatic biters", "aromatic-bitters"),
        ("sweet vermut", "sweet-vermouth"),
        ("elderflower cordial", "elderflower-liqueur"),
        ("gomme syrup", "simple-syrup"),
        ("coconut cream", "cream-of-coconut"),
        ("egg whites", "egg-white"),
        ("chickpea brine", "aquafaba"),
        ("smoky mezcal", "mezcal"),
        ("apple cider", "dry-cider"),
        ("pink grapefruit juice", "grapefruit-juice"),
        ("blood orange", "orange-juice"),
        ("fresh ginger syrup", "ginger-syrup"),
        ("frozen strawberries", "strawberries"),
        ("bottled lime", "bottled-lime-juice"),
        ("cherry brandy liqueur", "cherry-liqueur"),
        ("diet tonic", "light-tonic-water"),
        ("passionfruit", "passion-fruit-juice"),
        ("brut bubbly", "sparkling-wine"),
    ],
)
def test_everyday_names_are_among_the_guesses(written: str, meant: str) -> None:
    assert meant in [item.key for item in GUESSES.of(written)]


@pytest.mark.parametrize("written", ["pumpkin puree", "sweet potato", "motor oil filter", "", "??"])
def test_what_only_shares_a_common_word_is_no_guess(written: str) -> None:
    assert GUESSES.of(written) == ()


@pytest.mark.parametrize("ingredient", list(LIBRARY), ids=lambda each: each.key)
def test_every_name_of_an_ingredient_leads_to_it(ingredient: Ingredient) -> None:
    for name in (ingredient.name, *ingredient.aliases):
        if LIBRARY.find(name) is ingredient:
            assert ingredient.key in [found.key for found in GUESSES.of(name, most=20)]


@given(st.text(max_size=60))
def test_any_text_gives_at_most_three_guesses(text: str) -> None:
    assert len(GUESSES.of(text)) <= 3
