"""Recipe files: what is read, what rides along, and one sentence with its line for each mistake."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from solver.errors import BadInput, BadInputs
from solver.pantry.avoidance import Against
from solver.pantry.load_bar import load_bar
from solver.requests.read_request import read_wanted
from tests.prep.bars import bar_with, cook, recipe

EQUAL = 'white-sugar = "1 kg"\nwater = "1 kg"'
STRAIN = 'do = "strain"; through = "cloth"'


def line_of(text: str, part: str) -> int:
    return next(n for n, line in enumerate(text.splitlines(), 1) if part in line)


@pytest.mark.parametrize(
    ("house", "at", "said"),
    [
        (recipe('water = "1 kg"'), 'kind = "', "hardly any sugar"),
        (recipe(EQUAL, measured='weight = "2300 g"'), "weight =", "2300 g came out and 2000 g"),
        (
            recipe(EQUAL, 'do = "simmer"; lost = "-20 g"'),
            "[[syrup.recipe.steps]]",
            "below zero",
        ),
        (recipe(EQUAL, 'do = "simmer"; lost = "1200 g"'), "lost =", "1200 g steamed off"),
        (recipe(EQUAL, f'{STRAIN}; left = "3 kg"'), "left =", "3000 g stayed in the strainer"),
        (
            recipe(EQUAL, measured='weight = "1700 g"\nbrix = "70 Brix"'),
            "brix =",
            "1700 g at 70.0 Brix hold 1190 g of sugar",
        ),
        (recipe(EQUAL, measured='brix = "40 Brix"'), "brix =", "contradicts the rest"),
        (recipe(EQUAL, measured='brix = "50 Brix"\nbrix_at = "70 C"'), "brix_at", "cannot be cor"),
        (
            recipe(EQUAL, measured='volume = "1 L"\nvolume_at = "150 C"'),
            "volume_at",
            "150 °C cannot be corrected",
        ),
        (recipe(EQUAL, measured='volume_at = "20 C"'), "volume_at", "temperature of no reading"),
        (recipe(EQUAL, measured='weight = "2000 ml"'), "weight =", "measures volume"),
        (recipe(EQUAL, measured='weight = "0 g"'), "weight =", "nothing came out"),
        (recipe(EQUAL, 'do = "simmer"'), 'do = "simmer"', "how long it simmers"),
        (recipe(EQUAL, 'do = "smoke"'), 'do = "smoke"', "not a step"),
        (recipe(EQUAL, 'do = "strain"'), 'do = "strain"', "needs 'through'"),
        (recipe(EQUAL, 'do = "cool"; lost = "3 g"'), "lost =", "has no 'lost'"),
        (recipe('sugr = "1 kg"'), "sugr =", "not an ingredient known here"),
        (recipe('white-sugar = "1 kg"\nwater = "some"'), "water =", "does not begin with a number"),
        (recipe('white-sugar = "0 g"'), "white-sugar =", "no granulated sugar goes in"),
        (recipe(f'{EQUAL}\nelderflowers = "1 tsp"'), "elderflowers =", "nobody has said how heavy"),
        (
            recipe(f'{EQUAL}\nvodka = "50 ml"', 'do = "simmer"; time = "5 min"'),
            "[[syrup.recipe.steps]]",
            "alcohol in the pan",
        ),
        (
            recipe(f'{EQUAL}\nvodka = "50 ml"', measured='brix = "50 Brix"'),
            "brix =",
            "alcohol bends the light",
        ),
        (recipe('syrup = "100 g"'), "syrup =", "syrup goes into itself"),
    ],
)
def test_a_recipe_that_cannot_be_gets_one_sentence_with_its_line(
    tmp_path: Path, house: str, at: str, said: str
) -> None:
    with pytest.raises((BadInput, BadInputs)) as caught:
        cook(tmp_path, house)
    error = caught.value
    one = error.errors[0] if isinstance(error, BadInputs) else error
    assert isinstance(one, BadInput)
    assert said in one.sentence()
    assert one.where is not None
    assert one.where.line == line_of(house, at)


@pytest.mark.parametrize(
    ("inputs", "weight"),
    [(EQUAL, 1960.0), (EQUAL, 1999.0), ('white-sugar = "60 g"\nwater = "60 g"', 111.0)],
)
def test_what_stays_on_the_bowl_is_no_contradiction(
    tmp_path: Path, inputs: str, weight: float
) -> None:
    whole = cook(tmp_path, recipe(inputs))
    found = cook(tmp_path, recipe(inputs, measured=f'weight = "{weight} g"'))
    assert found.figures.mass_g.value == pytest.approx(weight, abs=1)
    share = weight / whole.figures.mass_g.value  # the same syrup, and less of it
    assert found.figures.volume_ml.value == pytest.approx(
        share * whole.figures.volume_ml.value, rel=1e-3
    )
    assert found.figures.brix.value == pytest.approx(whole.figures.brix.value, abs=0.05)
    assert not found.losses


@pytest.mark.parametrize("weight", ["1900 g", "1500 g"])
def test_more_than_stays_on_a_bowl_is_one(tmp_path: Path, weight: str) -> None:
    with pytest.raises(BadInput, match="contradicts the rest"):
        cook(tmp_path, recipe(EQUAL, measured=f'weight = "{weight}"'))


def test_a_contradiction_says_what_the_rest_makes_of_it(tmp_path: Path) -> None:
    house = recipe(EQUAL, measured='weight = "2000 g"\nvolume = "1626 ml"\nbrix = "52 Brix"')
    with pytest.raises(BadInput, match=r"from everything else it would be 50\.0 Brix"):
        cook(tmp_path, house)


def test_two_recipes_that_wait_for_each_other_are_a_mistake(tmp_path: Path) -> None:
    house = recipe('cordial = "1 kg"') + recipe('syrup = "1 kg"', key="cordial")
    with pytest.raises(BadInput, match="syrup into cordial into syrup"):
        bar_with(tmp_path, house)


def test_what_rides_along_comes_through_every_level(tmp_path: Path) -> None:
    house = recipe(
        'nutty = "300 g"\nheavy-cream = "100 ml"', key="dessert", kind="dairy/cream"
    ) + recipe(f'{EQUAL}\nalmonds = "100 g"\ncassia = "5 g"', STRAIN, key="nutty")
    found = cook(tmp_path, house, "dessert").told
    assert found.allergens == frozenset({"nuts", "milk"})
    assert found.animal == frozenset({"milk"})
    assert any("coumarin" in caution for caution in found.kitchen_cautions)
    assert not any("coumarin" in caution for caution in found.cautions)


def test_an_allergen_that_was_not_written_down_still_keeps_a_guest_from_it(tmp_path: Path) -> None:
    stated = (
        'abv = { pct = 0, basis = "definition", source = "none" }\n'
        'sugar = { g_100ml = 60, basis = "estimate", source = "guess" }\n'
        'acid = { g_100ml = 0, basis = "estimate", source = "guess" }\n'
        "allergens = []\nanimal = []\n"
    )
    bar = bar_with(tmp_path, recipe(f'{EQUAL}\nalmonds = "100 g"', STRAIN, more=stated))
    stocked = bar.stocked("syrup")
    assert stocked is not None
    told = bar.told_of(stocked.ingredient)
    assert told.allergens == frozenset({"nuts"})
    assert bar.avoidable.word("nuts").against(told) is Against.HOLDS


def test_unknown_allergens_stay_unknown(tmp_path: Path) -> None:
    unknown = (
        '[mystery]\nname = "mystery"\nkind = "juice/fruit"\n'
        'abv = { pct = 0, basis = "definition", source = "none" }\n'
        'sugar = { g_100ml = 10, basis = "estimate", source = "guess" }\n'
        'acid = { g_100ml = 0, basis = "estimate", source = "guess" }\n\n'
    )
    house = unknown + recipe(f'{EQUAL}\nmystery = "100 ml"\nalmonds = "100 g"')
    found = cook(tmp_path, house)
    assert found.told.allergens_not_known == ("mystery",)
    assert found.told.allergens == frozenset({"nuts"})
    bar = load_bar(tmp_path)
    assert bar.avoidable.word("milk").against(found.told) is Against.NOT_KNOWN


def test_a_recipe_that_was_never_bottled_is_not_on_the_shelf(tmp_path: Path) -> None:
    bar = bar_with(tmp_path, recipe(EQUAL))
    assert "syrup" in bar.recipes
    assert bar.stocked("syrup") is None


def test_a_key_means_itself_whatever_else_calls_itself_so(tmp_path: Path) -> None:
    house = recipe(f'rhubarb = "500 g"\n{EQUAL}', STRAIN, more='aliases = ["rhubarb"]\n')
    assert cook(tmp_path, house).puts[0].name == "rhubarb stalks"


def test_cost_is_that_of_what_went_in_over_what_came_out(tmp_path: Path) -> None:
    house = recipe(EQUAL, 'do = "simmer"; time = "30 min"; lost = "333 g"')
    shelf = "white-sugar,1000 g,1.50,2 bottles,,,\n"
    found = cook(tmp_path, house, shelf=shelf)
    assert found.cost == pytest.approx(1.50)
    assert cook(tmp_path, house).unpriced == ("granulated sugar",)


def test_accuracies_can_be_stated_and_count(tmp_path: Path) -> None:
    steam = 'do = "simmer"; time = "30 min"'
    house = recipe(EQUAL, steam, 'weight = "1667 g"')
    coarse = house + '\n[syrup.recipe.accuracy]\nweight = "50 g"\n'
    fine, rough = cook(tmp_path, house).figures, cook(tmp_path, coarse).figures
    assert rough.brix.sd > 10 * fine.brix.sd


def test_a_reading_of_a_warm_syrup_is_put_right(tmp_path: Path) -> None:
    steam = 'do = "simmer"; time = "30 min"'
    cold = recipe(EQUAL, steam, 'brix = "59.5 Brix"')
    warm = recipe(EQUAL, steam, 'brix = "58.75 Brix"\nbrix_at = "30 C"')
    # ICUMSA's correction is some 0.8 Brix at 30 °C, from memory; we use 0.75
    assert cook(tmp_path, warm).figures.brix.value == pytest.approx(
        cook(tmp_path, cold).figures.brix.value, abs=0.05
    )


def test_a_volume_measured_hot_is_that_of_the_cold_syrup(tmp_path: Path) -> None:
    steam = 'do = "simmer"; time = "30 min"'
    cold = cook(tmp_path, recipe(EQUAL, steam, 'volume = "1400 ml"')).figures
    # a 60 Brix syrup is 1.0173 times as large at 60 °C: ICUMSA polynomial, worked by hand
    hot = recipe(EQUAL, steam, 'volume = "1424 ml"\nvolume_at = "60 C"')
    assert cook(tmp_path, hot).figures.brix.value == pytest.approx(cold.brix.value, abs=0.1)


def test_what_was_only_cooked_is_not_poured_and_the_reason_is_said(tmp_path: Path) -> None:
    bar = bar_with(tmp_path, recipe(EQUAL))
    with pytest.raises(BadInput, match="equipour prep syrup --stock"):
        read_wanted("the syrup=1/2 oz", bar)


def test_the_walk_through_shows_recipes_as_they_are() -> None:
    demo = Path(__file__).parents[2] / "demo"
    shown = re.findall(
        r"^```toml\n(.*?)^```$",
        (demo / "walk-through.md").read_text(encoding="utf-8"),
        flags=re.MULTILINE | re.DOTALL,
    )
    written = [path.read_text(encoding="utf-8") for path in sorted((demo / "house").iterdir())]
    assert shown
    for part in shown:
        assert any(part in text for text in written)


@pytest.mark.parametrize("called", ["nut-paste", "the nut-paste", "Walnut Cream"])
def test_a_recipe_goes_into_another_by_each_of_its_names(tmp_path: Path, called: str) -> None:
    """And so do its nuts."""
    paste = recipe(
        f'almonds = "200 g"\n{EQUAL}', key="nut-paste", kind="syrup/nut",
        more='aliases = ["walnut cream"]\n',
    )  # fmt: skip
    mixed = recipe(f'"{called}" = "100 g"\nwhite-sugar = "500 g"\nwater = "500 g"')
    bar = bar_with(tmp_path, f"{paste}\n{mixed}")
    assert bar.inputs["syrup"][0] == "nut-paste"
    assert cook(tmp_path, f"{paste}\n{mixed}").ingredient.allergens == frozenset({"nuts"})
