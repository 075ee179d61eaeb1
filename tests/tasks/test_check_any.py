"""A request of every profile: what is said to have none has none, and the best come first."""

from __future__ import annotations

import json
import math
from functools import cache
from pathlib import Path

import pytest
from click.testing import CliRunner

from solver.cli.main import main
from solver.clock import Clock
from solver.pantry.bar import Bar
from solver.pantry.load_bar import load_bar
from solver.pantry.profile_files import find_profile, profile_files
from solver.requests.asked_drink import AskedDrink
from solver.requests.read_request import WrittenRequest, read_request
from solver.requests.request import Request
from solver.search.milp.cpsat import CpSat
from solver.tasks.check_any import MOST_PROPOSED, AnyProfileResult, check_any
from solver.tasks.design import design
from solver.tasks.design_result import Status
from solver.tasks.why_no_profile import why_no_profile
from tests.open_bars import OPEN
from tests.tasks.bars import DEMO, demo, demo_with

ASKED = WrittenRequest(wanted=("mezcal",), unwanted=("egg",), measures={"abv": ("..14%",)})
BOTTLES = (
    "gin", "mezcal", "aged-rum", "orange-liqueur", "amaro", "sweet-vermouth", "dry-vermouth",
    "sparkling-wine", "aromatic-bitters", "lemon-juice", "lime-juice", "simple-syrup",
    "ginger-syrup", "heavy-cream", "egg-white", "soda-water", "tonic-water", "brewed-coffee",
    "strong-black-tea", "water",
)  # fmt: skip


@cache
def some_bottles() -> Bar:
    """A third of the demonstration bar, which fills parts of every sort."""
    return demo_with(*BOTTLES)


@cache
def asked() -> AnyProfileResult:
    return check_any(some_bottles(), read_request(ASKED, some_bottles()), CpSat())


def test_every_profile_is_answered_as_it_is_alone() -> None:
    bar, found = some_bottles(), asked()
    files = profile_files(bar.profiles)
    offered = [name for name in sorted(files) if not find_profile(name, files).only_longer]
    for name in offered[::8]:
        request = read_request(ASKED, bar)
        alone = design(find_profile(name, files), bar, request, CpSat())
        assert (name in found.none) == (alone.status is Status.IMPOSSIBLE), name
    assert found.asked == len(offered) == found.having + len(found.none)
    assert found.open == ()


def test_the_three_best_are_of_different_families_and_keep_the_wishes() -> None:
    found = asked()
    assert len(found.best) == MOST_PROPOSED
    roots = {each.found.profile.origin[-1].stem for each in found.best}
    assert len(roots) == MOST_PROPOSED
    off = [each.found.targets.off for each in found.best if each.found.targets]
    assert off == sorted(off)
    for each in found.best:
        answer = each.found.answer
        assert answer is not None
        assert "mezcal" in {item.key for item in answer.ingredients}
        assert "egg" not in answer.guest.told.allergens
        assert -1e-6 <= each.from_usual < math.inf


def test_what_nobody_restricts_is_the_most_usual_of_its_profile() -> None:
    bar = some_bottles()
    found = check_any(bar, read_request(WrittenRequest(), bar), CpSat())
    assert all(abs(each.from_usual) < 0.01 for each in found.best)


def test_no_time_is_no_proof() -> None:
    bar = demo()
    found = check_any(bar, read_request(WrittenRequest(seconds=0.0), bar), CpSat())
    assert found.best == ()
    assert len(found.open) + len(found.none) == found.asked
    assert found.open


def run(*arguments: str) -> tuple[int, str]:
    result = CliRunner().invoke(main, ["--bar", str(DEMO), "check", "any", *arguments], obj=OPEN)
    return result.exit_code, result.output


def test_a_guest_is_answered_yes_with_drinks() -> None:
    code, said = run("--with", "mezcal", "--without", "egg")
    assert code == 0
    assert said.startswith("Yes: ")
    assert "52 profiles were asked" in said
    said = " ".join(said.split())
    assert "on target first, then what comes nearest to the most usual of its own profile." in said
    assert "The shelf has a more usual sour-rocks." in said
    assert "times as usual" not in said


def test_the_document_counts_the_profiles() -> None:
    code, said = run("--abv", "<=5%", "--json")
    found = json.loads(said)
    assert code == 0
    assert found["profiles"]["asked"] == found["profiles"]["having"] + len(
        found["profiles"]["none"]
    )
    named = [each["profile"] for each in found["answers"]]
    assert named == ["zero-proof-long", "zero-proof-sour", "aperitif-low"]


