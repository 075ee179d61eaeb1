"""A longer drink has a top, as a bartender pours it (common practice, no source)."""

from __future__ import annotations

import json

import pytest
from click.testing import CliRunner

from solver.cli.main import main
from solver.pantry.profile_files import load_profiles
from solver.pantry.vocabulary import kind_within
from tests.open_bars import OPEN
from tests.profile_tables import DEMO


def asked(*arguments: str, code: int = 0) -> dict[str, object]:
    typed = [*arguments, "--bar", str(DEMO), "--json"]
    result = CliRunner().invoke(main, typed, obj=OPEN)
    assert result.exit_code == code, result.output
    document: dict[str, object] = json.loads(result.output)
    return document


def poured(document: dict[str, object]) -> dict[str, float]:
    answer = document["answer"]
    assert isinstance(answer, dict)
    return {pour["ingredient"]: pour["ml"] for pour in answer["pours"]}


@pytest.mark.parametrize(
    ("profile", "long"),
    [("sour", "collins"), ("sour-foam", "fizz"), ("old-fashioned", "highball"),
     ("zero-proof-sour", "zero-proof-long"), ("equal-parts", "aperitif-low")],
)  # fmt: skip
def test_a_short_drink_made_longer_is_its_long_one(profile: str, long: str) -> None:
    found = asked("design", profile, "--longer")
    answer, short = found["answer"], found["lengthens"]
    assert isinstance(answer, dict)
    assert isinstance(short, dict)
    assert answer["profile"] == long
    assert short["drink"] == profile
    assert {*short["kept"]} == {*short["kept"]} & set(poured(found))
    assert not {*short["left_out"]} & set(poured(found))
    served = asked("design", profile)["answer"]
    assert isinstance(served, dict)
    assert answer["finished"]["volume_ml"] > served["finished"]["volume_ml"]
    assert answer["finished"]["abv_pct"] <= served["finished"]["abv_pct"]


def test_what_is_under_the_top_is_poured_as_it_was() -> None:
    short, long = poured(asked("design", "sour")), poured(asked("design", "sour", "--longer"))
    assert {key: ml for key, ml in long.items() if key in short} == pytest.approx(short)
    assert set(long) - set(short) == {"soda-water"}


def test_a_spec_is_topped_and_not_poured_larger() -> None:
    found = asked("check", "harbour-light", "--longer")
    lines = poured(found)
    assert lines["soda-water"] > lines["rye-whiskey"] > 0
    assert lines["rye-whiskey"] == pytest.approx(60)
    assert found["lengthens"] == {
        "drink": "Harbour Light",
        "kept": ["rye-whiskey", "lemon-juice", "rhubarb-syrup"],
        "left_out": ["saline-solution"],
    }


@pytest.mark.parametrize(
    ("profile", "top"),
    [("fizz", "soda-water"), ("buck", "ginger-beer"), ("royale", "sparkling-wine")],
)
def test_a_profile_with_a_top_has_more_of_that_alone(profile: str, top: str) -> None:
    short = poured(asked("design", profile))
    long = poured(asked("design", profile, "--longer"))
    assert long.pop(top) > short.pop(top)
    assert long == pytest.approx(short)


def test_a_drink_with_a_top_of_its_own_has_more_of_it() -> None:
    found = asked("check", "last-ferry", "--longer")
    assert found["lengthens"] is None
    assert poured(found)["brewed-coffee"] > 120


def test_what_a_guest_avoids_is_not_kept() -> None:
    found = asked("check", "harbour-light", "--longer", "--without", "rye-whiskey")
    assert "rye-whiskey" not in poured(found)
    assert "soda-water" in poured(found)


def test_people_read_what_was_done() -> None:
    typed = ["check", "rope-store", "--longer", "--bar", str(DEMO)]
    said = " ".join(CliRunner().invoke(main, typed, obj=OPEN).output.split())
    assert said.startswith(
        "Yes. Rope Store, longer: a highball with its bourbon whiskey, toasted almond and "
        "spice syrup and aromatic bitters. highball: built on ice"
    )


def test_every_long_drink_has_something_to_top_it_with() -> None:
    profiles = {each.name: each for each in load_profiles()}
    named = {each.longer for each in profiles.values() if each.longer}
    assert named
    for name in named:
        kinds = [kind for part in profiles[name or ""].parts for kind in part.kinds]
        tops = ("mixer", "juice/fruit")
        assert any(kind_within(kind, top) for kind in kinds for top in tops), name
