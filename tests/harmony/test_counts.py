"""The shipped counts hold together, and cover the library."""

from __future__ import annotations

import csv
import tomllib
from pathlib import Path

import pytest

from solver.harmony.counted import load_counts
from solver.harmony.counts import Counts, pair
from solver.harmony.flavours import flavours_of
from solver.harmony.taste import BarTaste
from solver.pantry.library import load_library
from solver.pantry.vocabulary import CHARACTERS, KIND_FAMILIES, KINDS
from tests.profile_tables import ROOT, table_rows

FOLDER = ROOT / "ingredients" / "counted"
CORPORA = ("association", "book_1917", "handbook")
COUNTS = load_counts()
LIBRARY = load_library()


def rows(name: str) -> list[dict[str, str]]:
    """Read a second time, by the csv module."""
    return table_rows(FOLDER / f"{name}.csv")


def test_every_library_ingredient_is_counted_or_it_is_said_why_not() -> None:
    found = flavours_of(LIBRARY, COUNTS, BarTaste())
    assert set(found) == {ingredient.key for ingredient in LIBRARY}
    for key, flavour in found.items():
        if flavour.counted_as is None:
            assert flavour.why_unknown in COUNTS.not_counted.values(), key
        else:
            assert flavour.counted_as in COUNTS.poured


def test_what_counts_say_of_kinds_is_what_the_library_says() -> None:
    assert {key: LIBRARY.find(key).kind for key in COUNTS.kind} == COUNTS.kind
    assert set(COUNTS.not_counted) <= {*KINDS, *KIND_FAMILIES}


def test_what_tastes_alike_is_another_ingredient_of_the_library_that_is_counted() -> None:
    for key, counted in COUNTS.alike.items():
        assert LIBRARY.find(key).key == key
        assert key not in COUNTS.poured
        assert counted in COUNTS.poured


@pytest.mark.parametrize("name", ["drinks", "pairs"])
def test_a_drink_that_was_printed_twice_counts_once(name: str) -> None:
    for row in rows(name):
        by_corpus = [int(row[corpus]) for corpus in CORPORA]
        assert max(by_corpus) <= int(row["all"]) <= sum(by_corpus), row


def test_every_table_names_its_sources_and_they_are_described() -> None:
    sources = tomllib.loads((FOLDER / "sources.toml").read_text(encoding="utf-8"))
    assert set(CORPORA) == {key for key, value in sources.items() if isinstance(value, dict)}
    assert all(sources[each]["source"] and sources[each]["says"] for each in CORPORA)
    drinks = [sources[each]["drinks"] for each in CORPORA]
    assert max(drinks) <= sources["all"] == COUNTS.drinks <= sum(drinks)
    for path in sorted(FOLDER.glob("*.csv")):
        head = path.read_text(encoding="utf-8").split("\n", 1)[0]
        assert head.startswith("# "), path.name


def test_two_meet_no_oftener_than_either_is_poured() -> None:
    for (one, other), met in COUNTS.met.items():
        assert one < other
        assert 0 < met <= min(COUNTS.poured[one], COUNTS.poured[other])


def test_a_row_is_read_as_the_csv_module_reads_it() -> None:
    read = {pair(row["one"], row["other"]): int(row["all"]) for row in rows("pairs")}
    assert read == COUNTS.met
    assert {row["ingredient"]: int(row["all"]) for row in rows("drinks")} == COUNTS.poured


def test_usual_pours_are_in_order_and_of_things_that_are_known() -> None:
    for of, pour in COUNTS.pours.items():
        assert of in COUNTS.poured or of in KINDS
        assert 0 < pour.low_ml <= pour.usual_ml <= pour.high_ml
        assert pour.drinks > 0


def test_an_ingredient_with_few_drinks_is_poured_like_its_kind() -> None:
    few, many = COUNTS.pours["falernum"], COUNTS.pours["sambuca"]
    assert few.drinks < 3 <= many.drinks
    assert COUNTS.usual_pour("falernum", "liqueur/spice") == COUNTS.pours["liqueur/spice"]
    assert COUNTS.usual_pour("sambuca", "liqueur/spice") == many
    assert COUNTS.usual_pour("nothing-known", "garnish") is None


def test_what_is_loud_is_in_the_library_and_of_a_known_character() -> None:
    for key, loud in COUNTS.loud.items():
        assert LIBRARY.find(key).key == key
        assert loud.character in CHARACTERS
        assert loud.most_ml > 0
    assert COUNTS.most_ml("peated-scotch") == 15
    assert COUNTS.most_ml("gin") is None


def test_the_trades_rules_name_what_is_known() -> None:
    known = {*CHARACTERS, *KINDS, *KIND_FAMILIES, "loud"}
    for rule in COUNTS.practice:
        assert {rule.one, rule.other} <= known
        assert rule.says


def test_a_drink_that_is_taken_out_is_out_of_every_count() -> None:
    left = COUNTS.without({"gin", "dry-vermouth"})
    assert left.drinks == COUNTS.drinks - 1
    assert left.poured["gin"] == COUNTS.poured["gin"] - 1
    assert left.together("dry-vermouth", "gin") == COUNTS.together("gin", "dry-vermouth") - 1
    assert left.poured["vodka"] == COUNTS.poured["vodka"]


def test_a_few_counts_are_what_the_sources_say() -> None:
    """Counted again by hand in the association's recipes: gin is in 13, with dry vermouth in 1."""
    drinks = {row["ingredient"]: row for row in rows("drinks")}
    pairs = {(row["one"], row["other"]): row for row in rows("pairs")}
    assert drinks["gin"]["association"] == "13"
    assert pairs["dry-vermouth", "gin"]["association"] == "1"


def test_files_are_plain_enough_to_be_split_at_commas() -> None:
    for path in sorted(Path(FOLDER).glob("*.csv")):
        lines = [
            line
            for line in path.read_text(encoding="utf-8").splitlines()
            if not line.startswith("#")
        ]
        assert [line.split(",") for line in lines] == list(csv.reader(lines)), path.name
        assert len({len(line.split(",")) for line in lines}) == 1, path.name


def test_counts_without_tables_of_taste_are_counts_too() -> None:
    bare = Counts(10, {"gin": 4}, {"gin": "spirit/gin"}, {"gin": "base"}, {})
    assert bare.flavour("gin") == "gin"
    assert bare.together("gin", "vodka") == 0
