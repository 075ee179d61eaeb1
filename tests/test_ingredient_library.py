"""The built-in ingredients hold together: names, figures, sources, allergens, cautions."""

from __future__ import annotations

import re
import tomllib
from collections import Counter
from collections.abc import Callable

import pytest

from solver.mixture import measure
from solver.pantry.library import load_library
from tests.each import each
from tests.ingredient_tables import (
    FIGURES,
    UNITS,
    Table,
    ingredient_files,
    ingredient_tables,
    number,
    span,
)


def words_of(text: str) -> set[str]:
    """The words of a list that is written as one string."""
    return set(text.split())


KINDS = {
    "spirit": "vodka gin whiskey rum agave brandy anise other",
    "liqueur": "orange fruit herb bitter nut coffee cocoa cream egg spice floral honey mint",
    "fortified": "vermouth aperitif sherry port madeira",
    "wine": "still sparkling sake",
    "beer": "lager stout cider",
    "juice": "sour citrus fruit vegetable",
    "acid": "solution vinegar powder",
    "syrup": "plain honey agave maple molasses fruit spice nut cordial",
    "dairy": "cream milk",
    "egg": "white whole yolk",
    "brew": "coffee tea",
    "mixer": "soda tonic ginger cola citrus",
    "seasoning": "saline savoury",
    "raw": "fruit vegetable spice herb nut seed cocoa grain tea dairy fat gum",
}
PLAIN_KINDS = {"bitters", "sugar", "foam", "coconut", "water", "garnish"}
CHARACTER = words_of(
    "oak molasses juniper smoke anise bitter citrus berry stone-fruit orchard tropical grape "
    "floral herb mint warm-spice ginger pepper nut coffee cocoa caramel dairy egg honey malt "
    "agave grain cane vegetal vanilla almond earthy saline tea"
)
ALLERGENS = words_of(
    "gluten crustaceans egg fish peanut soy milk nuts celery mustard sesame sulphites lupin "
    "molluscs"
)
ANIMAL = {"milk", "egg", "honey", "fish", "insect", "fining"}
DECLARED = {"quinine", "caffeine", "carmine"}
BASES = {"published", "definition", "computed", "practice", "memory", "estimate"}
ACIDS = {"citric", "malic", "tartaric", "lactic", "acetic", "phosphoric"}
TOOLS = {"jigger", "dash", "drop", "spoon", "weigh", "piece"}
ENTRIES = words_of(
    "name aliases kind character per abv sugar acid acids density other moisture insoluble bulk "
    "allergens may_contain declare animal may_animal allergens_source made_of bought life "
    "life_in_shell cautions "
    "kitchen_cautions tool piece sold_by note"
)
MAY_HOLD = {
    "red-wine-vinegar": 1.5, "cocktail-cherry": 15, "orange-flower-water": 40, "soy-sauce": 3,
    "miso": 3,
}  # fmt: skip
"""What some of a kind hold of alcohol, where most hold none: % vol at the most."""
STONES = {"peaches", "plums", "apricots", "sweet-cherries", "sour-cherries"}
LISTED = {
    "sesame-seeds": "sesame", "peanuts": "peanut", "mustard-seed": "mustard", "oats": "gluten",
    "celery-stalks": "celery", "miso": "soy", "soy-sauce": "soy", "dried-apricots": "sulphites",
}  # fmt: skip
"""What a word of Regulation (EU) 1169/2011, Annex II, names."""
MAY_BE_LISTED = {
    "pink-peppercorns": "nuts", "dried-coconut": "nuts", "miso": "gluten", "raisins": "sulphites",
    "dried-figs": "sulphites", "xanthan-gum": "gluten", "panela": "sulphites",
}  # fmt: skip
"""What some of a kind hold, so that all of it counts against a guest who avoids it."""
LISTED_KINDS = {"raw/nut": "nuts", "raw/dairy": "milk", "egg": "egg"}
WITHOUT_TASTE_OF_THEIR_OWN = ("acid/", "water", "mixer/soda")

