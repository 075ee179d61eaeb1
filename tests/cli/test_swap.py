"""The command `swap`: side by side, in text and in a document; what it saves and how it ends."""

import json
import re
import shlex
import shutil
import tomllib
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from solver.cli.main import main
from solver.clock import Clock
from tests.open_bars import OPEN

DEMO = Path(__file__).parents[2] / "demo"


@pytest.fixture
def bar(tmp_path: Path) -> Path:
    folder = tmp_path / "bar"
    shutil.copytree(DEMO, folder)
    return folder


def run(bar: Path, *arguments: str) -> Result:
    return CliRunner().invoke(main, ["swap", *arguments, "--bar", str(bar)], obj=OPEN)


def document(bar: Path, *arguments: str, exit_code: int = 0) -> dict[str, Any]:
    result = run(bar, *arguments, "--json")
    assert result.exit_code == exit_code, result.output
    found: dict[str, Any] = json.loads(result.stdout)
    return found


def flat(text: str) -> str:
    return " ".join(text.split())


def test_before_and_after_stand_side_by_side() -> None:
    result = run(DEMO, "last-ferry", "almond-spice-syrup", "honey-syrup-2-1")
    assert result.exit_code == 0
    lines = [flat(line) for line in result.output.splitlines()]
    assert "1/2 oz - toasted almond and spice syrup" in lines
    assert "- 1/2 oz honey syrup, 2:1 by weight" in lines
    assert "kept before after" in lines
    assert any(line.startswith("strength 8.9 8.9 8.9 % vol") for line in lines)
    assert any(line.startswith("cost - 2.10 ") for line in lines)
    told = "gained: of animal origin: honey; gone: contains nuts"
    assert told in flat(result.output)
    assert "By sugar alone, 1/2 oz of" in result.output
    assert "no smaller a change of" in flat(result.output)


def test_a_caution_that_comes_or_goes_is_marked(bar: Path) -> None:
    """Chickpea comes with aquafaba and goes with it; raw egg the other way round."""
    result = run(bar, "dry-dock", "aquafaba", "egg-white")
    said = flat(result.output)
    assert "Caution, gone: Chickpea: people allergic to lupin" in said
    assert "Caution, new: Raw egg: use pasteurised egg" in said
    assert "Caution: Raw egg" not in said
    found = document(bar, "dry-dock", "aquafaba", "egg-white", exit_code=result.exit_code)
    assert [each.split(":")[0] for each in found["cautions_lost"]] == ["Chickpea"]
    assert [each.split(":")[0] for each in found["cautions_gained"]] == ["Raw egg"]


def test_what_cannot_stay_says_what_moves_and_what_clashes() -> None:
    result = run(DEMO, "harbour-light", "rye-whiskey", "red-bitter")
    assert result.exit_code == 1
    said = flat(result.output)
    assert "Held to what it was when it was approved on 2026-04-30" in said
    assert "instead of 18.2 % vol, " in said
    assert "noticeable differences less" in said
    assert "This cannot be held: strength at least 17.20 % vol." in said
    assert "gained: allergens not known of red bitter aperitif" in said


def test_what_misses_by_little_is_said_as_what_to_pour() -> None:
    """What stood in the way was 0.3 mL, which nobody sees, and the line is not the brim."""
    result = run(DEMO, "harbour-light", "rye-whiskey", "bourbon")
    assert result.exit_code == 1
    assert (
        "Pour 2 1/4 oz bourbon whiskey: 10 mL longer and a little over the line of its coupe, "
        "otherwise the same." in flat(result.output)
    )


def test_what_comes_by_the_piece_stands_in_by_the_piece() -> None:
    """Twice half an ounce is less than the white of an egg, and an egg it is."""
    found = document(DEMO, "dry-dock", "aquafaba", "egg-white")
    assert {each["ingredient"]: each["to"] for each in found["changes"]}["egg-white"] == "1 piece"
    assert found["gained"][0] == {"kind": "contains", "what": "egg"}


def test_what_is_stronger_stands_in_by_its_strength_and_not_unasked() -> None:
    """Four ounces of espresso are too much coffee."""
    found = document(DEMO, "last-ferry", "brewed-coffee", "espresso", exit_code=1)
    poured = {each["ingredient"]: each["to"] for each in found["changes"]}
    assert poured["espresso"] == "2 1/2 oz"
    said = flat(run(DEMO, "last-ferry", "brewed-coffee", "espresso").output)
    (asked,) = re.findall(r"With water to the same amount: `equipour swap ([^`]+)`", said)
    with_water = document(DEMO, *shlex.split(asked))
    poured = {each["ingredient"]: each["to"] for each in with_water["changes"]}
    assert (poured["espresso"], poured["water"]) == ("2 oz", "2 oz")
    assert "Nothing on the shelf" in run(DEMO, "last-ferry", "brewed-coffee").output


def test_that_no_amount_is_known_is_not_said_of_the_glass() -> None:
    asked = ("rope-store", "bourbon", "demerara-sugar")
    result = run(DEMO, *asked)
    assert "How much demerara (raw cane) sugar would do is not known." in flat(result.output)
    assert "gained" not in result.output
    asked = ("rope-store", "bourbon", "aromatic-bitters")  # of which two dashes are in it
    assert "How much aromatic bitters would do is not known." in flat(run(DEMO, *asked).output)
    asked = ("rope-store", "aromatic-bitters", "whole-egg")  # two dashes
    assert "How much whole egg, raw would do is not known." in flat(run(DEMO, *asked).output)
    found = document(DEMO, "weighbridge", "amaro", "butter", exit_code=1)
    assert found["answer"] is None
    assert {"kind": "contains", "what": "milk"} in found["gained"]
    assert found["lost"] == []


