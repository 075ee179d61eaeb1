"""Assessing a drink: a spec of the bar, a file, or pours; against a profile, in two stages."""

import datetime
import json
import shutil
import tomllib
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from solver.cli.main import main
from tests.open_bars import OPEN

DEMO = Path(__file__).parents[2] / "demo"
SOUR = ("2 oz gin", "3/4 oz lemon juice", "3/4 oz simple-syrup")


def run(*arguments: str, bar: Path = DEMO) -> Result:
    return CliRunner().invoke(main, [*arguments, "--bar", str(bar)], obj=OPEN)


def document(*arguments: str, bar: Path = DEMO) -> dict[str, Any]:
    result = run("assess", *arguments, "--json", bar=bar)
    assert result.exit_code == 0, result.output
    found: dict[str, Any] = json.loads(result.stdout)
    return found


def copied(folder: Path) -> Path:
    bar = folder / "bar"
    shutil.copytree(DEMO, bar)
    return bar


@pytest.mark.parametrize(
    "drink", ["harbour-light", "Harbour  LIGHT", str(DEMO / "specs" / "harbour-light.toml")]
)
def test_a_spec_is_found_by_file_name_by_name_and_by_path(drink: str) -> None:
    answer = document(drink)["answer"]
    assert answer["name"] == "Harbour Light"
    assert [pour["ingredient"] for pour in answer["pours"]] == [
        "rye-whiskey", "lemon-juice", "rhubarb-syrup", "saline-solution",
    ]  # fmt: skip


@pytest.mark.parametrize("path", sorted((DEMO / "specs").glob("*.toml")), ids=lambda p: p.stem)
def test_every_drink_on_the_card_keeps_its_own_profile(path: Path) -> None:
    found = document(path.stem)
    assert found["departures"] == []
    assert [limit["says"] for limit in found["limits"] if not limit["kept"]] == []
    assert sum(abs(aim["distance"]) for aim in found["aims"]) == pytest.approx(
        found["answer"]["off_aim"]
    )


def test_the_spec_s_own_profile_holds_unless_another_is_asked_for() -> None:
    assert document("harbour-light")["answer"]["profile"] == "bollard-sour"
    other = document("harbour-light", "--profile", "stirred")
    assert other["answer"]["profile"] == "stirred"
    broken = {limit["measure"] for limit in other["limits"] if not limit["kept"]}
    assert broken == {"abv", "acid", "volume"}
    assert any("lemon" in departure for departure in other["departures"])


def test_another_profile_measures_the_drink_and_does_not_change_how_it_is_made() -> None:
    own, other = document("harbour-light"), document("harbour-light", "--profile", "stirred")
    assert other["answer"]["finished"] == own["answer"]["finished"]
    assert other["answer"]["technique"] == own["answer"]["technique"] == "shake"


def test_a_broken_limit_is_said_in_words() -> None:
    result = run("assess", "4 oz gin", *SOUR[1:], "--profile", "sour")
    assert result.exit_code == 0
    assert "BROKEN   volume" in result.output
    assert "over" in result.output
    assert "4 oz of gin" in result.output


def test_the_technique_that_is_asked_for_comes_first() -> None:
    shaken, stirred = document("harbour-light"), document("harbour-light", "--technique", "stir")
    assert stirred["answer"]["technique"] == "stir"
    assert stirred["answer"]["finished"]["abv_pct"] > shaken["answer"]["finished"]["abv_pct"]


def test_a_technique_that_nothing_says_is_marked_as_assumed() -> None:
    assert document(*SOUR)["answer"]["technique_assumed"]
    assert "assumed" in run("assess", *SOUR).output
    assert not document(*SOUR, "--technique", "shake")["answer"]["technique_assumed"]


def test_a_topper_melts_no_ice() -> None:
    shaken = document(*SOUR, "--technique", "shake")["answer"]
    topped = document(*SOUR, "--top", "2 oz soda water", "--technique", "shake")["answer"]
    assert topped["finished"]["melt_ml"] == pytest.approx(shaken["finished"]["melt_ml"])
    all_shaken = document(*SOUR, "2 oz soda water", "--technique", "shake")["answer"]
    assert all_shaken["finished"]["melt_ml"] > topped["finished"]["melt_ml"]


def test_a_part_that_its_profile_tops_with_is_a_topper() -> None:
    pours = document(*SOUR, "3 oz soda water", "--profile", "fizz")["answer"]["pours"]
    assert [pour["stage"] for pour in pours] == ["first", "first", "first", "top"]


