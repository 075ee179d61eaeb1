"""What is suggested for a name that nobody wrote into the library: everyday words, slips, kinds."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.pantry.ingredient import Ingredient
from solver.pantry.library import load_library
from solver.pantry.naming import NEAREST, Guesses
from tests.each import each

LIBRARY = load_library()
GUESSES = Guesses(LIBRARY)


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("peated whisky", "peated-scotch"),
        ("islay malt", "peated-scotch"),
        ("nonalcoholic gin", "non-alcoholic-spirit"),
        ("non-alcoholic rum", "non-alcoholic-spirit"),
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


@pytest.mark.parametrize(
    "written", ["motor oil filter", "durian jam", "wasabi", "galangal", "energy drink", "", "??"]
)
def test_what_only_shares_a_common_word_is_no_guess(written: str) -> None:
    assert GUESSES.of(written) == ()


@pytest.mark.parametrize(
    ("written", "key"),
    [
        ("pumpkin puree", "pumpkin-puree"),
        ("pumpkin", "pumpkin-puree"),
        ("sweet potato", "sweet-potato-puree"),
        ("lychee", "lychees"),
        ("jalapeño", "fresh-chilli"),
        ("fresh lime", "lime-juice"),
        ("limes", "lime-juice"),
        ("lemon", "lemon-juice"),
        ("OJ", "orange-juice"),
        ("triple sec", "orange-liqueur"),
        ("simple", "simple-syrup"),
        ("sugar syrup", "simple-syrup"),
        ("2:1 syrup", "rich-syrup"),
        ("bitters", "aromatic-bitters"),
        ("soda water", "soda-water"),
        ("club soda", "soda-water"),
        ("soda", "soda-water"),
        ("seltzer", "soda-water"),
        ("scotch", "blended-scotch"),
        ("dark rum", "dark-rum"),
        ("light rum", "white-rum"),
        ("gold rum", "aged-rum"),
        ("rye", "rye-whiskey"),
        ("reposado", "tequila-reposado"),
        ("calvados", "apple-brandy"),
        ("prosecco", "sparkling-wine"),
        ("red vermouth", "sweet-vermouth"),
        ("espresso", "espresso"),
        ("cold brew", "cold-brew"),
        ("egg whites", "egg-white"),
        ("half and half", "half-and-half"),
        ("cream", "heavy-cream"),
        ("agave", "agave-syrup"),
        ("grenadine", "grenadine"),
        ("ginger beer", "ginger-beer"),
        ("tonic", "tonic-water"),
        ("cream of coconut", "cream-of-coconut"),
        ("hot water", "water"),
        ("sugar", "white-sugar"),
        ("salt", "salt"),
    ],
)
def test_what_a_bartender_types_is_known(written: str, key: str) -> None:
    assert LIBRARY.find(written).key == key


COOKS_WORDS = {
    "ginger": "ginger-root", "cinnamon stick": "cassia", "vanilla": "vanilla-pod",
    "eggs": "whole-egg", "oranges": "whole-oranges", "cherries": "sweet-cherries",
    "mint": "mint-leaves", "pepper": "black-pepper", "chilli": "fresh-chilli",
    "mango": "mango-flesh", "turmeric": "ground-turmeric", "fresh turmeric": "turmeric-root",
    "Sage": "sage-leaves", "saffron": "saffron", "lemon grass": "lemongrass", "figs": "figs",
    "dates": "dates", "sultanas": "raisins", "plums": "plums", "kiwi": "kiwi-flesh",
    "grapes": "grapes", "fresh cranberries": "cranberries", "pecans": "pecans",
    "toasted sesame": "sesame-seeds", "coriander seeds": "coriander-seed", "cumin": "cumin-seed",
    "fennel": "fennel-bulb", "fennel seeds": "fennel-seed", "caraway": "caraway-seed",
    "bay leaf": "bay-leaves", "pink pepper": "pink-peppercorns", "juniper": "juniper-berries",
    "cacao nibs": "cocoa-nibs", "cocoa": "cocoa-powder", "chamomile": "chamomile-flowers",
    "tamarind": "tamarind-pulp", "muscovado": "muscovado-sugar", "piloncillo": "panela",
    "coconut sugar": "palm-sugar", "golden syrup": "golden-syrup", "oats": "oats",
    "white rice": "rice", "oolong": "oolong-tea-leaves", "pectin": "pectin",
    "xanthan": "xanthan-gum", "gum acacia": "gum-arabic", "yoghurt": "yogurt", "miso": "miso",
    "shoyu": "soy-sauce", "dried shiitake": "dried-mushrooms", "sweetcorn": "sweet-corn",
    "raw pumpkin": "raw-pumpkin", "raw sweet potato": "raw-sweet-potato", "parsnip": "parsnips",
    "celery": "celery-stalks", "elderflowers": "elderflowers", "lime zest": "lime-peel",
}  # fmt: skip
"""What a cook of syrups, cordials and shrubs calls things, and what is meant."""


@pytest.mark.parametrize(("written", "key"), COOKS_WORDS.items())
def test_what_a_cook_types_is_known(written: str, key: str) -> None:
    assert LIBRARY.find(written).key == key


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("coriander", {"coriander-leaves", "coriander-seed"}),
        ("mushrooms", {"dried-mushrooms"}),
        ("brown rice", {"rice"}),
        ("fig jam", {"figs", "dried-figs"}),
    ],
)
def test_a_word_for_two_things_is_not_taken_for_one_of_them(written: str, meant: set[str]) -> None:
    assert written not in LIBRARY
    assert meant <= set(LIBRARY.near(written))


@pytest.mark.parametrize(
    ("written", "guesses"),
    [
        ("peated whisky", ["peated-scotch"]),
        ("nonalcoholic gin", ["non-alcoholic-spirit"]),
        ("angostura style bitters", ["aromatic-bitters", "orange-bitters", "creole-bitters"]),
        ("rum", ["white-rum", "dark-rum", "aged-rum"]),
        ("rich simple", ["rich-syrup"]),
        ("blue curacao", ["dry-curacao"]),
        ("beet juice", ["beetroot"]),
    ],
)
def test_the_guesses_are_no_more_than_what_may_be_meant(written: str, guesses: list[str]) -> None:
    assert list(LIBRARY.near(written)) == guesses


@pytest.mark.parametrize("whiskey", ["whiskey", "whisky"])
def test_a_word_for_many_bottles_is_not_taken_for_one_of_them(whiskey: str) -> None:
    assert whiskey not in LIBRARY
    assert {LIBRARY.find(key).kind for key in LIBRARY.near(whiskey)} == {"spirit/whiskey"}


@pytest.mark.parametrize("written", list(NEAREST))
def test_what_is_not_here_at_all_is_said_so_with_what_comes_nearest(written: str) -> None:
    assert written not in LIBRARY
    assert all(key in LIBRARY for key in NEAREST[written])
    said = LIBRARY.unknown(written).sentence()
    assert f"What comes nearest is {' or '.join(NEAREST[written])}." in said
    assert "Did you mean" not in said


@each(LIBRARY)
def test_every_name_of_an_ingredient_leads_to_it(ingredient: Ingredient) -> None:
    for name in (ingredient.name, *ingredient.aliases):
        if LIBRARY.find(name) is ingredient:
            assert ingredient.key in [found.key for found in GUESSES.of(name, most=20)]


@given(st.text(max_size=60))
def test_any_text_gives_at_most_three_guesses(text: str) -> None:
    assert len(GUESSES.of(text)) <= 3
