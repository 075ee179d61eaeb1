"""The words of guests: every everyday word, in any number, case or form, excludes what it is."""

from __future__ import annotations

from functools import cache

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from solver.errors import BadInput
from solver.pantry.avoidance import Against, Avoidance
from solver.pantry.bar import Bar
from solver.pantry.disclosure import Disclosure
from solver.pantry.guest_words import guest_words, meanings
from solver.pantry.load_bar import load_bar
from solver.pantry.vocabulary import ALLERGENS, ANIMAL_ORIGINS, DECLARATIONS
from solver.pantry.word_forms import barer, singular, within, words

# Regulation (EU) 1169/2011, Annex II, names the allergens and the cereals and nuts one by one; the
# rest are everyday words for them, from memory.
SAID: dict[str, str] = {
    "gluten": "gluten, wheat, rye, barley, oats, spelt, kamut, Khorasan wheat, emmer, einkorn, "
    "durum, semolina, bulgur, couscous, malt, flour, bread, pasta, biscuits, cookies, crackers, "
    "seitan, cereals, breadcrumbs, noodles, triticale",
    "crustaceans": "crustaceans, crustacean, prawns, prawn, King Prawns, shrimp, shrimps, crab, "
    "crabs, lobster, lobsters, crayfish, crawfish, langoustines, scampi, krill, shellfish, seafood",
    "egg": "egg, eggs, egg white, egg whites, egg-white, egg yolk, yolks, whole eggs, raw egg, "
    "albumen, albumin, mayonnaise, mayo, meringue, meringues, eggnog, advocaat, quail eggs",
    "fish": "fish, anchovy, anchovies, cod, salmon, tuna, sardines, herring, mackerel, trout, "
    "haddock, caviar, fish sauce, isinglass, worcestershire, Worcestershire sauce, sea-food",
    "peanut": "peanut, peanuts, Peanut Butter, groundnut, groundnuts, monkey nuts, arachis oil",
    "soy": "soy, soya, soybeans, soya beans, soyabean, tofu, edamame, miso, tempeh, tamari, "
    "soy sauce, soy milk, lecithin, soya lecithin",
    "milk": "milk, dairy, lactose, cream, heavy cream, double cream, whipping cream, butter, "
    "cheese, yoghurt, yogurt, yoghurts, whey, casein, buttermilk, ghee, half and half, "
    "half-and-half, crème fraîche, condensed milk, whole milk, cow's milk, ice cream, kefir, "
    "custard, lactose intolerant, lactose-intolerance",
    "nuts": "nut, nuts, tree nuts, treenuts, almond, almonds, Almonds, hazelnut, hazelnuts, "
    "Hazelnuts, walnut, walnuts, cashew, cashews, cashew nuts, pecan, pecans, brazil nuts, "
    "pistachio, pistachios, macadamia, macadamias, macadamia nuts, Queensland nuts, filberts, "
    "cobnuts, marzipan, praline, nougat, frangipane, gianduja, pine nuts, chestnuts, orgeat",
    "celery": "celery, celeriac, celery salt, celery seeds, celery sticks",
    "mustard": "mustard, mustard seeds, mustard powder, Dijon",
    "sesame": "sesame, sesame seeds, sesame oil, tahini, halva, hummus",
    "sulphites": "sulphites, sulfites, sulphite, sulphur dioxide, sulfur dioxide, SO2, E220, E224, "
    "potassium metabisulphite",
    "lupin": "lupin, lupins, lupine, lupini beans, lupin flour",
    "molluscs": "molluscs, mollusc, mollusks, oyster, oysters, mussels, clams, clam, squid, "
    "octopus, calamari, snails, scallops, cockles, whelks, abalone, cuttlefish, oyster sauce, "
    "shellfish",
}
ALSO_ANIMAL = {
    "honey": "honey, Honey, honeycomb, mead, beeswax, propolis",
    "insect": "insects, insect, carmine, cochineal, shellac",
    "meat": "meat, pork, bacon, lard, gelatine, gelatin, beef",
    "fining": "fining, isinglass",
}
DECLARED = {
    "quinine": "quinine, cinchona, tonic water, tonic",
    "caffeine": "caffeine, guarana, coffee, espresso, cola",
    "carmine": "carmine, cochineal, E120",
}
WAYS = {
    "vegan": (set(ANIMAL_ORIGINS), {"egg", "fish", "milk", "crustaceans", "molluscs"}, False),
    "vegetarian": (
        {"fish", "meat", "insect", "fining"},
        {"fish", "crustaceans", "molluscs"},
        False,
    ),
    "pregnant": ({"egg"}, {"egg"}, True),
    "celiac": (set(), {"gluten"}, False),
    "coeliac": (set(), {"gluten"}, False),
    "coeliac disease": (set(), {"gluten"}, False),
    "halal": ({"meat", "insect", "fining"}, set(), True),
    "kosher": ({"meat", "insect", "fining"}, {"crustaceans", "molluscs"}, False),
    "breastfeeding": (set(), set(), True),
}
FORMS = ("{}", "{}-free", "no {}", "without {}", "{} allergy", "allergic to {}", " {}  ", "{} free",
         "free from {}", "I am allergic to {}.")  # fmt: skip


