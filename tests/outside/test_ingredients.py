"""The built-in ingredients against what others have published.

Sources stand at the head of each table in tests/outside/data and are named at each check.
"""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from tests.ingredient_tables import ingredient_tables, number, published, span

LIBRARY = ingredient_tables()
USDA = published("usda_composition.csv")
MALIC, TARTARIC, LACTIC, ACETIC, PHOSPHORIC = 0.955, 0.853, 0.711, 1.066, 1.307
"""Grams of anhydrous citric acid that one gram counts as: AOAC 942.15 factors, 64.04 over the
equivalent mass; phosphoric with two protons to pH 8.1."""

SUGAR_EXCEPTIONS = {
    ("cranberry-juice", "SR Legacy"): "12.1 g of sugars cannot dissolve to 7.5-10.5 Brix with acid",
    ("cranberry-juice", "FNDDS"): "the other entry says 12.1: ours is single strength less acid",
    ("passion-fruit-juice", "SR Legacy"): "its carbohydrate of 13.6 has to hold 3 g of acid too",
    ("strawberry-puree", "FNDDS"): "a survey estimate of juice; ours is a puree of whole fruit",
    ("rose-wine", "SR Legacy"): "USDA's is off-dry, ours is dry",
    ("ruby-port", "SR Legacy"): "USDA's is any sweet dessert wine",
    ("sake", "SR Legacy"): "USDA's is 20 % vol and lists no sugars of its 5 g of carbohydrate",
    ("dry-cider", "FNDDS"): "USDA's is sweet, ours is dry",
    ("cream-liqueur", "FNDDS"): "a survey recipe with 2.7 g of fat: not the bottled class",
}


def usda_sugar_g_100ml(row: dict[str, str]) -> float:
    """Sugars of a USDA row, per 100 mL, or per 100 g for what is weighed."""
    sugars = float(row["sugars_g_100g"])
    return sugars if row["density_from"] == "by weight" else sugars * float(row["density_g_ml"])


def apart(value: float, other: float) -> bool:
    """More than 15 % and more than 0.3 g apart."""
    return abs(value - other) > max(0.15 * other, 0.3)


@pytest.mark.parametrize("row", USDA, ids=lambda row: row["usda_description"])
def test_sugar_is_within_15_percent_of_usda_or_the_exception_is_named(row: dict[str, str]) -> None:
    # USDA FoodData Central, SR Legacy and FNDDS
    ours = number(LIBRARY[row["ingredient"]], "sugar")
    named = (row["ingredient"], row["data_type"]) in SUGAR_EXCEPTIONS
    assert apart(ours, usda_sugar_g_100ml(row)) == named


def test_every_named_exception_has_its_row() -> None:
    rows = {(row["ingredient"], row["data_type"]) for row in USDA}
    assert set(SUGAR_EXCEPTIONS) <= rows


@pytest.mark.parametrize(
    "key",
    [
        "heavy-cream", "half-and-half", "whole-milk", "condensed-milk", "egg-white", "whole-egg",
        "egg-yolk", "cream-of-coconut", "coconut-milk",
    ],
)  # fmt: skip
def test_fat_and_protein_are_usdas(key: str) -> None:
    # USDA FoodData Central: fat, protein and carbohydrate other than sugars, per 100 g
    row = next(row for row in USDA if row["ingredient"] == key)
    dry = float(row["fat_g_100g"]) + float(row["protein_g_100g"])
    rest = max(float(row["carbohydrate_g_100g"]) - float(row["sugars_g_100g"]), 0)
    ours = number(LIBRARY[key], "other") / number(LIBRARY[key], "density")
    assert dry - 0.1 <= ours <= dry + rest + 0.1


def test_measured_densities_are_usdas_portion_weights() -> None:
    # USDA portion weights; cream of coconut's tablespoon is weighed to the gram: too coarse
    compared = 0
    for row in USDA:
        table = LIBRARY[row["ingredient"]]
        if (
            row["density_from"] == "portion"
            and table.get("density", {}).get("basis") == "published"
        ):
            assert number(table, "density") == pytest.approx(float(row["density_g_ml"]), rel=0.001)
            compared += 1
    assert compared >= 15


def acid_parts(key: str) -> Iterator[tuple[str, float]]:
    """Grams per 100 mL of each acid of an ingredient, as itself."""
    counts = {"citric": 1.0, "malic": MALIC, "tartaric": TARTARIC, "lactic": LACTIC}
    counts |= {"acetic": ACETIC, "phosphoric": PHOSPHORIC}
    for acid, share in LIBRARY[key].get("acids", {}).items():
        yield acid, number(LIBRARY[key], "acid") * share / counts[acid]


