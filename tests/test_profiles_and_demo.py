from __future__ import annotations

import datetime
import re
import tomllib
from pathlib import Path

import pytest

from solver.measures import MEASURES
from solver.pantry.avoidance import Against
from solver.pantry.library import load_library
from solver.pantry.load_bar import load_bar
from solver.pantry.own_figures import with_own_figures
from solver.pantry.profile_files import find_profile, load_profiles, profile_files
from solver.quantities import Measures, parse, parse_pour, parse_pour_span, parse_span
from tests.each import each
from tests.profile_tables import (
    DEMO,
    ROOT,
    Poured,
    accepts,
    broken,
    demo_pantry,
    finished,
    limits,
    own_tables,
    profile_tables,
    recipe_rows,
    table_rows,
)

BUILT_IN = sorted(own_tables(ROOT / "profiles"))
HOUSE = sorted((DEMO / "house").glob("*.toml"))
SPECS = sorted((DEMO / "specs").glob("*.toml"))
SHELF = table_rows(DEMO / "shelf.csv")
DATA = Path(__file__).parent / "outside" / "data"


def pours(*lines: str) -> list[Poured]:
    """Pours written as "base: 2 oz rye-whiskey"."""
    found = []
    for line in lines:
        part, amount, ingredient = re.fullmatch(r"(\S+): (.+) (\S+)", line).groups()  # type: ignore[union-attr]
        found.append(Poured(part, ingredient, amount))
    return found


