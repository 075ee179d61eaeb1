"""Guests answered, as a bartender types them."""

from __future__ import annotations

import json
import re
import shutil
from functools import cache
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from solver.cli.main import main
from solver.pantry.guests import read_guests
from solver.show.text.target import names_steps
from tests.open_bars import OPEN
from tests.tasks.bars import DEMO

TWO = """
[[guests]]
name = "table 4"
without = ["dairy", "nuts"]
with = "mezcal"

[[guests]]
name = "table 5"
profile = "duo"
standard_drinks = "<=0.5"
drier = 1
"""


@cache
def on_the_demo_bar(*arguments: str) -> Result:
    """An answer of the bar that stays as it is, found once."""
    return run(*arguments)


def run(*arguments: str) -> Result:
    return CliRunner().invoke(main, ["--bar", str(DEMO), "check", *arguments], obj=OPEN)


def document(*arguments: str) -> dict[str, object]:
    found = json.loads(run(*arguments, "--json").output)
    assert isinstance(found, dict)
    return found


def finished(found: dict[str, object], name: str) -> float:
    answer = found["answer"]
    assert isinstance(answer, dict)
    return float(answer["finished"][name])


def test_yes_comes_first_and_the_drink_after_it() -> None:
    result = run("sour", "--without", "dairy", "--with", "mezcal")
    assert result.exit_code == 0
    assert result.output.startswith("Yes.\n\nsour: shaken with ice and strained, up in a coupe\n")
    assert "mezcal" in result.output


def test_no_comes_with_the_reason_and_ways_out_and_exit_code_1() -> None:
    result = run("duo", "--abv", "<=15%")
    assert result.exit_code == 1
    assert result.output.startswith("No.\n")
    said = " ".join(result.output.split())
    assert "the strength of a duo is 20 % vol or more; 15 % vol or less was asked" in said
    assert "It would be possible\n  with strength up to" in result.output


@pytest.mark.parametrize(
    ("wish", "steps", "key", "sign"),
    [
        ("drier", "1", "sugar_g_100ml", -1), ("sweeter", "2", "sugar_g_100ml", 1),
        ("lighter", "2", "abv_pct", -1), ("stronger", "1", "abv_pct", 1),
        ("tarter", "2", "acid_g_100ml", 1), ("rounder", "1", "acid_g_100ml", -1),
        ("longer", "1", "volume_ml", 1), ("shorter", "2", "volume_ml", -1),
    ],
)  # fmt: skip
def test_steps_are_noticed_in_the_glass(wish: str, steps: str, key: str, sign: int) -> None:
    noticed = {"sugar_g_100ml": 0.69, "abv_pct": 1.0, "acid_g_100ml": 0.08, "volume_ml": 10.0}
    tall = ("sour", "--glass", "highball")
    served = finished(json.loads(on_the_demo_bar(*tall, "--json").output), key)
    wished = finished(document(*tall, f"--{wish}", steps), key)
    assert sign * (wished - served) >= noticed[key] * 0.95 * int(steps)


def test_standard_drinks_are_those_of_where_the_bar_is() -> None:
    found = document("highball", "--standard-drinks", "<=1")
    assert finished(found, "ethanol_g") <= 12.0  # Germany: 12 g, BZgA; see countries.toml


def test_what_is_not_known_to_be_safe_is_not_offered_and_said_to_be_left_out() -> None:
    found = document("stirred", "--without", "nuts", "--alternatives", "3")
    left_out = found["left_out"]
    assert isinstance(left_out, list)
    assert "fernet" in left_out
    assert isinstance(found["alternatives"], list)
    for answer in (found["answer"], *found["alternatives"]):
        assert not {pour["ingredient"] for pour in answer["pours"]} & set(left_out)
        assert "nuts" not in answer["allergens"]
    assert "Left out, as too little is known" in run("stirred", "--without", "nuts").output
    assert document("stirred")["left_out"] == []


def test_a_way_out_names_what_it_is_about_and_the_allergens_of_its_drink() -> None:
    said = " ".join(run("sour", "--with", "mezcal", "--standard-drinks", "<=1").output.split())
    assert "with up to 1.05 standard drinks (12.5 g of alcohol): " in said
    assert "steps shorter; allergens: sulphites; may be of animal origin: fining)" in said
    assert "A step is what half of all tasters would notice. Labels, local rules" in said
    assert not names_steps("2 oz gin, on target, by step-mother's recipe")
    said = " ".join(run("bollard-sour", "--glass", "rocks", "--longer").output.split())
    assert "with a glass that takes " in said
    said = " ".join(run("sour-foam", "--without", "egg", "--without", "foam").output.split())
    assert "if egg may be in it (only if the guest agrees, and never with an allergy)" in said
    assert "with nothing for the foam: " in said


