"""A request of every profile: what is said to have none has none, and the best come first."""

from __future__ import annotations

import json
import math
from functools import cache

from click.testing import CliRunner

from solver.cli.main import main
from solver.pantry.profile_files import find_profile, profile_files
from solver.requests.read import Written, read_request
from solver.search.milp.cpsat import CpSat
from solver.tasks.check_any import MOST, Anything, check_any
from solver.tasks.design import Status, design
from tests.tasks.bars import DEMO, demo

ASKED = Written(wanted=("mezcal",), unwanted=("egg",), measures={"abv": ("..14%",)})


@cache
def asked() -> Anything:
    return check_any(demo(), read_request(ASKED, demo()), CpSat())


def test_every_profile_is_answered_as_it_is_alone() -> None:
    bar, found = demo(), asked()
    files = profile_files(bar.profiles)
    for name in sorted(files)[::8]:
        request = read_request(ASKED, bar)
        alone = design(find_profile(name, files), bar, request, CpSat())
        assert (name in found.none) == (alone.status is Status.IMPOSSIBLE), name
    assert found.asked == len(files) == found.having + len(found.none)
    assert found.open == ()


def test_the_three_best_are_of_different_families_and_keep_the_wishes() -> None:
    found = asked()
    assert len(found.best) == MOST
    roots = {each.found.profile.origin[-1].stem for each in found.best}
    assert len(roots) == MOST
    off = [each.found.targets.off for each in found.best if each.found.targets]
    assert off == sorted(off)
    for each in found.best:
        answer = each.found.answer
        assert answer is not None
        assert "mezcal" in {item.key for item in answer.ingredients}
        assert "egg" not in answer.guest.told.allergens
        assert -1e-6 <= each.from_usual < math.inf


def test_what_nobody_restricts_is_the_most_usual_of_its_profile() -> None:
    bar = demo()
    found = check_any(bar, read_request(Written(), bar), CpSat())
    assert all(abs(each.from_usual) < 0.01 for each in found.best)


def test_no_time_is_no_proof() -> None:
    bar = demo()
    found = check_any(bar, read_request(Written(seconds=0.0), bar), CpSat())
    assert found.best == ()
    assert len(found.open) + len(found.none) == found.asked
    assert found.open


def run(*arguments: str) -> tuple[int, str]:
    result = CliRunner().invoke(main, ["--bar", str(DEMO), "check", "any", *arguments])
    return result.exit_code, result.output


def test_a_guest_is_answered_yes_with_drinks_or_no() -> None:
    code, said = run("--with", "mezcal", "--without", "egg")
    assert code == 0
    assert said.startswith("Yes: ")
    assert "49 profiles were asked" in said
    said = " ".join(said.split())
    assert "on target first, then what comes nearest to the most usual of its own profile." in said
    assert "The shelf has a more usual daisy." in said
    assert "times as usual" not in said
    code, said = run("--without", "alcohol", "--with", "gin")
    assert (code, said.splitlines()[0]) == (
        1,
        "No. Of one profile, check says what stands in the way.",
    )


def test_the_document_counts_the_profiles() -> None:
    code, said = run("--abv", "<=5%", "--json")
    found = json.loads(said)
    assert code == 0
    assert found["profiles"]["asked"] == found["profiles"]["having"] + len(
        found["profiles"]["none"]
    )
    assert [each["profile"] for each in found["answers"]] == ["zero-proof-sour", "aperitif-low"]


def test_a_word_that_nobody_knows_is_a_mistake_once() -> None:
    code, said = run("--without", "frobnicate")
    assert code == 2
    assert said.count("frobnicate") == 1