DISSOLVED_FIRST = {"sour-sugar", "old-fashioned-up"}
"""Styles whose dry sugar is stirred into the juice or the bitters before the ice goes in."""
BITTERS = "bitter: 2 dashes aromatic-bitters"
SOUR = ("sour: 3/4 oz lemon-juice", "sweet: 3/4 oz simple-syrup")
COFFEE = ("sweet: 3/4 oz simple-syrup", "lengthener: 4 oz brewed-coffee")
TRADE = [
    # Common practice, no source: what any bar would call a normal drink of the style.
    ("sour", pours("base: 2 oz rye-whiskey", *SOUR)),  # 50 % vol
    ("sour", pours("base: 2 oz bourbon", *SOUR)),  # 45 % vol
    ("sour", pours("base: 2 oz white-rum", *SOUR)),
    ("sour-acid", pours("base: 2 oz gin", "sour: 3/4 oz lime-acid", "sweet: 3/4 oz simple-syrup")),
    ("sour-foam", pours("base: 1 1/2 oz bourbon", *SOUR, "foam: 3/4 oz aquafaba")),
    ("daisy", pours("base: 1 1/2 oz cognac", "modifier: 3/4 oz orange-liqueur", SOUR[0])),
    *(
        (
            "old-fashioned",
            pours(f"base: 2 oz {base}", f"sweet: 1/4 oz {syrup}", BITTERS),
        )
        for base in ("cognac", "bourbon", "rye-whiskey")  # 40, 45 and 50 % vol
        for syrup in ("simple-syrup", "rich-syrup")
    ),
    *(
        ("hot-coffee", pours(f"base: 1 1/2 oz {base}", *COFFEE, f"cream: {float_} oz heavy-cream"))
        for base in ("irish-whiskey", "rye-whiskey")
        for float_ in ("1/2", "1")
    ),
    ("stirred", pours("base: 2 oz rye-whiskey", "modifier: 1 oz sweet-vermouth",
                      BITTERS)),
    ("stirred", pours("base: 1 1/2 oz bourbon", "modifier: 1 oz sweet-vermouth",
                      "modifier: 1 oz red-bitter")),
    ("stirred-dry", pours("base: 2 1/2 oz gin", "modifier: 1/2 oz dry-vermouth")),
    ("stirred-dry", pours("base: 2 oz gin", "modifier: 1 oz dry-vermouth")),
    ("stirred-low", pours("base: 1 1/2 oz fino-sherry", "modifier: 1 1/2 oz sweet-vermouth")),
    ("equal-parts", pours("base: 1 oz gin", "bitter: 1 oz red-bitter",
                          "modifier: 1 oz sweet-vermouth")),
    ("collins", pours("base: 2 oz gin", *SOUR, "lengthener: 3 oz soda-water")),
    ("fizz", pours("base: 2 oz gin", *SOUR, "foam: 3/4 oz egg-white",
                   "lengthener: 1 oz soda-water")),
    ("highball", pours("base: 1 1/2 oz japanese-whisky", "lengthener: 4 oz soda-water")),
    ("highball", pours("base: 2 oz gin", "lengthener: 4 oz tonic-water")),
    ("rickey", pours("base: 2 oz gin", "sour: 3/4 oz lime-juice", "lengthener: 4 oz soda-water")),
    ("buck", pours("base: 2 oz gin", "sour: 1/2 oz lime-juice", "lengthener: 4 oz ginger-ale")),
    ("spritz", pours("base: 2 oz blanc-vermouth", "sparkling: 3 oz sparkling-wine",
                     "lengthener: 1 oz soda-water")),
    ("aperitif-low", pours("base: 1 oz sweet-vermouth", "modifier: 1 oz red-bitter",
                           "lengthener: 3 oz soda-water")),
    ("stirred-long", pours("base: 1 oz gin", "modifier: 1 oz red-bitter",
                           "modifier: 1 oz sweet-vermouth", "lengthener: 3 oz soda-water")),
    ("stirred-long", pours("base: 2 oz rye-whiskey", "modifier: 1 oz sweet-vermouth",
                           "bitter: 2 dashes aromatic-bitters", "lengthener: 4 oz soda-water")),
    ("old-fashioned-long", pours("base: 2 oz bourbon", "sweet: 1/4 oz simple-syrup",
                                 "bitter: 2 dashes aromatic-bitters",
                                 "lengthener: 3 oz soda-water")),
    ("daisy-long", pours("base: 1 1/2 oz tequila-blanco", "modifier: 3/4 oz orange-liqueur",
                         "sour: 3/4 oz lime-juice", "lengthener: 3 oz soda-water")),
    ("toddy", pours("base: 1 1/2 oz bourbon", "sweet: 1/2 oz honey", "sour: 1/2 oz lemon-juice",
                    "lengthener: 4 oz water")),
    ("frozen", pours("base: 2 oz white-rum", "sour: 1/2 oz lime-juice",
                     "sweet: 3/4 oz simple-syrup")),
    ("flip", pours("base: 2 oz ruby-port", "sweet: 1/4 oz simple-syrup", "egg: 1 piece whole-egg")),
    ("julep", pours("base: 2 oz bourbon", "sweet: 1/2 oz simple-syrup")),
    ("muddled", pours("base: 2 oz cachaca", "sour: 1 oz lime-juice", "sugar: 12 g white-sugar")),
    ("muddled", pours("base: 2 oz gin", "sour: 3/4 oz lemon-juice", "sweet: 1/2 oz simple-syrup",
                      "modifier: 1/2 oz creme-de-mure")),
    ("muddled-long", pours("base: 2 oz white-rum", "sour: 3/4 oz lime-juice",
                           "sugar: 8 g white-sugar", "lengthener: 2 oz soda-water")),
    ("juice-shaken", pours("base: 1 1/2 oz vodka", "modifier: 1/2 oz orange-liqueur",
                           "sour: 1/2 oz lime-juice", "juice: 1 oz cranberry-cocktail")),
    ("juice-shaken", pours("base: 1 1/2 oz vodka", "modifier: 1/2 oz raspberry-liqueur",
                           "juice: 1/2 oz pineapple-juice")),
    ("sour-float", pours("base: 2 oz rye-whiskey", *SOUR, "float: 1/2 oz red-wine")),
    ("sour-float", pours("base: 2 oz bourbon", *SOUR, "foam: 1 oz egg-white",
                         "float: 1/2 oz red-wine")),
    ("long-juice", pours("base: 1 1/2 oz vodka", "juice: 4 oz orange-juice")),
    ("long-juice", pours("base: 1 1/2 oz vodka", "juice: 3 oz cranberry-cocktail",
                         "juice: 1 oz grapefruit-juice")),
    ("long-juice", pours("base: 1 1/2 oz tequila-blanco", "juice: 3 oz orange-juice",
                         "sweet: 1/2 oz grenadine")),
    ("sling", pours("base: 1 1/2 oz gin", "modifier: 1/2 oz cherry-liqueur",
                    "modifier: 1/4 oz orange-liqueur", "modifier: 1/4 oz honeyed-herbal-liqueur",
                    "sour: 1/2 oz lime-juice", "juice: 3 oz pineapple-juice",
                    "bitter: 1 dash aromatic-bitters")),
    ("wine-cocktail", pours("base: 4 oz white-wine", "modifier: 1/2 oz creme-de-cassis")),
    ("wine-cocktail", pours("base: 4 oz sparkling-wine", "sugar: 1 cube sugar-cube",
                            "bitter: 2 dashes aromatic-bitters", "modifier: 1/2 oz cognac")),
    ("wine-juice", pours("base: 3 oz sparkling-wine", "juice: 1 1/2 oz strawberry-puree")),
    ("punch", pours("base: 2 oz jamaican-rum", "sour: 1/2 oz lime-juice",
                    "sweet: 3/4 oz demerara-syrup", "weak: 1 1/2 oz black-tea")),
    ("equal-parts-built", pours("base: 1 oz gin", "bitter: 1 oz red-bitter",
                                "modifier: 1 oz sweet-vermouth")),
    ("zero-proof-sour", pours("base: 3 oz strong-black-tea", *SOUR)),
    ("zero-proof-long", pours("sour: 1 oz lemon-juice", "sweet: 1 oz simple-syrup",
                              "lengthener: 5 oz soda-water")),
    ("zero-proof-long", pours("base: 2 oz pineapple-juice", "sour: 1/2 oz lime-juice",
                              "sweet: 1/2 oz simple-syrup", "lengthener: 3 oz soda-water")),
    ("zero-proof-long", pours("base: 2 oz black-tea", *SOUR, "lengthener: 2 oz soda-water")),
    ("smash", pours("base: 2 oz bourbon", *SOUR)),
    ("smash", pours("base: 2 oz gin", "sour: 3/4 oz lemon-juice", "sweet: 1/2 oz simple-syrup")),
    ("sour-rocks", pours("base: 2 oz bourbon", *SOUR)),
    ("sour-rocks", pours("base: 2 oz tequila-blanco", "sour: 1 oz lime-juice",
                         "modifier: 1 oz orange-liqueur")),
    ("sour-rocks", pours("base: 1 1/2 oz tequila-blanco", "sour: 3/4 oz lime-juice",
                         "modifier: 3/4 oz orange-liqueur")),
]  # fmt: skip