def listed(text: str) -> list[str]:
    return [word.strip() for word in text.split(",")]


def each(table: dict[str, str]) -> list[tuple[str, str]]:
    return [(word, name) for name, text in table.items() for word in listed(text)]


@cache
def library() -> Bar:
    """The built-in bar, which pours everything."""
    return load_bar(None)


def avoid(word: str) -> Avoidance:
    return library().avoidable.word(word)


@cache
def told() -> dict[str, Disclosure]:
    """What a guest is told of everything, by key."""
    return {item.key: library().told_of(item) for item in library().library}


def out(word: str) -> set[str]:
    """Keys of what is not offered to somebody who says that."""
    found = avoid(word)
    return {key for key, disclosure in told().items() if found.against(disclosure) is not None}


def holds(word: str, key: str) -> bool:
    """Whether something holds it for certain."""
    return avoid(word).against(told()[key]) is Against.HOLDS


@pytest.mark.parametrize(("word", "allergen"), each(SAID))
def test_a_word_excludes_its_allergen_in_any_form(word: str, allergen: str) -> None:
    forms = [form.format(word) for form in FORMS]
    for said in (*forms, word.upper(), word.title()):
        found = avoid(said)
        assert found.against(Disclosure(allergens=frozenset({allergen}))) is Against.HOLDS
        assert found.against(Disclosure(may_contain=frozenset({allergen}))) is Against.MAY_HOLD
        unknown = Disclosure(allergens_not_known=("a bottle",))
        assert found.against(unknown) is Against.NOT_KNOWN
        assert found.against(Disclosure()) is None


@pytest.mark.parametrize(("word", "origin"), each(ALSO_ANIMAL))
def test_a_word_excludes_what_is_of_that_animal(word: str, origin: str) -> None:
    found = avoid(word)
    assert found.against(Disclosure(animal=frozenset({origin}))) is Against.HOLDS
    assert found.against(Disclosure(may_animal=frozenset({origin}))) is Against.MAY_HOLD
    assert found.against(Disclosure(animal_not_known=("a bottle",))) is Against.NOT_KNOWN


@pytest.mark.parametrize(("word", "declared"), each(DECLARED))
def test_a_word_excludes_what_must_be_declared(word: str, declared: str) -> None:
    assert avoid(word).against(Disclosure(declare=frozenset({declared}))) is Against.HOLDS


@pytest.mark.parametrize("word", WAYS)
def test_a_way_of_living_leaves_out_all_of_its_own_and_says_what_is_not_known(word: str) -> None:
    animal, allergens, alcohol = WAYS[word]
    found = avoid(word)
    for each_animal in animal:
        told = Disclosure(may_animal=frozenset({each_animal}))
        assert found.against(told) is Against.MAY_HOLD
    for each_allergen in allergens:
        told = Disclosure(allergens=frozenset({each_allergen}))
        assert found.against(told) is Against.HOLDS
    strong, weak = Disclosure(alcohol=("gin",)), Disclosure(may_hold_alcohol=("kombucha",))
    assert (found.against(strong) is Against.HOLDS) == alcohol
    assert (found.against(weak) is Against.MAY_HOLD) == alcohol
    assert found.says
    assert found.not_known
    assert found.way
    assert "safe" not in " ".join((*found.says, *found.not_known))


@pytest.mark.parametrize(
    "word", ["alcohol", "Alcohol", "alcohol-free", "non-alcoholic", "no alcohol", "zero proof",
             "booze", "driver", "teetotal", "mocktails"],
)  # fmt: skip
def test_without_alcohol_is_without_what_may_hold_half_a_per_cent(word: str) -> None:
    assert {"gin", "aromatic-bitters", "kombucha", "ginger-beer", "non-alcoholic-spirit"} <= out(
        word
    )
    assert {"lemon-juice", "soda-water", "simple-syrup", "strong-black-tea"}.isdisjoint(out(word))
    assert "0.5 %" in " ".join(avoid(word).says)


