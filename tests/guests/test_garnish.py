"""Garnishes, rims, floats and rinses are told like pours, and what fizzes is not shaken."""

from __future__ import annotations

import json
import shutil
import tomllib
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st

from solver.cli.main import main
from solver.drinks.assess import Assessment, assess
from solver.pantry.avoidance import Against
from solver.pantry.bar import Bar
from solver.pantry.load_bar import load_bar
from solver.pantry.profile_files import load_profiles
from solver.pantry.spec import Spec
from tests.ingredient_tables import ROOT, ingredient_tables

DEMO = ROOT / "demo"
SOUR = ({"ingredient": "gin", "amount": "2 oz"}, {"ingredient": "lemon-juice", "amount": "1 oz"})


@cache
def bar() -> Bar:
    return load_bar(DEMO)


def profile_garnishes() -> set[str]:
    files = [tomllib.loads(path.read_text()) for path in (ROOT / "profiles").glob("*.toml")]
    found = {file["garnish"] for file in files if "garnish" in file}
    return found.union(*(file.get("garnishes", {}).values() for file in files))


def assessed(
    *pours: dict[str, str], technique: str = "shake", garnish: str | None = None,
    notes: str | None = None,
) -> Assessment:  # fmt: skip
    table = {"name": "a drink", "technique": technique, "garnish": garnish, "notes": notes}
    return assess(Spec.model_validate({**table, "pours": pours or SOUR}), bar())


@pytest.mark.parametrize(
    ("garnish", "allergens", "animal"),
    [
        ("crushed toasted almonds, honey rim", {"nuts"}, {"honey"}),
        ("Prawn cocktail on the side", {"crustaceans"}, {"crustaceans"}),
        ("oyster", {"molluscs"}, {"molluscs"}),
        ("celery stick", {"celery"}, set()),
        ("sesame rim", {"sesame"}, set()),
        ("float of heavy cream", {"milk"}, {"milk"}),
        ("grated Parmesan", {"milk"}, {"milk"}),
        ("crisp of bacon", set(), {"meat"}),
        ("buttered popcorn", {"milk"}, {"milk"}),
        ("shaved white chocolate", {"milk"}, {"milk"}),
        ("peanut brittle", {"peanut"}, set()),
        ("ginger biscuit", {"gluten"}, set()),
        ("anchovy on a pick", {"fish"}, {"fish"}),
        ("honeycomb", set(), {"honey"}),
        ("rinse of orgeat", {"nuts"}, set()),
        ("rim of almond-spice syrup and salt", {"nuts"}, set()),
    ],
)
def test_what_a_garnish_names_is_told(garnish: str, allergens: set[str], animal: set[str]) -> None:
    told = assessed(garnish=garnish).guest.told
    assert allergens <= told.allergens
    assert animal <= told.animal


def test_meat_is_no_clearing_agent_and_bought_sweets_hold_more_than_they_are_called() -> None:
    assert assessed(garnish="crisp of bacon").guest.told.animal == {"meat"}
    for garnish in ("white chocolate", "buttered popcorn"):
        assert assessed(garnish=garnish).guest.told.allergens_not_known


@pytest.mark.parametrize(
    "garnish",
    ["lemon wheel", "orange peel, expressed and dropped", "long ribbon of raw rhubarb", "none",
     "sprig of mint", "salt rim, half", "2 brandied cherries on a pick", "flamed rosemary",
     "black peppercorns, cracked", "edible viola", "no nuts", "cucumber ribbon, speared"],
)  # fmt: skip
def test_a_plain_garnish_makes_nothing_unknown(garnish: str) -> None:
    told = assessed(garnish=garnish).guest.told
    assert not told.allergens_not_known
    assert not told.allergens


@pytest.mark.parametrize(
    "garnish", ["gingersnap crumble", "house dust", "ginger biscuit", "ナッツ"]
)
def test_a_garnish_that_nobody_knows_makes_allergens_not_known(garnish: str) -> None:
    told = assessed(garnish=garnish).guest.told
    assert len(told.allergens_not_known) == len(told.animal_not_known) == 1