class TestProfiles:
    def test_there_is_one_for_every_style_of_the_trade(self) -> None:
        styles = """sour sour-foam stirred old-fashioned equal-parts collins highball spritz buck
        toddy hot-coffee frozen flip aperitif-low zero-proof-sour daisy julep rickey royale"""
        assert set(styles.split()) <= set(BUILT_IN)

    @each(BUILT_IN)
    def test_each_is_named_like_its_file_and_says_what_it_is(self, name: str) -> None:
        table = own_tables(ROOT / "profiles")[name]
        assert table["name"] == name
        assert len(table["says"].split()) >= 4

    @each(BUILT_IN)
    def test_each_names_the_source_of_its_own_numbers(self, name: str) -> None:
        source = own_tables(ROOT / "profiles")[name]["source"]
        said = {
            "memory": "from memory",
            "practice": "Common practice, no source",
        }[source["basis"]]
        assert said in source["text"]

    @each(BUILT_IN)
    def test_aims_lie_inside_limits(self, name: str) -> None:
        profile = profile_tables()[name]
        spans = limits(profile)
        for measure, text in profile["aims"].items():
            aim = parse_span(text, MEASURES[measure].quantity)
            low, high = (aim.aim, aim.aim) if aim.aim is not None else (aim.low, aim.high)
            span = spans[measure]
            assert None not in (low, high, span.low, span.high)
            assert (span.low or 0.0) <= (low or 0.0) <= (high or 0.0) <= (span.high or 0.0), measure

    @each(BUILT_IN)
    def test_every_part_can_be_filled_from_the_library(self, name: str) -> None:
        for part in profile_tables()[name]["parts"].values():
            if part["count"][1]:
                assert parse_pour_span(part["each"]).high > 0
                assert any(accepts(part, ingredient) for ingredient in load_library())

    @each(BUILT_IN)
    def test_ingredients_they_name_exist(self, name: str) -> None:
        for part in profile_tables()[name]["parts"].values():
            for key in (*part.get("ingredients", ()), *part.get("not_ingredients", ())):
                assert load_library().find(key).key == key

    @each(BUILT_IN)
    def test_no_jigger_of_bitters_or_anise_spirit(self, name: str) -> None:
        for part in profile_tables()[name]["parts"].values():
            if not part["count"][1]:
                continue
            most_ml = parse_pour_span(part["each"]).high
            for key in ("aromatic-bitters", "absinthe"):
                if accepts(part, load_library().find(key)):
                    assert most_ml <= 4

    @pytest.mark.parametrize(
        "name",
        [
            n
            for n in BUILT_IN
            if profile_tables()[n]["technique"].startswith(("shake", "stir"))
            and n not in DISSOLVED_FIRST
        ],
    )
    def test_cold_shaken_and_stirred_drinks_take_no_dry_sugar_and_no_thick_honey(
        self, name: str
    ) -> None:
        for part in profile_tables()[name]["parts"].values():
            for key in ("white-sugar", "honey", "molasses"):
                assert not accepts(part, load_library().find(key)), key

    def test_only_zero_proof_drinks_keep_to_half_a_per_cent(self) -> None:
        kept = [
            name for name in BUILT_IN if (limits(profile_tables()[name])["abv"].high or 100) <= 0.5
        ]
        assert kept == ["zero-proof-long", "zero-proof-sour"]

    def test_acid_solutions_fill_the_sour_part_only_where_they_are_asked_for(self) -> None:
        solution = load_library().find("lime-acid")
        takes = [
            name
            for name in BUILT_IN
            if any(accepts(part, solution) for part in profile_tables()[name]["parts"].values())
        ]
        assert takes == ["sour-acid"]