@pytest.mark.parametrize(
    ("word", "without", "still"),
    [
        ("almonds", {"almonds", "hazelnuts", "orgeat", "commercial-orgeat", "amaretto"}, {"gin"}),
        ("egg-white", {"egg-white", "egg-yolk", "whole-egg", "advocaat"}, {"aquafaba"}),
        ("legumes", {"aquafaba"}, {"egg-white", "brewed-coffee", "vanilla-syrup"}),
        ("chickpeas", {"aquafaba"}, {"egg-white"}),
        ("heavy cream", {"heavy-cream", "half-and-half", "whole-milk", "butter"}, {"oat-milk"}),
        ("milk", {"whole-milk", "cream-liqueur"}, {"oat-milk", "coconut-milk", "cream-sherry"}),
        ("lemon juice", {"lemon-juice", "bottled-lemon-juice", "bitter-lemon"}, {"lime-juice"}),
        ("cinnamon", {"cassia", "ceylon-cinnamon", "cinnamon-syrup", "amaro"}, {"gin", "vodka"}),
        ("rhubarb", {"rhubarb", "amaro", "aromatic-bitters"}, {"gin", "lemon-juice"}),
        ("orgeat", {"orgeat", "commercial-orgeat", "almonds"}, {"simple-syrup"}),
        ("gin", {"gin", "gin-old-tom", "sloe-gin", "genever"}, {"vodka", "ginger-beer"}),
        ("rum", {"white-rum", "jamaican-rum", "cachaca"}, {"gin"}),
        ("whiskies", {"bourbon", "peated-scotch", "honey-whisky-liqueur"}, {"gin"}),
        ("bitters", {"aromatic-bitters", "orange-bitters"}, {"red-bitter", "bitter-lemon"}),
        ("honey syrup", {"honey-syrup", "honey", "honey-whisky-liqueur"}, {"simple-syrup"}),
        ("dry-vermouth", {"dry-vermouth", "extra-dry-vermouth", "fino-sherry"}, {"gin"}),
        ("vodka", {"vodka"}, {"gin", "amaro"}),
        ("only gin", {"gin", "sloe-gin"}, {"gin-old-tom", "genever"}),
        ("only dry-vermouth", {"dry-vermouth"}, {"extra-dry-vermouth", "fino-sherry"}),
        ("nuts, eggs and milk", {"orgeat", "egg-white", "heavy-cream"}, {"gin"}),
        ("no nuts or eggs", {"orgeat", "egg-white"}, {"heavy-cream"}),
        ("spirit/agave", {"mezcal", "tequila-blanco"}, {"gin"}),
        ("liqueurs", {"amaro", "amaretto"}, {"gin", "dry-vermouth"}),
        ("citrus", {"lemon-juice", "orange-liqueur", "tonic-water", "limoncello"}, {"verjus"}),
        ("apples", {"apple-juice", "dry-cider", "apple-brandy"}, {"cognac"}),
        ("mint", {"creme-de-menthe", "mint-leaves"}, {"basil-leaves"}),
        ("basil", {"basil-leaves"}, {"mint-leaves"}),
        ("passion fruit", {"passion-fruit-juice", "passion-fruit-syrup"}, {"pineapple-juice"}),
        ("juniper", {"gin", "genever", "juniper-berries"}, {"vodka"}),
        ("coriander", {"gin", "coriander-seed"}, {"vodka"}),
        ("corn", {"bourbon", "rye-whiskey"}, {"cognac", "gin"}),
        ("only gin and nuts", {"gin", "orgeat"}, {"gin-old-tom"}),
        ("sugar", {"white-sugar", "simple-syrup", "orgeat"}, {"gin", "honey-syrup"}),
    ],
)  # fmt: skip
def test_a_name_excludes_what_it_is_its_kin_and_what_it_goes_into(
    word: str, without: set[str], still: set[str]
) -> None:
    assert without <= out(word)
    assert still.isdisjoint(out(word))


@pytest.mark.parametrize(
    ("word", "thing"),
    [("no dairy", "dairy"), ("Egg free", "Egg"), ("alcohol-free", "alcohol"), ("nuts", "nuts"),
     ("allergic to nuts", "nuts"), ("no nuts, lactose-free", "nuts, lactose"),
     ("NUT ALLERGY", "NUT"), ("nut allergies", "nut"), ("glutenfree", "gluten"),
     ("raw egg", "raw egg"),
     ("non-dairy and no egg", "dairy, egg")],
)  # fmt: skip
def test_the_thing_is_named_without_what_says_that_it_is_avoided(word: str, thing: str) -> None:
    assert avoid(word).thing == thing