def test_a_finer_jigger_is_offered_where_it_would_do() -> None:
    asked = ("dry-dock", "rhubarb-syrup", "rich-syrup")
    found = document(DEMO, *asked, exit_code=1)
    assert found["finer"]["pour_set"] == "eighth-ounce"
    assert "With --pour-set eighth-ounce it could: " in run(DEMO, *asked).output
    finer = document(DEMO, *asked, "--pour-set", "eighth-ounce")
    assert finer["status"] == "kept"
    assert finer["answer"]["finished"] == pytest.approx(found["finer"]["answer"]["finished"])


def test_the_document_names_what_stands_in_and_other_kinds() -> None:
    found = document(DEMO, "rope-store", "bourbon")
    assert found["task"] == "swap"
    assert (found["out"], found["in"], found["status"]) == (["bourbon"], ["rye-whiskey"], "kept")
    assert found["changed_pours"] == 1
    assert {each["measure"] for each in found["kept"]} == {"abv", "sugar", "acid", "volume"}
    assert all(abs(each["distance"]) <= 1 for each in found["kept"])
    assert len({each["in"][0] for each in found["alternatives"]}) == len(found["alternatives"])


def test_nothing_that_could_stand_in_is_an_answer_too() -> None:
    result = run(DEMO, "low-water", "soda-water")
    assert result.exit_code == 1
    assert "Nothing on the shelf is known to stand in for soda water." in result.output
    assert "Name what you would pour" in result.output
    assert run(DEMO, "low-water", "soda-water", "tonic-water").exit_code in (0, 1)
    found = document(DEMO, "low-water", "soda-water", exit_code=1)
    assert found["status"] == "impossible"


def test_what_may_not_stand_in_does_not() -> None:
    asked = ("last-ferry", "almond-spice-syrup")
    found = document(DEMO, *asked, "--without", "honey", "--without", "ginger-syrup")
    keys = {found["in"][0], *(each["in"][0] for each in found["alternatives"])}
    assert "simple-syrup" in keys
    assert keys.isdisjoint({"honey-syrup-2-1", "ginger-syrup"})


def test_a_split_shares_what_there_was() -> None:
    found = document(DEMO, "rope-store", "bourbon", "--split", "bourbon + rye-whiskey")
    pours = {pour["ingredient"]: pour["ml"] for pour in found["answer"]["pours"]}
    assert pours["bourbon"] == pours["rye-whiskey"] == 30.0


def test_a_saved_swap_keeps_what_was_approved_and_its_comments(bar: Path) -> None:
    path = bar / "specs" / "rope-store.toml"
    text = path.read_text(encoding="utf-8")
    assert CliRunner().invoke(main, ["assess", "rope-store", "--approve", "--bar", str(bar)])
    approved = tomllib.loads(path.read_text(encoding="utf-8"))["approved"]
    result = run(bar, "rope-store", "bourbon", "--save", "Rope Store", "--replace")
    assert result.exit_code == 0
    assert f"saved in {path}" in result.stderr
    after = path.read_text(encoding="utf-8")
    assert after.startswith(text.splitlines()[0])
    spec = tomllib.loads(after)
    assert spec["approved"] == approved
    assert spec["pours"][0] == {"part": "base", "ingredient": "rye-whiskey", "amount": "2 oz"}
    assert spec["pours"][1:] == tomllib.loads(text)["pours"][1:]


def test_another_name_leaves_the_old_spec_alone(bar: Path) -> None:
    before = (bar / "specs" / "rope-store.toml").read_bytes()
    result = run(bar, "rope-store", "bourbon", "--save", "Rope Walk")
    assert result.exit_code == 0
    assert (bar / "specs" / "rope-store.toml").read_bytes() == before
    saved = tomllib.loads((bar / "specs" / "rope-walk.toml").read_text(encoding="utf-8"))
    assert saved["name"] == "Rope Walk"


def test_another_drink_is_not_saved(bar: Path) -> None:
    result = run(bar, "harbour-light", "rye-whiskey", "vodka", "--save", "Harbour Dark")
    assert result.exit_code == 1
    assert "nothing was saved, as it would be another drink" in result.stderr
    assert not (bar / "specs" / "harbour-dark.toml").exists()


def test_without_time_for_a_proof_nothing_is_claimed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("solver.clock.Clock.of", lambda *_: Clock(0.0))
    result = run(DEMO, "rope-store", "bourbon", "gin")
    assert result.exit_code == 3
    assert result.stdout == ""
    assert "the time was up before the nearest drink was proven." in result.stderr


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (("harbour-light", "gin"), "pours no 'gin'"),
        (("harbour-light", "moonshine"), "not an ingredient known here"),
        (("harbour-bright", "gin"), "Did you mean harbour-light?"),
        (("harbour-light", "rye-whiskey", "gin", "--split", "gin + vodka"), "leave out IN"),
        (("harbour-light", "rye-whiskey", "--split", "gin"), "does not split"),
        (("harbour-light", "rye-whiskey", "--replace"), "goes with --save"),
        (("harbour-light", "rye-whiskey", "--without", "moonshine"), "known to be avoided"),
    ],
)
def test_a_slip_is_one_sentence(arguments: tuple[str, ...], says: str) -> None:
    result = run(DEMO, *arguments)
    assert result.exit_code == 2
    assert says in result.stderr
    assert result.stderr.count("\n") == 1