def test_more_than_the_glass_holds_breaks_the_limit_of_the_glass() -> None:
    limits = document(*SOUR, "--glass", "coupe-small")["limits"]
    assert [(limit["name"], limit["kept"]) for limit in limits] == [("glass: coupe-small", False)]


@pytest.mark.parametrize(
    ("made", "profile", "departs"),
    [
        ("shake", "frozen", True),
        ("build", "equal-parts", True),
        ("shake", "sour-foam", False),
        ("highball", "collins", False),
    ],
)
def test_a_drink_made_otherwise_than_its_profile_is_no_clean_fit(
    made: str, profile: str, departs: bool
) -> None:
    found = document(*SOUR, "--technique", made, "--profile", profile)
    assert any(each.startswith("it is ") for each in found["departures"]) is departs


def test_pours_fill_the_parts_so_that_the_drink_departs_as_little_as_can_be() -> None:
    """Two fortified wines are a base and a modifier, not two bases."""
    found = document("1 1/2 oz fino-sherry", "1 1/2 oz sweet-vermouth", "--profile", "stirred-low")
    assert found["departures"] == []
    assert [pour["part"] for pour in found["answer"]["pours"]] == ["base", "modifier"]


def test_what_fills_a_part_is_counted_together_too() -> None:
    pours = ("1 oz gin", "1 1/2 oz sweet-vermouth", "1 1/2 oz dry-vermouth")
    found = document(*pours, "--technique", "stir", "--profile", "stirred")
    assert found["departures"] == ["modifier: 3 oz in all, 1/4..2 1/4 oz wanted"]


def test_water_that_sugar_is_dissolved_in_is_no_departure() -> None:
    pours = ("2 oz bourbon", "1 cube sugar-cube", "2 dashes aromatic bitters", "1 tsp water")
    assert document(*pours, "--profile", "old-fashioned")["departures"] == []


@pytest.mark.parametrize("said", ["1 1/2 oz", "45 ml"])
def test_a_range_in_ounces_takes_what_the_trade_says_in_millilitres(said: str) -> None:
    """45 ml are 1 1/2 oz, whether an ounce is 29.57 or 30 ml."""
    pours = (f"{said} gin", "1 oz lemon-juice", "1/2 oz simple-syrup", "2 oz soda-water")
    result = CliRunner().invoke(
        main, ["assess", *pours, "--profile", "buck", "--json"], env={"EQUIPOUR_BAR": ""}
    )
    found = [each for each in json.loads(result.stdout)["departures"] if "gin" in each]
    assert found == []


def test_a_drink_that_needs_a_large_glass_of_its_name_says_so() -> None:
    """The demo bar has no glass of its own for this one; its own coupe is a limit."""
    pours = ("2 oz gin", "3/4 oz lemon-juice", "3/4 oz simple-syrup", "--technique", "shake")
    said = run("assess", *pours, "--glass", "martini").output
    assert "Glass: a stemmed cone of 180 mL or more to the brim" in " ".join(said.split())
    assert "Glass:" not in run("assess", *pours, "--glass", "coupe").output


def test_what_has_no_price_leaves_the_cost_unknown_and_says_so() -> None:
    pours = ("2 oz pisco", *SOUR[1:])
    assert document(*pours)["answer"]["finished"]["cost"] is None
    assert "not known" in run("assess", *pours).output


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["harbor-light"], "Did you mean harbour-light"),
        (["2 oz rye wiskey"], "Did you mean rye-whiskey"),
        (["0 oz gin"], "pours nothing"),
        (["nan oz gin"], "'nan oz' is not a pour"),
        (["two oz gin"], "'two oz' is not a pour"),
        (["a gin"], "is not a spec of this bar"),
        (["2 oz"], "does not say of what"),
        (["2 g gin", "1 piece gin"], "not counted"),
        ([*SOUR, "--technique", "shaek"], "Did you mean shake"),
        ([*SOUR, "--profile", "sowr"], "Did you mean sour"),
        ([*SOUR, "--glass", "bucket"], "not a glass"),
        ([str(DEMO / "specs" / "none.toml")], "no such file"),
    ],
)
def test_bad_input_gets_one_sentence_and_exit_code_2(arguments: list[str], said: str) -> None:
    result = run("assess", *arguments)
    assert result.exit_code == 2
    assert said in result.output
    assert "Traceback" not in result.output


@pytest.mark.parametrize("key", ["profile", "glass"])
def test_what_a_spec_names_and_nobody_knows_is_said_with_its_line(key: str, tmp_path: Path) -> None:
    bar = copied(tmp_path)
    spec = bar / "specs" / "harbour-light.toml"
    lines = spec.read_text(encoding="utf-8").splitlines()
    at = next(number for number, line in enumerate(lines) if line.startswith(f"{key} ="))
    lines[at] = f'{key} = "bucket"'
    spec.write_text("\n".join(lines), encoding="utf-8")
    result = run("assess", "harbour-light", bar=bar)
    assert result.exit_code == 2
    assert f"harbour-light.toml, line {at + 1}" in result.output