def test_more_than_was_meant_is_said_with_a_way_to_say_less() -> None:
    assert avoid("almonds").says == ("all tree nuts",)
    assert avoid("egg-white").says == ("egg in every form",)
    assert avoid("prawns").says == ("crustaceans",)
    assert avoid("nuts").says == ()
    vermouth = avoid("dry-vermouth")
    assert vermouth.says == ("whatever holds sulphites",)
    assert [item.key for item in vermouth.called] == ["extra-dry-vermouth"]
    assert vermouth.alone == "dry-vermouth"
    assert avoid("almonds").alone is None, "a guest with an allergy is not asked for less"


@pytest.mark.parametrize(
    ("word", "near"),
    [
        ("almonnds", "almond"), ("peenuts", "peanut"), ("shelfish", "shellfish"),
        ("glutin", "gluten"), ("histamine", None), ("moonshine", None), ("fruit", None),
        ("nightshade", None), ("fresh", None), ("juicy", None), ("ナッツ", None), ("", None),
        ("   ", None), ("no", None),
        ("nuts and moonshine", None), ("smoke", None), ("batch", None), ("-", None),
        ("only moonshine", None),
    ],
)  # fmt: skip
def test_a_word_that_nobody_knows_is_a_mistake_and_never_ignored(
    word: str, near: str | None
) -> None:
    with pytest.raises(BadInput) as caught:
        avoid(word)
    if near is not None:
        assert near in caught.value.near
    assert caught.value.sentence().isprintable()


@pytest.mark.parametrize(
    ("word", "option"),
    [
        ("diabetic", "--sugar"), ("too sweet", "--drier"), ("less sugar", "--sugar"),
        ("half the alcohol", "--lighter"), ("nothing too strong", "--standard-drinks"),
        ("too expensive", "--cost"),
    ],
)  # fmt: skip
def test_what_a_guest_wants_less_of_is_sent_to_the_option_that_measures_it(
    word: str, option: str
) -> None:
    with pytest.raises(BadInput) as caught:
        avoid(word)
    assert option in caught.value.remedy


@example("from batch")
@given(st.text(max_size=30))
def test_any_text_excludes_something_or_is_a_mistake(text: str) -> None:
    try:
        found = avoid(text)
    except BadInput:
        return
    assert found.keys or found.allergens or found.animal or found.declare or found.alcohol


@given(st.sampled_from(sorted(meanings())), st.sampled_from(FORMS))
def test_every_word_of_the_table_is_understood_in_every_form(
    said: tuple[str, ...], form: str
) -> None:
    found = avoid(form.format(" ".join(said)))
    for meaning in meanings()[said]:
        assert meaning.allergens <= found.allergens
        assert meaning.animal <= found.animal
        assert meaning.declare <= found.declare
        assert found.alcohol or not meaning.alcohol


@given(st.sampled_from([item.key for item in load_bar(None).library]))
def test_every_ingredient_excludes_itself_by_every_name(key: str) -> None:
    item = library().library.find(key)
    for name in (item.key, item.name, *item.aliases):
        for said in (name, name.upper(), f"no {name}"):
            assert avoid(said).against(told()[key]) is not None, said
    assert holds(f"only {key}", key)


def test_every_kind_excludes_what_is_of_it() -> None:
    for item in library().library:
        family = item.kind.partition("/")[0]
        assert holds(item.kind, item.key)
        assert holds(family, item.key)


def test_every_allergen_origin_and_declaration_has_a_word() -> None:
    entries = guest_words().values()
    assert set(ALLERGENS) == {a for entry in entries for a in entry.allergens}
    assert set(ANIMAL_ORIGINS) == {a for entry in entries for a in entry.animal}
    assert set(DECLARATIONS) == {d for entry in entries for d in entry.declare}
    for allergen in ALLERGENS:
        assert allergen in guest_words()


@pytest.mark.parametrize(
    ("plural", "one"),
    [
        ("almonds", "almond"), ("anchovies", "anchovy"), ("radishes", "radish"),
        ("peaches", "peach"), ("boxes", "box"), ("tomatoes", "tomato"), ("leaves", "leaf"),
        ("cookies", "cookie"), ("octopus", "octopus"), ("molasses", "molasses"), ("peas", "pea"),
        ("bitters", "bitters"), ("glasses", "glass"), ("whiskies", "whiskey"),
    ],
)  # fmt: skip
def test_a_plural_is_its_singular(plural: str, one: str) -> None:
    assert singular(plural) == singular(one) == one


@given(st.text(max_size=30))
def test_words_in_one_form_stay_as_they_are(text: str) -> None:
    said = words(text)
    assert next(barer(said)) == said
    for less in barer(said):
        assert within(less, said) or not said
    assert words(text.upper().lower()) == words(text.lower().upper())