LIBRARY = ingredient_tables()
EACH = each(sorted(LIBRARY))


def figures(table: Table) -> list[tuple[str, Table]]:
    return [(name, table[name]) for name in FIGURES if name in table]


def kind_paths() -> set[str]:
    return PLAIN_KINDS | {f"{top}/{sub}" for top, subs in KINDS.items() for sub in subs.split()}


def is_overproof(table: Table) -> bool:
    """A spirit of 57 % vol or more: the strength that the trade calls navy or overproof."""
    return table["kind"].startswith("spirit/") and number(table, "abv") >= 57


def normalised(name: str) -> str:
    return re.sub(r"[^a-z0-9:]+", "-", name.lower()).strip("-")


def test_the_library_is_wide_enough_for_a_bar() -> None:
    assert len(LIBRARY) >= 150
    assert 10 <= len(ingredient_files()) <= 17


def test_no_ingredient_is_written_twice() -> None:
    keys = Counter(
        key for path in ingredient_files() for key in tomllib.loads(path.read_text("utf-8"))
    )
    assert [key for key, count in keys.items() if count > 1] == []


def test_no_name_leads_to_two_ingredients() -> None:
    owners: dict[str, set[str]] = {}
    for key, table in LIBRARY.items():
        for name in (key, table["name"], *table.get("aliases", [])):
            owners.setdefault(normalised(name), set()).add(key)
    assert {name: keys for name, keys in owners.items() if len(keys) > 1} == {}


def test_every_file_starts_by_saying_what_its_sources_are_worth() -> None:
    for path in ingredient_files():
        head = path.read_text(encoding="utf-8").split("\n[", 1)[0]
        assert "Sources." in head, path.name


@EACH
def test_a_key_is_found_as_it_is_written_and_as_it_is_said(key: str) -> None:
    assert load_library().find(key).key == key
    assert load_library().find(LIBRARY[key]["name"].upper()).key == key
    if not any(letter.isdigit() for letter in key):
        assert load_library().find(key.replace("-", " ")).key == key


def test_the_reader_takes_every_entry() -> None:
    assert {ingredient.key for ingredient in load_library()} == set(LIBRARY)


@EACH
def test_an_entry_uses_only_the_words_of_the_schema(key: str) -> None:
    table = LIBRARY[key]
    assert re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", key)
    assert set(table) <= ENTRIES
    assert table["kind"] in kind_paths()
    assert set(table["character"]) <= CHARACTER
    assert table.get("tool", "jigger") in TOOLS
    plain = table["kind"].startswith(WITHOUT_TASTE_OF_THEIR_OWN)
    assert (0 if plain else 1) <= len(table["character"]) <= 4


@EACH
def test_every_figure_has_one_unit_a_basis_and_a_source(key: str) -> None:
    table = LIBRARY[key]
    assert {"abv", "sugar", "acid", "life"} <= set(table)
    for name, figure in figures(table):
        assert len([unit for unit in UNITS[name] if unit in figure]) == 1, name
        assert figure["basis"] in BASES, name
        assert figure["source"].strip(), name
        low, high = span(table, name)
        assert 0 <= low <= number(table, name) <= high, name


@EACH
def test_what_is_recalled_or_customary_says_so(key: str) -> None:
    for name, figure in figures(LIBRARY[key]):
        recalled = "from memory" in figure["source"]
        assert recalled == (figure["basis"] == "memory"), name
        if "no source" in figure["source"]:
            assert figure["basis"] == "practice", name


@EACH
def test_weighed_things_are_stated_per_gram_and_poured_things_per_millilitre(key: str) -> None:
    table = LIBRARY[key]
    weighed = table.get("per") == "g"
    for name in {"sugar", "acid", "other", "moisture", "insoluble"} & set(table):
        assert ("g_100g" in table[name]) == weighed, name
    dry = table["kind"] in {"sugar", "acid/powder"} or key in {"salt", "celery-salt"}
    solid = dry or table["kind"].startswith("raw/")
    assert weighed == solid
    assert (table.get("tool") == "piece") == ("ml" in table.get("piece", {}))
    assert ("g" in table.get("piece", {})) <= weighed
    assert not weighed or table.get("tool", "weigh") == "weigh"