def test_the_garnishes_of_the_demonstration_are_all_known() -> None:
    for path in sorted((DEMO / "specs").iterdir()):
        made = json.loads(
            CliRunner().invoke(main, ["assess", path.stem, "--json", "--bar", str(DEMO)]).stdout
        )
        assert made["answer"]["allergens_not_known"] == [] or path.stem in (
            "weighbridge",
            "low-water",
        )
        assert not any("garnish" in each for each in made["answer"]["allergens_not_known"])


def test_notes_name_what_may_be_in_it() -> None:
    told = assessed(notes="Rinse the glass with absinthe. Rim it with pistachio.").guest.told
    assert told.may_contain == {"nuts"}
    assert told.holds >= {"absinthe", "pistachios"}
    assert not told.allergens
    zero = {"ingredient": "strong-black-tea", "amount": "3 oz"}
    guest = assessed(zero, notes="Rinse the glass with absinthe.").guest
    assert guest.may_hold_alcohol == ("absinthe",)


@pytest.mark.parametrize(
    "garnish",
    ["whisky mist", "rum raisin", "drunken raisin", "mirin glaze", "tincture of clove"],
)
def test_a_word_of_a_garnish_that_nobody_knows_may_hold_alcohol(garnish: str) -> None:
    tea = {"ingredient": "strong-black-tea", "amount": "3 oz"}
    assert assessed(tea, garnish=garnish).guest.may_hold_alcohol


@pytest.mark.parametrize(
    "garnish",
    ["lemon curd", "frangipane", "bouillon cube", "crab stick", "gianduja", "parmesan crisp",
     "prawn cracker"],
)  # fmt: skip
def test_a_garnish_of_several_things_is_not_known_by_its_name(garnish: str) -> None:
    told = assessed(garnish=garnish).guest.told
    assert told.allergens_not_known == told.animal_not_known
    assert len(told.allergens_not_known) == 1


def test_what_is_bought_dried_or_candied_may_hold_sulphites_and_nuts_may_be_peanuts() -> None:
    assert assessed(garnish="dried mango").guest.told.may_contain == {"sulphites"}
    assert assessed(garnish="candied orange").guest.told.may_contain == {"sulphites"}
    assert "peanut" in assessed(garnish="salted nuts").guest.told.may_contain
    assert not assessed(garnish="dehydrated orange wheel").guest.told.may_contain


def test_the_garnishes_of_the_built_in_profiles_are_all_known() -> None:
    for garnish in profile_garnishes():
        told = bar().mentions.garnish(garnish)
        assert not told.allergens_not_known
        # A cherry goes on whiskey alone, which the drink has for certain.
        assert set(told.may_hold_alcohol) <= {"cocktail cherry"}
    on = {
        p.name for p in load_profiles() if "cocktail cherry" in {p.garnish, *p.garnishes.values()}
    }
    assert on == {"stirred", "stirred-split"}


def test_steps_name_what_may_be_in_it_beside_what_is_poured(tmp_path: Path) -> None:
    folder = tmp_path / "bar"
    shutil.copytree(DEMO, folder)
    pours = [("strong-black-tea", "3 oz"), ("lemon-juice", "3/4 oz"), ("simple-syrup", "3/4 oz")]
    lines = [f'[[pours]]\ningredient = "{name}"\namount = "{amount}"' for name, amount in pours]
    steps = ["Rinse the glass with absinthe", "Shake the tea and lemon", "Dust with peanuts"]
    text = "\n".join([f"name = 'Fog'\nprofile = 'zero-proof-sour'\nsteps = {steps}", *lines])
    (folder / "specs" / "fog.toml").write_text(text)

    def said(*words: str) -> Any:
        return CliRunner().invoke(main, ["--bar", str(folder), *words])

    made = json.loads(said("assess", "fog", "--json").stdout)["answer"]
    assert made["allergens"] == ["peanut"]
    assert made["may_hold_alcohol"] == ["absinthe"]
    for word in ("peanuts", "alcohol"):
        refused = said("check", "fog", "--without", word)
        assert refused.exit_code == 1
        assert "what its steps name" in refused.output
    assert "Perhaps not without alcohol" in said("card", "fog").output
    assert "what its steps name" not in said("check", "fog", "--without", "citrus").output
    without = "Strength and standard drinks are without what the steps add: absinthe."
    assert without in said("card", "fog").output.replace("\n  ", " ")