class TestReading:
    def test_the_projects_reader_finds_them_all_and_the_bars_own(self) -> None:
        names = [profile.name for profile in load_profiles(DEMO / "profiles")]
        assert sorted(names) == sorted([*BUILT_IN, "bollard-sour"])

    @each([*BUILT_IN, "bollard-sour"])
    def test_it_inherits_as_the_plain_tables_do(self, name: str) -> None:
        read = find_profile(name, profile_files(DEMO / "profiles"))
        table = profile_tables()[name]
        assert {part.name: list(part.count) for part in read.parts} == {
            key: part["count"] for key, part in table["parts"].items()
        }
        assert {target.measure: target.text for target in read.aims} == table["aims"]
        assert {target.measure: target.text for target in read.limits} == table["limits"]
        assert read.source.text == table["source"]["text"]

    @each([*BUILT_IN, "bollard-sour"])
    def test_its_numbers_are_read_in_the_units_of_the_measures(self, name: str) -> None:
        read = find_profile(name, profile_files(DEMO / "profiles"))
        spans = limits(profile_tables()[name])
        targets = read.targets(Measures())
        assert {item.measure: (item.low, item.high) for item in targets.limits} == {
            key: (span.low, span.high) for key, span in spans.items()
        }
        for part in read.parts:
            if part.count[1]:
                pour = read.part_pours(part, Measures())
                assert pour.each.low <= pour.each.high
                assert pour.total is None or pour.total.high >= pour.each.low

    @each(BUILT_IN)
    def test_the_reader_and_the_plain_tables_accept_the_same_ingredients(self, name: str) -> None:
        read = find_profile(name, profile_files())
        for part in read.parts:
            table = profile_tables()[name]["parts"][part.name]
            for ingredient in load_library():
                assert part.accepts(ingredient) == accepts(table, ingredient)