def test_approving_records_what_the_drink_is_and_changes_nothing_else(tmp_path: Path) -> None:
    bar = copied(tmp_path)
    path = bar / "specs" / "weighbridge.toml"
    before = path.read_text(encoding="utf-8")
    result = run("assess", "weighbridge", "--approve", "--json", bar=bar)
    assert result.exit_code == 0, result.output
    assert f"approved in {path}" in result.stderr
    finished = json.loads(result.stdout)["answer"]["finished"]
    after = path.read_text(encoding="utf-8")
    assert after.startswith(before)
    approved = tomllib.loads(after)["approved"]
    assert approved["date"] == datetime.date(2026, 5, 8)  # as bar.toml says
    assert approved["currency"] == "EUR"
    for key in ("abv_pct", "sugar_g_100ml", "acid_g_100ml", "volume_ml", "ethanol_g", "cost"):
        assert approved[key] == pytest.approx(finished[key], rel=0.02)


def test_what_moved_since_a_drink_was_approved_is_said(tmp_path: Path) -> None:
    bar = copied(tmp_path)
    run("assess", "weighbridge", "--approve", bar=bar)
    assert "nothing that anybody would notice" in run("assess", "weighbridge", bar=bar).output
    shelf = bar / "shelf.csv"
    text = shelf.read_text(encoding="utf-8")
    assert "aged-rum,700 ml,28.30,1.1 bottles,,," in text
    text = text.replace("1.1 bottles,,,", "1.1 bottles,,abv=63%,")
    shelf.write_text(text, encoding="utf-8")
    moved = {each["measure"]: each for each in document("weighbridge", bar=bar)["answer"]["moved"]}
    assert moved["abv"]["to"] > moved["abv"]["from"] + 1
    assert "instead of" in run("assess", "weighbridge", bar=bar).output


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ([*SOUR, "--approve"], "only a spec in a file"),
        (["weighbridge", "--technique", "shake", "--approve"], "as its file has it"),
    ],
)
def test_only_a_spec_as_its_file_has_it_can_be_approved(
    arguments: list[str], said: str, tmp_path: Path
) -> None:
    bar = copied(tmp_path)
    before = (bar / "specs" / "weighbridge.toml").read_bytes()
    result = run("assess", *arguments, bar=bar)
    assert result.exit_code == 2
    assert said in result.output
    assert (bar / "specs" / "weighbridge.toml").read_bytes() == before


def test_every_line_that_is_not_known_is_named_at_once_and_how_to_find_it_said_once() -> None:
    lines = ("2 oz Ballast gin", "1 oz Hawsers", "2 dashes Capstan bitters", "1 oz lime juice")
    result = CliRunner().invoke(main, ["assess", *lines, "--bar", str(DEMO)])
    assert result.exit_code == 2
    for name in ("Ballast gin", "Hawsers", "Capstan bitters"):
        assert f"'{name}' is not an ingredient known here." in result.stderr
    assert result.stderr.count("named by kind, not by brand") == 1
    assert "Did you mean aromatic-bitters" in result.stderr
    assert "`equipour ingredients bitters`" in result.stderr
    assert "unit" not in result.stderr


def test_a_slip_in_a_unit_is_still_one() -> None:
    result = CliRunner().invoke(main, ["assess", "2 ozz gin", "--bar", str(DEMO)])
    assert "'ozz' is not a unit known here" in result.stderr


def test_the_ingredients_of_a_kind_are_listed() -> None:
    result = CliRunner().invoke(main, ["ingredients", "bitters", "--bar", str(DEMO)])
    assert "aromatic-bitters " in result.stdout
    assert "orange-bitters " in result.stdout
    assert "gin" not in result.stdout.split()
    result = CliRunner().invoke(main, ["ingredients", "gin", "--bar", str(DEMO)])
    assert result.stdout.startswith("gin, London dry style  [gin]")


def test_the_glass_that_is_asked_for_counts_before_that_of_the_spec() -> None:
    words = ["--bar", "demo", "assess", "low-water", "--json"]
    own, other = (
        json.loads(CliRunner().invoke(main, [*words, *more], obj=OPEN).stdout)["answer"]["glass"]
        for more in ((), ("--glass", "rocks"))
    )
    assert (own == "rocks", other) == (False, "rocks")