@pytest.mark.parametrize(
    "key",
    ["lemon-juice", "lime-juice", "bottled-lemon-juice", "bottled-lime-juice", "orange-juice",
     "grapefruit-juice", "tangerine-juice"],
)  # fmt: skip
def test_citric_acid_is_within_the_published_spread(key: str) -> None:
    # Penniston et al. 2008; Karadeniz 2004
    rows = [
        r for r in published("juice_acids.csv") if (r["ingredient"], r["acid"]) == (key, "citric")
    ]
    low, high = min(float(r["low"]) for r in rows), max(float(r["high"]) for r in rows)
    citric = dict(acid_parts(key))["citric"]
    assert low * 0.99 <= citric <= high * 1.01


@pytest.mark.parametrize("key", ["apple-juice", "orange-juice"])
def test_titrated_juices_are_within_our_range(key: str) -> None:
    # University of Waterloo, Chem13 News, October 2013
    rows = [r for r in published("juice_acids.csv") if r["acid"].startswith("titratable")]
    low, high = span(LIBRARY[key], "acid")
    seen = [r for r in rows if r["ingredient"] == key]
    assert seen
    for row in seen:
        value = float(row["value_g_100ml"]) * (MALIC if row["acid"].endswith("malic") else 1)
        assert low - 0.005 <= value <= high


@pytest.mark.parametrize("key", ["lemon-juice", "lime-juice"])
def test_fresh_sours_reach_the_acid_that_single_strength_juice_must_have(key: str) -> None:
    # 21 CFR 101.30(h)(1): 4.5 % by weight as anhydrous citric acid
    assert number(LIBRARY[key], "acid") / number(LIBRARY[key], "density") >= 4.5


@pytest.mark.parametrize("row", published("juice_brix.csv"), ids=lambda row: row["ingredient"])
def test_sugar_and_acid_are_not_more_than_everything_dissolved(row: dict[str, str]) -> None:
    # 21 CFR 101.30(h)(1) and 19 CFR 151.91; density of the sugar solution, 1 + 0.0039 per Brix
    brix = float(row["brix"])
    dissolved = brix * (1 + 0.0039 * brix)
    table = LIBRARY[row["ingredient"]]
    assert number(table, "sugar") + number(table, "acid") <= 1.15 * dissolved


RAW_JUICES = {
    "raspberries": 9.2, "strawberries": 8, "blackberries": 10, "pineapple-flesh": 12.8,
    "apples": 11.5, "peaches": 10.5, "pears": 12, "mango-flesh": 13, "sour-cherries": 14,
}  # fmt: skip
"""Brix of the single-strength juice of fruit: 21 CFR 101.30(h)(1)."""


@pytest.mark.parametrize("key", RAW_JUICES)
def test_raw_fruit_has_the_juice_that_the_law_calls_single_strength(key: str) -> None:
    table = LIBRARY[key]
    juice = 100 - number(table, "insoluble")
    dissolved = juice - number(table, "moisture")
    assert 100 * dissolved / juice == pytest.approx(RAW_JUICES[key], rel=0.25)


LAW_EXCEPTIONS = {
    ("light-orange-bitter", "abv"): "sold below 15 % vol as an aperitif, not as a spirit drink",
    ("falernum", "abv"): "a style word: from without alcohol to 18 % vol",
    ("fernet", "sugar"): "a bitter spirit drink, for which the law asks no sugar",
    ("non-alcoholic-bitter-aperitif", "abv"): "stands in for a liqueur and is none",
}


def lawful(value: float, bound: str, limit: float) -> bool:
    """Whether a value keeps a floor, a ceiling, or stays below a limit."""
    if bound == "min":
        return value >= limit
    return value <= limit if bound == "max" else value < limit


def legal_checks() -> list[tuple[str, dict[str, str]]]:
    """Every ingredient with every rule that its key or kind falls under, the narrowest only."""
    rules = published("legal_floors.csv")
    checks = []
    for key, table in LIBRARY.items():
        own = {(r["quantity"], r["bound"]) for r in rules if r["applies_to"] == key}
        for rule in rules:
            by_kind = table["kind"].startswith(rule["applies_to"])
            if rule["applies_to"] == key or (
                by_kind and (rule["quantity"], rule["bound"]) not in own
            ):
                checks.append((key, rule))
    return checks


def test_strengths_and_sugars_keep_european_law_or_the_exception_is_named() -> None:
    # Regulations (EU) 2019/787, (EC) 110/2008, (EU) 251/2014 as tests/outside/data says
    broken = set()
    for key, rule in legal_checks():
        scale = 10 if rule["quantity"] == "sugar" else 1
        value = scale * number(LIBRARY[key], rule["quantity"])
        if not lawful(value, rule["bound"], float(rule["value"])):
            broken.add((key, rule["quantity"]))
    assert broken == set(LAW_EXCEPTIONS)