class TestTradeFacts:
    @each(TRADE)
    def test_normal_drinks_of_the_trade_fit_their_profile(
        self, name: str, recipe: list[Poured]
    ) -> None:
        assert broken(profile_tables()[name], recipe) == []

    def test_every_style_has_a_normal_drink_or_an_association_recipe(self) -> None:
        association = {name for _, name in recipe_rows(DATA / "association_specs.csv")}
        assert {name for name, _ in TRADE} | association == set(BUILT_IN)

    def test_a_drink_of_another_style_is_refused(self) -> None:
        sour = pours("base: 2 oz rye-whiskey", *SOUR)
        without_syrup = [pour for pour in sour if pour.part != "sweet"]
        assert "0 of sweet" in broken(profile_tables()["sour"], without_syrup)
        sweet = pours("base: 1 1/4 oz rye-whiskey", SOUR[0], "sweet: 1 1/4 oz rich-syrup")
        assert any(item.startswith("sugar") for item in broken(profile_tables()["sour"], sweet))


class TestDemo:
    measures = Measures(ounce_ml=30, dash_ml=0.9, bar_spoon_ml=5)

    def test_the_bar_loads_with_its_settings(self) -> None:
        bar = load_bar(DEMO)
        assert bar.name == "The Ninth Bollard"
        assert bar.currency == "EUR"
        assert bar.measures.ounce_ml == self.measures.ounce_ml
        assert bar.measures.dash_ml == self.measures.dash_ml
        assert bar.measures.bar_spoon_ml == self.measures.bar_spoon_ml
        assert {path.stem for path in HOUSE} <= {item.ingredient.key for item in bar.stock}

    def test_every_bottle_has_a_price_and_a_stock_and_overrides_count(self) -> None:
        stock = {item.ingredient.key: item for item in load_bar(DEMO).stock}
        assert len(stock) == len(SHELF)
        assert [key for key, item in stock.items() if item.price_per_unit is None] == []
        assert [key for key, item in stock.items() if not item.on_hand] == []
        assert stock["rye-whiskey"].ingredient.abv.value == 45
        assert stock["rhubarb-syrup"].on_hand == pytest.approx(3200)

    def test_its_glasses_are_those_of_profiles_it_can_serve(self) -> None:
        glasses = load_bar(DEMO).glasses
        assert {table["glass"] for table in profile_tables().values()} <= set(glasses)

    def test_the_bar_says_that_it_is_invented(self) -> None:
        for path in (DEMO / "bar.toml", DEMO / "walk-through.md", *HOUSE, *SPECS):
            assert "invented" in path.read_text(encoding="utf-8").lower(), path

    def test_every_price_is_marked_as_invented(self) -> None:
        assert [row["ingredient"] for row in SHELF if "invented price" not in row["note"]] == []

    def test_every_house_figure_is_marked_as_invented(self) -> None:
        for path in HOUSE:
            for key, table in tomllib.loads(path.read_text(encoding="utf-8")).items():
                assert path.stem == key
                assert "invented" in table["note"]
                assert "invented" in table["allergens_source"]
                for figure in ("abv", "sugar", "acid", "other", "life"):
                    found = table.get(figure, {"basis": "definition"})
                    stated = found["basis"] == "definition"
                    assert stated or "invented" in found["source"], (key, figure)

    def test_house_ingredients_say_when_they_were_made_how_long_they_keep_and_whom_they_harm(
        self,
    ) -> None:
        opened = {row["ingredient"]: row["opened"] for row in SHELF}
        for path in HOUSE:
            ingredient = demo_pantry().find(path.stem)
            made = re.search(r"made (\d{4}-\d{2}-\d{2})", ingredient.note)
            assert made is not None
            assert made[1] == opened[ingredient.key]
            assert ingredient.life_days
            assert ingredient.allergens is not None
            assert ingredient.kitchen_cautions

    def test_the_almond_syrup_is_kept_from_a_guest_who_avoids_nuts(self) -> None:
        bar = load_bar(DEMO)
        told = bar.told_of(bar.bottles.find("almond-spice-syrup"))
        assert bar.avoidable.word("nuts").against(told) is Against.HOLDS

    def test_the_shelf_holds_known_bottles_once_each(self) -> None:
        keys = [row["ingredient"] for row in SHELF]
        assert len(set(keys)) == len(keys)
        assert 50 <= len(keys) <= 70
        assert [demo_pantry().find(key).key for key in keys] == keys

    def test_the_shelf_can_be_read(self) -> None:
        for row in SHELF:
            ingredient = demo_pantry().find(row["ingredient"])
            assert parse_pour(row["bottle"]).unit == ingredient.per
            assert parse(row["price"], "money") >= 0
            assert re.fullmatch(r"\d+(\.\d+)? bottles?", row["on_hand"])
            if row["opened"]:
                assert datetime.date.fromisoformat(row["opened"]).year == 2026
            if row["overrides"]:
                figure, text = row["overrides"].split("=")
                quantity = MEASURES[figure].quantity
                assert with_own_figures(ingredient, {figure: parse(text, quantity)})

    @each(SPECS)
    def test_specs_pour_what_the_shelf_has_and_fit_their_profile(self, path: Path) -> None:
        spec = tomllib.loads(path.read_text(encoding="utf-8"))
        recipe = [Poured(p["part"], p["ingredient"], p["amount"]) for p in spec["pours"]]
        assert {pour.ingredient for pour in recipe} <= {row["ingredient"] for row in SHELF}
        assert broken(profile_tables()[spec["profile"]], recipe, self.measures) == []

    def test_specs_are_of_seven_styles_and_fit_their_glass(self) -> None:
        glasses = tomllib.loads((DEMO / "bar.toml").read_text(encoding="utf-8"))["glasses"]
        specs = [tomllib.loads(path.read_text(encoding="utf-8")) for path in SPECS]
        assert len({spec["profile"] for spec in specs}) == len(specs) == 7
        for spec in specs:
            recipe = [Poured(p["part"], p["ingredient"], p["amount"]) for p in spec["pours"]]
            drink = finished(profile_tables()[spec["profile"]], recipe, self.measures)
            most_ml = parse(glasses[spec["glass"]]["wash_line"], "volume")
            assert float(drink.volume_ml) <= most_ml, spec["name"]

    def test_the_bars_own_profile_inherits_a_built_in_one(self) -> None:
        own = own_tables(DEMO / "profiles")
        assert [table["inherits"] for table in own.values()] == ["sour"]
        assert "Invented" in own["bollard-sour"]["source"]["text"]

    def test_the_impossible_request_of_the_walk_through_is_impossible_by_its_syrup_alone(
        self,
    ) -> None:
        syrup = demo_pantry().find("rhubarb-syrup")
        sugar_g = 30 * syrup.sugar.value / 100
        most_ml = limits(profile_tables()["sour"])["volume"].high
        assert most_ml is not None
        assert 100 * sugar_g / most_ml > 5