def test_standard_drinks_of_a_way_out_are_enough_when_asked_for() -> None:
    assert run("sour", "--with", "mezcal", "--standard-drinks", "<=1.05").exit_code == 0


def test_what_the_stock_would_need_is_named() -> None:
    ways = document("sour", "--with", "mezcal", "--serves", "40")["ways_out"]
    assert isinstance(ways, list)
    needed = [each for way in ways for each in way["needed"] if each["ingredient"] == "mezcal"]
    pours = [p["ml"] for way in ways if way["needed"] for p in way["answer"]["pours"][:1]]
    assert [each["ml"] for each in needed] == [40 * ml for ml in pours]


def test_a_cost_has_the_currency_of_the_bar() -> None:
    result = run("sour", "--cost", "<=1.80")
    assert "EUR                           at most 1.80\n" in result.output
    said = " ".join(result.output.split())
    assert "Held back: cost at most 1.80 EUR (as asked); without that, bourbon whiskey" in said


def test_several_guests_are_told_what_is_not_known_and_what_to_mind(tmp_path: Path) -> None:
    file = tmp_path / "guests.toml"
    file.write_text(
        "[[guests]]\nname = 'a'\nwith = 'fernet'\n"
        "[[guests]]\nname = 'b'\nprofile = 'sour-foam'\nwith = 'egg-white'\nwithout = 'nuts'\n",
        encoding="utf-8",
    )
    said = " ".join(run("sour", "--requests", str(file)).output.split())
    assert "allergens not known: amaro, fernet style" in said
    assert "Caution: Raw egg" in said
    assert "Left out, as too little is known of what they hold: " in said
    assert said.endswith("Labels, local rules and licensed practice come before what is said here.")


def test_a_kind_that_is_asked_for_is_told_with_what_the_shelf_has_of_it() -> None:
    result = run("sour", "--with", "whiskey")
    assert result.exit_code == 2
    assert "'whiskey' is a kind, and no single ingredient" in result.output
    assert "bourbon or" in result.output
    assert "rye-whiskey" in result.output


def test_a_guest_of_several_may_order_a_drink_of_the_card(tmp_path: Path) -> None:
    file = tmp_path / "guests.toml"
    file.write_text(
        "[[guests]]\nname = 'a'\nprofile = 'last-ferry'\nlighter = 1\nwithout = 'nuts'\n"
        "[[guests]]\nname = 'b'\nprofile = 'last-ferry'\nwithout = 'lactose'\n"
        "[[guests]]\nname = 'c'\n",
        encoding="utf-8",
    )
    verdicts = document("weighbridge", "--requests", str(file))["verdicts"]
    assert isinstance(verdicts, list)
    first, second, third = verdicts
    alone = document("last-ferry", "--lighter", "--without", "nuts")
    assert first["answer"]["pours"] == alone["answer"]["pours"]  # type: ignore[index]
    assert second["status"] == "impossible"
    assert third["status"] == "optimal"
    wish = "[[guests]]\nname = 'a'\nprofile = 'last-ferry'\ngoal = 'cheapest'\n"
    file.write_text(wish, encoding="utf-8")
    refused = run("--requests", str(file))
    assert refused.exit_code == 2
    assert "Last Ferry is a spec, which stays as near as it can" in refused.output


def test_a_wish_for_what_is_not_on_the_shelf_is_a_no_with_a_purchase() -> None:
    result = run("sour", "--with", "pisco", "--without", "nuts")
    assert result.exit_code == 1
    assert "It is not on the shelf: with pisco (as asked)." in result.output
    assert "without asking for pisco: " in result.output
    assert "if you bought pisco: " in result.output


def test_a_guest_without_a_name_is_called_by_number(tmp_path: Path) -> None:
    file = tmp_path / "guests.toml"
    file.write_text("[[guests]]\nname = 'a'\n[[guests]]\nwith = 'pisco'\n", encoding="utf-8")
    result = run("sour", "--requests", str(file))
    assert "a: yes, sour." in result.output
    assert "guest 2: no.\n  reason: with pisco (as asked)" in result.output