def test_every_spirit_with_alcohol_has_at_least_37_5_percent() -> None:
    # Regulation (EU) 2019/787, Annex I: the floor of vodka, gin, rum and fruit spirits
    weak = {
        key
        for key, table in LIBRARY.items()
        if table["kind"].startswith("spirit/") and number(table, "abv") < 37.5
    }
    assert weak == {"non-alcoholic-spirit"}


BOOK_EXCEPTIONS = {
    ("concord-grape-juice", "sugar"): "the book's is a Brix",
    ("cranberry-juice", "sugar"): "the book's is a Brix",
    ("grapefruit-juice", "sugar"): "the book's is a Brix",
    ("orange-juice", "sugar"): "the book's is a Brix",
    ("green-apple-juice", "sugar"): "the book's is a Brix",
    ("strawberry-puree", "sugar"): "the book's is a Brix",
    ("lemon-juice", "sugar"): "USDA measured more",
    ("lime-juice", "sugar"): "USDA measured a little more",
    ("maple-syrup", "sugar"): "the book's is 66 Brix; USDA's sugars are less",
    ("coconut-water", "sugar"): "USDA measured less",
    ("red-wine", "sugar"): "USDA's table wine, not one grape",
    ("red-wine", "abv"): "a typical label, not one grape",
    ("cranberry-juice", "acid"): "the middle of what is told",
    ("grapefruit-juice", "acid"): "published samples are lower",
    ("orange-juice", "acid"): "published samples are a little higher",
    ("strawberry-puree", "acid"): "the middle of what is told",
    ("lime-acid", "acid"): "the book adds acids as plain mass",
    ("champagne-acid", "acid"): "the book adds acids as plain mass",
    ("espresso", "acid"): "the book counts none",
    ("coconut-water", "acid"): "the book counts none",
}


def test_the_book_table_is_kept_or_the_exception_is_named() -> None:
    # Arnold, Liquid Intelligence (2014), ingredient table, from memory
    columns = {"abv": "abv_pct", "sugar": "sweetness_g_100ml", "acid": "acid_pct"}
    different = {
        (row["ingredient"], figure)
        for row in published("book_ingredient_table.csv")
        for figure, column in columns.items()
        if number(LIBRARY[row["ingredient"]], figure) != float(row[column])
    }
    assert different == set(BOOK_EXCEPTIONS)


@pytest.mark.parametrize(
    ("key", "sugar_g_100ml"),
    [("simple-syrup", 61.48), ("rich-syrup", 88.45), ("demerara-syrup", 88.45),
     ("simple-syrup-by-cup", 55.36), ("rich-syrup-by-cup", 81.98), ("cinnamon-syrup", 61.48)],
)  # fmt: skip
def test_plain_syrups_follow_from_their_recipe(key: str, sugar_g_100ml: float) -> None:
    # ICUMSA sucrose formula (Sugar Technologists Manual, 1995) at 50, 66.67, 45.86 and 62.88 Brix
    assert number(LIBRARY[key], "sugar") == pytest.approx(sugar_g_100ml, abs=0.3)


@pytest.mark.parametrize(
    ("key", "citric_equivalent"),
    [("citric-acid-solution", 10), ("malic-acid-solution", 10 * MALIC),
     ("lime-acid", 4 + 2 * MALIC), ("champagne-acid", 3 * TARTARIC + 3 * LACTIC),
     ("cider-vinegar", 5 * ACETIC), ("red-wine-vinegar", 6 * ACETIC),
     ("phosphoric-acid-solution", 1.25 * PHOSPHORIC), ("citric-acid", 100),
     ("citric-acid-monohydrate", 100 / 1.094), ("malic-acid", 100 * MALIC),
     ("tartaric-acid", 100 * TARTARIC)],
)  # fmt: skip
def test_acids_count_as_citric_by_the_published_factors(key: str, citric_equivalent: float) -> None:
    # AOAC 942.15; the monohydrate's 1.094 from the juice trade's conversion table
    assert number(LIBRARY[key], "acid") == pytest.approx(citric_equivalent, rel=0.003)


def test_every_reference_name_and_every_published_recipe_finds_its_ingredient() -> None:
    rows = published("ingredient_keys.csv")
    assert len(rows) == 160
    assert {row["ingredient"] for row in rows} <= set(LIBRARY)
    assert sum(int(row["association_lines"]) for row in rows) == 185