@EACH
def test_acids_are_named_where_there_is_acid(key: str) -> None:
    table = LIBRARY[key]
    shares = table.get("acids", {})
    assert set(shares) <= ACIDS
    assert bool(shares) == (number(table, "acid") > 0)
    if shares:
        assert sum(shares.values()) == pytest.approx(1, abs=1e-9)
        assert min(shares.values()) > 0


@EACH
def test_allergens_are_known_or_left_out_and_never_both_certain_and_possible(key: str) -> None:
    table = LIBRARY[key]
    certain, possible = set(table.get("allergens", [])), set(table.get("may_contain", []))
    assert certain | possible <= ALLERGENS
    assert not certain & possible
    assert "allergens" in table or not possible
    assert table["allergens_source"].strip()
    assert set(table.get("declare", [])) <= DECLARED
    origin, may = set(table["animal"]), set(table.get("may_animal", []))
    assert origin | may <= ANIMAL
    assert not origin & may
    assert certain & {"milk", "egg", "fish"} <= origin
    assert origin & {"milk", "egg", "fish"} <= certain


@pytest.mark.parametrize(
    ("words", "concerned"),
    [
        ("medicines", lambda key, table: "grapefruit" in key and table["kind"] != "bitters"),
        ("quinine", lambda _, table: "quinine" in table.get("declare", [])),
        # kombucha's cautions are about the ferment, which matters more than its tea
        ("caffeine", lambda k, t: "caffeine" in t.get("declare", []) and k != "kombucha"),
        ("pasteurised", lambda _, table: table["kind"].startswith("egg/")),
        ("infants", lambda _, table: table["kind"] == "syrup/honey"),
        ("legumes", lambda key, _table: key == "aquafaba"),
        ("nut allergy", lambda k, t: t["kind"] == "coconut" or k == "dried-coconut"),
        ("cashew", lambda key, _table: key == "pink-peppercorns"),
        ("daisy", lambda key, _table: key == "chamomile-flowers"),
        ("traces of milk", lambda _, table: table["kind"] == "raw/dairy"),
    ],
)
def test_what_can_hurt_carries_its_caution(
    words: str, concerned: Callable[[str, Table], bool]
) -> None:
    keys = [key for key, table in LIBRARY.items() if concerned(key, table)]
    assert keys
    for key in keys:
        assert any(words in caution for caution in LIBRARY[key].get("cautions", [])), key


@pytest.mark.parametrize(
    ("words", "concerned"),
    [
        ("flame", lambda _, table: is_overproof(table)),
        ("thujone", lambda key, _table: key in {"absinthe", "sage-leaves"}),
        ("coumarin", lambda key, _table: key in {"cinnamon-syrup", "cassia"}),
        ("hydrocyanic", lambda key, _table: key in STONES | {"amaretto", "orgeat", "kirsch"}),
        ("make people sick", lambda key, _table: key in {"elderberries", "elderflowers"}),
        ("no boiling takes away", lambda key, _table: key in {"rice", "oats"}),
        ("leaves are poisonous", lambda key, _table: key == "rhubarb"),
        ("tree nuts", lambda _, table: table["kind"] == "raw/nut"),
        ("botulism", lambda key, table: key == "garlic" or table["kind"] == "raw/fat"),
        ("eyes", lambda _, table: table["kind"] == "acid/powder"),
    ],
)
def test_what_can_hurt_whoever_cooks_is_told_in_the_kitchen_and_on_no_drink(
    words: str, concerned: Callable[[str, Table], bool]
) -> None:
    keys = [key for key, table in LIBRARY.items() if concerned(key, table)]
    assert keys
    for key in keys:
        told = LIBRARY[key].get("kitchen_cautions", [])
        assert any(words in caution for caution in told), key
        assert not any(words in caution for caution in LIBRARY[key].get("cautions", [])), key