def test_what_cannot_be_left_out_is_told_apart_from_a_taste() -> None:
    said = " ".join(run("sour", "--without", "smoke").stderr.split())
    assert "'smoke' is not something known to be avoided. Write --no-character smoke, or" in said


def test_a_design_says_too_what_it_left_out_and_the_allergens_of_alternatives() -> None:
    arguments = ["--bar", str(DEMO), "design", "sour", "--without", "egg", "--alternatives", "3"]
    said = " ".join(CliRunner().invoke(main, arguments, obj=OPEN).output.split())
    assert "Left out, as too little is known of what they hold: " in said
    assert "amaro, fernet style" in said.partition("Left out")[2]
    found = json.loads(CliRunner().invoke(main, [*arguments, "--json"], obj=OPEN).output)
    others = found["alternatives"]
    assert [other["off_aim"] for other in others] == sorted(other["off_aim"] for other in others)
    for other in filter(lambda other: other["allergens"], others):
        assert f"(off aim by {other['off_aim']:.2f}; allergens: " in said


def test_what_has_no_price_can_be_left_out_and_is_named_where_it_is_poured(tmp_path: Path) -> None:
    bar = tmp_path / "demo"
    shutil.copytree(DEMO, bar)
    shelf = bar / "shelf.csv"
    text = shelf.read_text(encoding="utf-8")
    assert "gin,700 ml,21.50," in text
    shelf.write_text(text.replace("gin,700 ml,21.50,", "gin,700 ml,,"), encoding="utf-8")

    def asked(*arguments: str) -> Result:
        return CliRunner().invoke(main, ["--bar", str(bar), "check", "sour", *arguments])

    poured = asked("--with", "gin")
    assert poured.exit_code == 0
    assert "cost     not known: no price for gin, London dry style" in poured.output
    refused = asked("--cost", "<=3")
    assert refused.exit_code == 2
    assert "or leave it out with --without" in " ".join(refused.stderr.split())
    assert asked("--cost", "<=3", "--without", "gin", "--why").exit_code == 0
    assert asked("--cost", "<=0.50", "--without", "gin").exit_code == 1


def test_several_guests_get_a_verdict_each_from_toml_and_from_lines(tmp_path: Path) -> None:
    toml = tmp_path / "guests.toml"
    toml.write_text(TWO, encoding="utf-8")
    lines = tmp_path / "guests.jsonl"
    lines.write_text(
        '{"name": "table 4", "without": ["dairy", "nuts"], "with": "mezcal"}\n\n'
        '{"name": "table 5", "profile": "duo", "standard_drinks": "<=0.5", "drier": 1}\n',
        encoding="utf-8",
    )
    assert [each.guest for each in read_guests(toml)] == [each.guest for each in read_guests(lines)]
    said = run("sour", "--requests", str(lines))
    assert said.exit_code == 1
    assert "table 4: yes, sour." in said.output
    assert "table 5: no." in said.output
    found = document("sour", "--requests", str(toml))
    verdicts = found["verdicts"]
    assert isinstance(verdicts, list)
    assert [(v["name"], v["status"]) for v in verdicts] == [
        ("table 4", "optimal"),
        ("table 5", "impossible"),
    ]
    assert verdicts[1]["conflicts"]
    assert verdicts[1]["ways_out"]


@pytest.mark.parametrize(
    ("name", "text", "said"),
    [
        ("g.toml", "[[guests]]\nname = 'a'\nwithout = ['milkk']\n", "g.toml, line 1"),
        ("g.toml", "[[guests]]\nname = 'a'\ndrier = 'very'\n", "g.toml, line 3"),
        ("g.toml", "[[guests]]\nname = 'a'\nwhisper = 1\n", "g.toml, line 3"),
        ("g.toml", "[[guests]]\nname = 'a'\nprofile = 'sowr'\n", "Did you mean sour"),
        ("g.toml", "guests = 3\n", "is not a list of guests"),
        ("g.toml", "", "there is no guest in the file"),
        ("g.jsonl", '{"name": "a"}\n{"name": \n', "g.jsonl, line 2"),
        ("g.jsonl", '["a"]\n', "a guest is not written like that"),
        ("g.jsonl", '{"name": "a", "abv": "17 ml"}\n', "g.jsonl, line 1"),
    ],
)
def test_a_slip_in_the_file_is_named_before_anybody_is_answered(
    tmp_path: Path, name: str, text: str, said: str
) -> None:
    file = tmp_path / name
    file.write_text(text, encoding="utf-8")
    result = run("sour", "--requests", str(file))
    assert result.exit_code == 2
    assert result.stdout == ""
    assert said in " ".join(result.stderr.split())