@pytest.mark.parametrize(
    ("step", "unknown"),
    [
        ("rim with tajin", "tajin"),
        ("spray with Pernod", "pernod"),
        ("finish with garam masala", "garam masala"),
        ("Sesampaste einrühren", "sesampaste"),
        ("spoon on lemon curd", "curd"),
        ("Shake hard with ice for 12 seconds; double strain into a chilled coupe", ""),
        ("Dry shake the egg white, add ice, shake again until cold, fine strain", ""),
        ("Stir for 30 s on a big cube, express an orange peel over it and discard", ""),
        ("Build over ice in a highball, top with soda, lift once with a bar spoon", ""),
        ("Grate nutmeg over the top; roll between tins until frosted and let it settle", ""),
        ("Kräftig auf Eis schütteln und doppelt in die gekühlte Schale abseihen", ""),
    ],
)
def test_a_word_of_a_step_that_nobody_knows_speaks_against_it(step: str, unknown: str) -> None:
    told = bar().mentions.unknown_in_steps(step)
    assert told.allergens_not_known == ((f"steps ({unknown})",) if unknown else ())
    assert told.animal_not_known == told.allergens_not_known


def test_what_a_guest_reads_owns_up_to_a_word_of_a_step_that_nobody_knows(tmp_path: Path) -> None:
    folder = tmp_path / "bar"
    shutil.copytree(DEMO, folder)
    spec = folder / "specs" / "dry-dock.toml"
    lines = spec.read_text(encoding="utf-8")
    spec.write_text(f'steps = ["Shake hard", "Rim with tajin"]\n{lines}', encoding="utf-8")

    def card(*words: str) -> str:
        read = ["--bar", str(folder), "card", "dry-dock", "--for", "guest", *words]
        return " ".join(CliRunner().invoke(main, read).output.split())

    assert "Allergens not known of: steps (tajin)" in card()
    assert "Perhaps not without alcohol" in card()
    assert "Allergene nicht bekannt: Schritte (tajin)" in card("--language", "de")


@given(
    key=st.sampled_from(sorted(ingredient_tables())),
    place=st.sampled_from(["{}", "a rim of {}", "{} on top"]),
)
def test_any_ingredient_as_a_garnish_is_told_as_if_it_were_poured(key: str, place: str) -> None:
    table = ingredient_tables()[key]
    for name in (key, table["name"]):
        told = assessed(garnish=place.format(name)).guest.told
        assert set(table.get("allergens", [])) <= told.allergens
        assert set(table.get("may_contain", [])) <= told.allergens | told.may_contain
        assert set(table["animal"]) <= told.animal
        assert "allergens" in table or told.allergens_not_known


