"""The command as its user runs it."""

import json
import re
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from solver.cli.main import main
from solver.pantry.load_bar import load_bar
from tests.open_bars import OPEN

DEMO = str(Path(__file__).parents[2] / "demo")


def run(*arguments: str) -> Result:
    return CliRunner().invoke(main, [*arguments, "--bar", DEMO], obj=OPEN)


def test_a_sour_at_17_per_cent_with_the_house_syrup_is_answered_and_proven() -> None:
    result = run("design", "sour", "--abv", "17%", "--with", "rhubarb-syrup")
    assert result.exit_code == 0, result.output
    assert "rhubarb syrup" in result.output
    assert re.search(r"more\s+in\s+keeping|none\s+of\s+them\s+can\s+be\s+poured", result.output)
    assert "Proven," in result.output
    assert "Standard drinks (Germany" in result.output


def test_a_second_solver_comes_to_the_same() -> None:
    for words in (("duo",), ("bollard-sour", "--with", "rhubarb-syrup=1 oz")):
        result = run("design", *words, "--verify")
        assert re.search(r"CP-SAT\s+[\d.]+\s+agrees", result.output)


def test_the_document_says_the_same_and_keeps_every_limit() -> None:
    result = run("design", "stirred-dry", "--json")
    document = json.loads(result.output)
    assert document["status"] == "optimal"
    assert document["proof"]["gap"] <= document["proof"]["tolerance"]
    for limit in document["limits"]:
        assert limit["low"] is None or limit["value"] >= limit["low"] * (1 - 1e-9)
        assert limit["high"] is None or limit["value"] <= limit["high"] * (1 + 1e-9)


def test_the_cheapest_drink_is_no_dearer_than_the_closest() -> None:
    closest = json.loads(run("design", "highball", "--json").output)
    cheapest = json.loads(run("design", "highball", "--goal", "cheapest", "--json").output)
    cost = [found["answer"]["finished"]["cost"] for found in (cheapest, closest)]
    assert cost[0] <= cost[1]


def test_what_cannot_be_is_said_with_exit_code_1() -> None:
    result = run("design", "bollard-sour", "--abv", "21..22%", "--volume", ">=195 ml")
    assert result.exit_code == 1
    assert "This shelf has no such bollard-sour. Proven, " in result.output
    assert "These cannot hold together:" in result.output


def test_without_an_allergen_no_pour_holds_it_or_may_hold_it() -> None:
    result = run("design", "sour-foam", "--without", "egg", "--json")
    keys = {pour["ingredient"] for pour in json.loads(result.output)["answer"]["pours"]}
    assert "egg-white" not in keys
    assert "aquafaba" in keys


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["design", "sowr"], "Did you mean sour"),
        (["design", "sour", "--abv", "17 ml"], "17 ml"),
        (["design", "sour", "--with", "rye-whisky-x"], "not an ingredient"),
        (["design", "sour", "--glass", "bucket"], "not a glass"),
        (["design", "sour", "--abv", "18..15%"], "18..15%"),
    ],
)
def test_bad_input_gets_one_sentence_and_exit_code_2(arguments: list[str], said: str) -> None:
    result = run(*arguments)
    assert result.exit_code == 2
    assert said in result.output
    assert "Traceback" not in result.output


def test_every_alternative_has_another_base_or_modifier_and_is_no_closer() -> None:
    document = json.loads(run("design", "highball", "--alternatives", "2", "--json").output)
    drinks = [document["answer"], *document["alternatives"]]
    assert len(drinks) == 3
    bases = [
        frozenset(p["ingredient"] for p in drink["pours"] if p["part"] in {"base", "modifier"})
        for drink in drinks
    ]
    assert len(set(bases)) == 3
    best = document["answer"]["off_aim"]
    assert all(x["off_aim"] >= best - document["proof"]["tolerance"] for x in drinks)


def test_fewer_alternatives_than_asked_for_is_said() -> None:
    fixed = ("--with", "gin", "--bottles", "<=2", "--without", "spirit/vodka")
    result = run("design", "highball", *fixed, "--alternatives", "1")
    assert result.exit_code == 0, result.output
    assert "no further one of another base family" in " ".join(result.output.split())


def test_a_character_wished_for_is_there_and_one_kept_out_is_not() -> None:
    arguments = ("design", "highball", "--character", "juniper", "--no-character", "bitter")
    pours = json.loads(run(*arguments, "--json").output)["answer"]["pours"]
    library = load_bar(Path(DEMO)).library
    tags = [set(library.find(pour["ingredient"]).character) for pour in pours]
    assert any("juniper" in each for each in tags)
    assert not any("bitter" in each for each in tags)