def test_without_a_profile_nor_a_file_there_is_nothing_to_check() -> None:
    assert run().exit_code == 2


def test_a_profiles_own_limit_is_passed_by_on_request() -> None:
    wish = ("highball", "--abv", "<=3%")
    refused = run(*wish)
    assert refused.exit_code == 1
    assert "add --beyond abv" in refused.output
    found = document(*wish, "--beyond", "abv")
    assert finished(found, "abv_pct") <= 3.0
    assert run(*wish, "--beyond", "volume").exit_code == 1
    slip = run(*wish, "--beyond", "abvv")
    assert slip.exit_code == 2
    assert "Did you mean abv" in slip.stderr


def test_a_limit_in_grams_of_sugar_is_on_the_whole_drink() -> None:
    found = document("sour", "--sugar", "<=5 g")
    assert 0 < finished(found, "sugar_total_g") <= 5.0
    share, volume = finished(found, "sugar_g_100ml"), finished(found, "volume_ml")
    assert finished(found, "sugar_total_g") == pytest.approx(share * volume / 100)
    refused = run("bollard-sour", "--sugar", "<=1 g")
    assert refused.exit_code == 1
    assert "all sugar at most 1 g (as asked)" in refused.output
    assert "all sugar" not in run("bollard-sour").output


def test_what_is_best_may_differ_from_guest_to_guest(tmp_path: Path) -> None:
    file = tmp_path / "guests.jsonl"
    file.write_text(
        '{"name": "a", "goal": "cheapest"}\n{"name": "b"}\n{"name": "c", "sugar": "<=5 g"}\n',
        encoding="utf-8",
    )
    verdicts = document("bollard-sour", "--requests", str(file))["verdicts"]
    assert isinstance(verdicts, list)
    costs = [verdict["answer"]["finished"]["cost"] for verdict in verdicts[:2]]
    assert costs[0] < costs[1]
    file.write_text('{"name": "a", "goal": "tastiest"}\n', encoding="utf-8")
    slip = run("bollard-sour", "--requests", str(file))
    assert slip.exit_code == 2
    assert "not a goal" in slip.stderr


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (("--why",), "--why goes with one guest"),
        (("--alternatives", "2"), "--alternatives goes with one guest"),
    ],
)
def test_an_option_without_effect_on_a_file_of_guests_is_refused(
    options: tuple[str, ...], said: str, tmp_path: Path
) -> None:
    file = tmp_path / "guests.toml"
    file.write_text(TWO, encoding="utf-8")
    result = run("sour", "--requests", str(file), *options)
    assert result.exit_code == 2
    assert said in result.stderr


def test_going_beyond_a_limit_that_a_profile_has_not_is_refused() -> None:
    result = run("sour", "--beyond", "cost")
    assert result.exit_code == 2
    assert "the profile sour has no limit on cost" in result.stderr


def test_a_garnish_that_the_guest_avoids_is_said_to_be_left_off(tmp_path: Path) -> None:
    served = " ".join(run("julep").output.split())
    said = " ".join(run("julep", "--without", "mint").output.split())
    assert "with 8 mint leaves" in served
    assert "without 8 mint leaves" in said
    guests = tmp_path / "guests.jsonl"
    guests.write_text('{"profile": "julep", "without": "mint"}\n', encoding="utf-8")
    several = " ".join(run("--requests", str(guests)).output.split())
    assert "Without its garnish: 8 mint leaves" in several


def test_a_guest_does_without_a_thing_and_not_without_its_absence() -> None:
    said = " ".join(run("cream", "--without", "no dairy").output.split())
    assert "without dairy (as asked)" in said
    assert "if dairy may be in it" in said
    assert "Left out for 'no dairy'" in said


def test_a_lighter_drink_says_than_what_it_is_lighter() -> None:
    said = " ".join(run("sour", "--lighter").output.split())
    found = re.search(r"Lighter than what would be served otherwise, which has (\S+) % vol", said)
    assert found is not None
    assert f"strength {found[1]} % vol" in " ".join(run("sour").output.split())