def test_every_command_tells_of_animals(tmp_path: Path) -> None:
    folder = tmp_path / "demo"
    shutil.copytree(DEMO, folder)

    def said(*arguments: str) -> str:
        result = CliRunner().invoke(main, [*arguments, "--bar", str(folder)])
        return " ".join(result.output.split())

    def answer(*arguments: str) -> dict[str, Any]:
        result = CliRunner().invoke(main, [*arguments, "--json", "--bar", str(folder)])
        found: dict[str, Any] = json.loads(result.stdout)["answer"]
        return found

    honey = ("2 oz gin", "3/4 oz lemon juice", "3/4 oz honey-syrup-2-1")
    assert "Of animal origin: honey" in said("assess", *honey)
    assert answer("assess", *honey)["animal"] == ["honey"]
    asked = ("sour", "--with", "honey-syrup-2-1")
    assert "Of animal origin: honey" in said("design", *asked)
    assert "Of animal origin: honey" in said("check", *asked)
    assert answer("design", *asked)["animal"] == ["honey"]
    swap = ("swap", "harbour-light", "rhubarb-syrup", "honey-syrup-2-1")
    assert "Of animal origin: honey" in said(*swap)
    assert answer(*swap)["animal"] == ["honey"]
    guests = tmp_path / "guests.toml"
    guests.write_text('[[guests]]\nprofile = "sour"\nwith = "honey-syrup-2-1"\n', encoding="utf-8")
    assert "of animal origin: honey" in said("check", "--requests", str(guests))
    house = folder / "house" / "pink.toml"
    house.write_text(
        '[pink]\nname = "pink"\nkind = "syrup/fruit"\ndeclare = ["carmine"]\n'
        'animal = ["insect"]\n\n[pink.recipe.inputs]\nwhite-sugar = "1 kg"\nwater = "1 kg"\n'
        'grenadine = "10 g"\n',
        encoding="utf-8",
    )
    pink = said("prep", "pink")
    assert "Of animal origin: insect" in pink
    assert "Declare: carmine" in pink
    text = house.read_text(encoding="utf-8").replace('animal = ["insect"]\n', "")
    house.write_text(text, encoding="utf-8")
    assert "May be of animal origin: insect" in said("prep", "pink")


@pytest.mark.parametrize(
    ("technique", "key", "stage", "warned"),
    [
        ("shake", "sparkling-wine", "first", True), ("shake-egg", "soda-water", "first", True),
        ("shake-top", "tonic-water", "first", True), ("blend", "ginger-beer", "first", True),
        ("shake", "lager", "first", True), ("shake", "kombucha", "first", True),
        ("shake-top", "soda-water", "top", False), ("build", "soda-water", "first", False),
        ("stir-top", "sparkling-wine", "top", False), ("shake", "lemon-juice", "first", False),
    ],
)  # fmt: skip
def test_what_fizzes_in_a_closed_vessel_is_warned_of(
    technique: str, key: str, stage: str, warned: bool
) -> None:
    pours = ({"ingredient": key, "amount": "2 oz", "stage": stage}, *SOUR)
    cautions = " ".join(assessed(*pours, technique=technique).guest.cautions)
    assert ("Never close a shaker" in cautions) == warned


def test_dry_ice_and_its_like_are_warned_of() -> None:
    for words in ("dry ice in the saucer", "Liquid Nitrogen cloud", "activated charcoal rim"):
        assert assessed(garnish=words).guest.cautions
        assert assessed(notes=words).guest.cautions
    assert not assessed(garnish="ice, dry").guest.cautions


@pytest.mark.parametrize(
    ("garnish", "avoided", "against"),
    [
        ("the citrus in pieces, muddled", "citrus", Against.MAY_HOLD),
        ("the citrus in pieces, muddled", "lime", Against.MAY_HOLD),
        ("a twist", "lemon", Against.MAY_HOLD),
        ("seasonal berries", "strawberries", Against.MAY_HOLD),
        ("Limettenspalte", "lime", Against.MAY_HOLD),
        ("tangelo wheel", "citrus", Against.NOT_KNOWN),
        ("cucumber wheel", "citrus", None),
        ("orange twist", "lime", None),
        ("the citrus in pieces, muddled", "nuts", None),
        ("no citrus", "citrus", None),
    ],
)
def test_a_word_that_leaves_open_which_fruit_it_is_may_be_any(
    garnish: str, avoided: str, against: Against | None
) -> None:
    assert bar().avoidable.word(avoided).against(bar().mentions.garnish(garnish)) is against


def test_which_fruit_a_step_means_is_the_one_that_is_poured() -> None:
    lime = bar().avoidable.word("lime")
    step = "Muddle the citrus with the sugar."
    assert lime.against(bar().mentions.notes(step)) is Against.MAY_HOLD
    assert lime.against(bar().mentions.notes(step, {"lemon-juice"})) is None


def test_every_profile_says_of_which_fruit_its_garnish_is() -> None:
    garnishes = profile_garnishes()
    assert [said for said in garnishes if bar().mentions.garnish(said).may_hold] == []