def test_where_the_shelf_has_nothing_to_pour_the_answer_is_that_there_is_none() -> None:
    result = run("design", "sour", "--serves", "100000", "--verify", "--json")
    assert result.exit_code == 1, result.output
    proof = json.loads(result.output, parse_constant=pytest.fail)["proof"]
    assert proof["bound"] is None
    assert proof["compared"] == 0


def test_the_document_of_what_cannot_be_holds_numbers_that_json_knows() -> None:
    result = run("design", "sour", "--abv", ">=40%", "--json")
    assert json.loads(result.output, parse_constant=pytest.fail)["status"] == "impossible"


def test_an_aim_beyond_a_limit_is_remarked_on() -> None:
    said = " ".join(run("design", "sour", "--abv", "40%").output.split())
    assert "The aim of 39.5..40.5 % vol lies beyond a limit: strength at most 22 % vol" in said
    assert "lies beyond a limit" not in run("design", "sour").output


def test_a_julep_has_mint_that_is_told_and_saved_unless_a_guest_avoids_it() -> None:
    found = json.loads(run("design", "julep", "--json").output)["answer"]
    assert found["garnish"].startswith("8 mint leaves")
    assert "Allergens: none stated\nOf animal" in run("design", "julep").output
    assert (
        json.loads(run("design", "julep", "--without", "mint", "--json").output)["answer"][
            "garnish"
        ]
        is None
    )


def test_a_flip_without_egg_is_the_last_thing_that_is_thought_of() -> None:
    ways = json.loads(run("design", "flip", "--json").output)["ways_out"]
    assert [way["bought"] for way in ways] == [["whole-egg"], []]


def test_a_way_out_has_its_garnish_and_what_a_guest_is_told_of_it() -> None:
    ways = json.loads(run("design", "julep", "--abv", ">=38%", "--json").output)["ways_out"]
    assert ways
    assert all(way["answer"]["garnish"].startswith("8 mint leaves") for way in ways)


def test_what_is_shown_has_little_beside_it_and_nothing_louder() -> None:
    """Four voices at most: what people can tell apart in a mixture (Laing and Glemarec 1992)."""
    for profile in ("sour", "stirred", "hot-coffee", "collins"):
        plain = json.loads(
            run("design", profile, "--feature", "almond-spice-syrup", "--json").output
        )
        if plain["answer"] is None:
            continue
        keys = [pour["ingredient"] for pour in plain["answer"]["pours"]]
        assert "almond-spice-syrup" in keys
        assert len(keys) <= 5
    assert run("design", "sour", "--feature", "almnd-spice-syrup").exit_code == 2


def test_alternatives_are_of_other_base_families_and_have_other_modifiers() -> None:
    library = load_bar(Path(DEMO)).bottles
    found = json.loads(run("design", "daisy", "--alternatives", "3", "--json").output)
    drinks = [found["answer"], *found["alternatives"]]
    assert len(drinks) == 4
    bases = [p["ingredient"] for d in drinks for p in d["pours"] if p["part"] == "base"]
    families = [library.find(key).kind for key in bases]
    modifiers = [p["ingredient"] for d in drinks for p in d["pours"] if p["part"] == "modifier"]
    assert len(set(families)) == len(families)
    assert len(set(modifiers)) == len(modifiers)
    assert all(drink["in_keeping"]["says"] for drink in drinks)


@pytest.mark.parametrize(
    ("profile", "poured"),
    [
        ("sour", {"bourbon": 60, "lemon-juice": 22.5, "simple-syrup": 22.5}),
        ("stirred", {"rye-whiskey": 60, "sweet-vermouth": 30, "aromatic-bitters": None}),
        ("stirred-dry", {"gin": 60, "dry-vermouth": 15}),
        ("equal-parts", {"gin": 30, "red-bitter": 30, "sweet-vermouth": 30}),
        ("daisy", {"tequila-blanco": 45, "lime-juice": 22.5, "orange-liqueur": 22.5}),
        ("hot-coffee", {"irish-whiskey": 45, "demerara-sugar": None, "brewed-coffee": 120,
                        "heavy-cream": 30}),
    ],
)  # fmt: skip
def test_the_classics_come_by_name_in_pours_of_the_trade(
    profile: str, poured: dict[str, float | None]
) -> None:
    """Common practice, no source."""
    found = json.loads(run("design", profile, "--json").output)
    pours = {p["ingredient"]: p.get("ml") for p in found["answer"]["pours"]}
    assert pours.keys() == poured.keys()
    assert all(pours[key] == ml for key, ml in poured.items() if ml is not None)
    assert found["answer"]["on_target"]
    assert found["proof"]["more_in_keeping"] is not None


def test_what_is_best_is_first_of_all_on_target() -> None:
    for goal in ("cheapest", "lightest", "fewest"):
        found = json.loads(run("design", "bollard-sour", "--goal", goal, "--json").output)
        assert found["answer"]["on_target"]
        assert found["proof"]["off_target"] == 0.0