def test_a_word_that_nobody_knows_is_a_mistake_once() -> None:
    code, said = run("--without", "frobnicate")
    assert code == 2
    assert said.count("frobnicate") == 1


def on_a_shelf(folder: Path, *keys: str) -> str:
    (folder / "bar.toml").write_text('name = "made up"\n')
    rows = "".join(f"{key},700 ml,20,2 bottles\n" for key in keys)
    (folder / "shelf.csv").write_text(f"ingredient,bottle,price,on_hand\n{rows}")
    return str(folder)


FEW = ("gin", "lemon-juice", "lime-juice", "simple-syrup", "soda-water")


def said_of(bar: str, *arguments: str) -> str:
    result = CliRunner().invoke(main, ["--bar", bar, "check", "any", *arguments])
    assert result.exit_code == 1
    return result.output


def test_what_is_not_on_the_shelf_is_said_and_what_buying_it_would_pour(tmp_path: Path) -> None:
    said = said_of(on_a_shelf(tmp_path, *FEW), "--with", "mezcal")
    assert "It is not on the shelf: with mezcal (as asked)." in said
    assert "if you bought mezcal (" in said
    assert "oz mezcal" in said


def test_what_some_profile_can_keep_is_no_conflict_by_itself(tmp_path: Path) -> None:
    """No zero-proof sour is of gin, but a sour is."""
    on_a_shelf(tmp_path, *FEW)
    bar = load_bar(tmp_path)
    request = read_request(WrittenRequest(wanted=("gin",), unwanted=("alcohol",)), bar)
    asked = [AskedDrink.of(bar.profile(name), bar, request) for name in ("sour", "zero-proof-sour")]
    why = why_no_profile(asked, bar, CpSat(), Clock.of(60), lambda *_: 0.0, lambda _: None)
    said = [[demand.says for demand in conflict] for conflict in why.conflicts]
    gin = f"with {bar.library.find('gin').name}"
    assert said == [["without alcohol"], [gin, "without alcohol"]]


@pytest.mark.parametrize("nearest", ["sour", "collins"])
def test_of_purchases_that_serve_the_one_whose_drink_is_most_in_keeping_is_named(
    nearest: str, tmp_path: Path
) -> None:
    on_a_shelf(tmp_path, "gin", "lemon-juice", "soda-water")
    bar, request = load_bar(tmp_path), Request()
    asked = [AskedDrink.of(bar.profile(name), bar, request) for name in ("sour", "collins")]

    def from_usual(_: object, posed: AskedDrink, __: object) -> float:
        return 0.0 if posed.profile.name == nearest else 1.0

    why = why_no_profile(asked, bar, CpSat(), Clock.of(60), from_usual, lambda _: None)
    assert why.bought is not None
    assert why.bought.profile == nearest


def test_one_purchase_is_named_where_nothing_is_without_what_is_avoided(tmp_path: Path) -> None:
    bar = on_a_shelf(tmp_path, *(key for key in FEW if key != "simple-syrup"))
    found = json.loads(said_of(bar, "--without", "alcohol", "--json"))["in_the_way"]
    assert found["conflicts"] == [["without alcohol (as asked)"]]
    opened = load_bar(tmp_path)
    (bought,) = (opened.library.find(key) for key in found["bought"])
    more = opened.with_bottle(bought)
    request = read_request(WrittenRequest(unwanted=("alcohol",)), more)
    profile = find_profile(found["profile"], profile_files(None))
    assert design(profile, more, request, CpSat()).answer is not None


def test_what_is_past_its_last_day_and_what_is_avoided_too_is_said(tmp_path: Path) -> None:
    bar = on_a_shelf(tmp_path, *FEW)
    shelf = tmp_path / "shelf.csv"
    dated = shelf.read_text().replace("on_hand\n", "on_hand,use_by\n")
    shelf.write_text(f"{dated}mezcal,700 ml,20,1 bottle,2020-01-01\n")
    said = said_of(bar, "--with", "mezcal", "--without", "alcohol")
    assert said.splitlines()[0] == "No."
    assert "Its last day was 2020-01-01: with mezcal" in said
    assert "These cannot hold together:\n  with mezcal (as asked)\n  without alcohol" in said
    assert "if you bought" not in said