def test_what_the_law_lists_is_stated_and_what_some_hold_counts_against_it() -> None:
    for key, allergen in LISTED.items():
        assert allergen in LIBRARY[key]["allergens"], key
    for key, allergen in MAY_BE_LISTED.items():
        assert allergen in LIBRARY[key]["may_contain"], key
    for key, table in LIBRARY.items():
        for kind, allergen in LISTED_KINDS.items():
            if table["kind"] == kind or table["kind"].startswith(f"{kind}/"):
                assert allergen in table["allergens"], key


@EACH
def test_alcohol_is_where_the_kind_says(key: str) -> None:
    table = LIBRARY[key]
    top = table["kind"].split("/")[0]
    strong = top in {"spirit", "liqueur", "fortified", "wine", "beer", "bitters"}
    without = key.startswith("non-alcoholic-")
    assert (number(table, "abv") > 0) == (strong and not without)
    assert span(table, "abv")[1] <= 80
    if not strong:
        assert span(table, "abv")[1] <= MAY_HOLD.get(key, 0.5)


@EACH
def test_what_an_entry_is_made_of_is_known_and_harms_nobody_more_than_it_says(key: str) -> None:
    table = LIBRARY[key]
    told = set(table.get("allergens", [])) | set(table.get("may_contain", []))
    animal = set(table["animal"]) | set(table.get("may_animal", []))
    for name in table.get("made_of", []):
        assert name in LIBRARY
        assert name != key
        assert set(LIBRARY[name].get("allergens", [])) <= told, name
        assert set(LIBRARY[name]["animal"]) <= animal, name
        assert set(LIBRARY[name].get("declare", [])) <= set(table.get("declare", [])), name


def test_what_may_hold_a_little_alcohol_says_so() -> None:
    trace = {
        key for key in LIBRARY if number(LIBRARY[key], "abv") == 0 < span(LIBRARY[key], "abv")[1]
    }
    assert {
        "kombucha",
        "ginger-beer",
        "non-alcoholic-spirit",
        "non-alcoholic-bitter-aperitif",
    } <= trace
    for key, table in LIBRARY.items():
        if "0.5 % vol" in str(table.get("note", "")) + " ".join(table.get("cautions", [])):
            assert key in trace, key
        if table["kind"] == "acid/vinegar" and key != "shrub":
            assert key in trace, key


@EACH
def test_raw_stuff_says_what_is_water_and_what_stays_in_the_strainer(key: str) -> None:
    table = LIBRARY[key]
    raw = table["kind"].startswith("raw/")
    assert ("moisture" in table) == ("insoluble" in table) == raw
    if raw:
        stated = {"moisture", "sugar", "acid", "insoluble", "other"} & set(table)
        named = sum(number(table, name) for name in stated)
        assert 65 <= named <= 100


@EACH
def test_a_density_is_measured_and_never_reckoned(key: str) -> None:
    if "density" in LIBRARY[key]:
        assert LIBRARY[key]["density"]["basis"] in {"published", "memory"}


@EACH
def test_the_figures_of_an_entry_make_a_mixture_that_can_be(key: str) -> None:
    ingredient = load_library().find(key)
    finished = measure(ingredient.composition())
    if ingredient.per == "g":
        assert float(finished.mass_g) == pytest.approx(1, abs=0.001)
        return
    assert float(finished.volume_ml) == pytest.approx(1, abs=1e-6)
    assert float(finished.abv_pct) == pytest.approx(ingredient.abv.value, abs=1e-6)
    assert 0.85 < float(finished.mass_g) < 1.45
    if ingredient.density:
        # a portion weighed in a household measure is no better than 1.5 %
        assert float(finished.mass_g) == pytest.approx(ingredient.density.value, rel=0.015)
