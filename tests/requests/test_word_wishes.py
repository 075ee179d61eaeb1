"""The bar's words: what they ask, where they are from, and what is said of them."""

from __future__ import annotations

import json
import shutil
from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from solver.cli.main import main
from solver.errors import BadInput, BadInputs, EquipourError
from solver.measures import MEASURES
from solver.pantry.bar import Bar
from solver.pantry.bar_words import read_bar_words
from solver.pantry.load_bar import load_bar
from solver.pantry.profile_files import find_profile, profile_files
from solver.requests.asked_drink import AskedDrink
from solver.requests.read_request import WrittenRequest, read_request
from solver.requests.request import Request
from solver.requests.word_meanings import said_words
from solver.requests.word_wishes import read_words
from solver.search.milp.cpsat import CpSat
from solver.show.text.design import design_text
from solver.tasks.design import design
from solver.tasks.design_result import Explain
from tests.harmony.bars import profiles as built_in_profiles
from tests.tasks.bars import DEMO, demo, sour

BUILT_IN = tuple(read_bar_words(None))


def run(*arguments: str) -> Result:
    return CliRunner().invoke(main, list(arguments))


def told(*arguments: str) -> str:
    """What the demonstration bar says, on one line."""
    return " ".join(run("--bar", str(DEMO), *arguments).output.split())


def bar_with(tmp_path: Path, text: str) -> Bar:
    """The demonstration bar with another file of words."""
    folder = tmp_path / "bar"
    shutil.copytree(DEMO, folder)
    (folder / "words.toml").write_text(text, encoding="utf-8")
    return load_bar(folder)


def asked_in(word: str, profile: str = "sour") -> AskedDrink:
    request = read_request(WrittenRequest(words=(word,)), demo())
    return AskedDrink.of(find_profile(profile, profile_files(None)), demo(), request)


@pytest.mark.parametrize("word", BUILT_IN)
def test_a_built_in_word_asks_ranges_and_none_beyond_what_a_profile_allows(word: str) -> None:
    (wish,) = read_words([word], load_bar(None))
    assert wish.ranges or wish.halves
    for profile in built_in_profiles().values():
        asked = AskedDrink.of(profile, demo(), Request(words=(wish,)))
        limits = [d.limit for d in asked.demands if d.measure and d.measure.name in MEASURES]
        for one in filter(None, limits):
            same = [m for m in limits if m and m.measure == one.measure]
            low = max(m.low or 0.0 for m in same)
            highs = [m.high for m in same if m.high is not None]
            assert low <= min(highs, default=low), (profile.name, one.name)


def test_a_half_is_of_the_band_that_the_profile_aims_at() -> None:
    aim = next(aim for aim in sour().targets(demo().measures).aims if aim.measure == "acid")
    (least,) = (d for d in asked_in("bright").demands if d.measure is MEASURES["acid"]
                and d.origin.of == "bright")  # fmt: skip
    assert least.bound == pytest.approx((aim.low + aim.high) / 2)


def test_of_what_a_profile_does_not_aim_at_no_half_is_asked_and_that_is_said() -> None:
    (said,) = said_words(asked_in("bright", "old-fashioned"))
    assert said.without_band == ("acid",)
    assert not any("acid" in each for each in said.asks)
    shown = " ".join(
        run("--bar", str(DEMO), "design", "old-fashioned", "--word", "bright").output.split()
    )
    assert "no caramel; nothing of acid, at which its profile does not aim." in shown


def test_the_answer_says_what_a_word_asked_and_keeps_it() -> None:
    said = told("design", "sour", "--word", "nightcap")
    asked = "coffee, cocoa or dairy"
    assert f"nightcap: {asked} at least 0.6 of a usual pour; sugar at least 7.1 g/100 mL." in said
    assert f"{asked.capitalize()}: 0.7 of a usual pour" in said
    result = run("--bar", str(DEMO), "design", "sour", "--word", "nightcap", "--json")
    found = json.loads(result.output)
    (loud,) = found["answer"]["characters"]
    assert loud["usual_pours"] >= 0.6
    assert loud["carried_by"]
    assert found["words"][0]["word"] == "nightcap"
    assert found["answer"]["finished"]["sugar_g_100ml"] >= 7.1


@pytest.mark.parametrize("profile", ["highball", "sour", "daisy"])
def test_autumn_is_not_the_base_alone(profile: str) -> None:
    asked = asked_in("autumn", profile)
    found = design(asked.profile, demo(), asked.request, CpSat())
    assert found.answer is not None
    warm = {"warm-spice", "nut", "almond", "honey"}
    beside = [pour.ingredient for pour in found.answer.pours if pour.part != "base"]
    assert any(warm & set(item.character) for item in beside)
    assert not any({"juniper", "agave"} & set(item.character) for item in found.answer.ingredients)


def test_a_bar_s_own_word_comes_before_the_built_in_one_of_that_name(tmp_path: Path) -> None:
    bar = bar_with(tmp_path, '[bright]\ncharacter = "juniper >=0.5"\n[our-own]\nabv = "<=15%"\n')
    (bright,) = read_words(["Bright"], bar)
    assert [each.measure.tags for each in bright.ranges] == [("juniper",)]
    assert not bright.halves
    (own,) = read_words(["our own"], bar)
    assert own.ranges[0].span.high == 15.0
    assert {*BUILT_IN, "our-own"} == set(bar.words)


@pytest.mark.parametrize(
    ("text", "line", "says"),
    [
        ('[one]\nsays = "x"\ncharacter = ["smok >=1"]\n', 3, "'smok' is not a character"),
        ('[one]\ncharacter = ["honey"]\n', 2, "does not say how loud"),
        ('[one]\nsays = "x"\nacid = "uper half"\n', 3, "'uper half' is neither a range nor a half"),
        ('[one]\nsugar = "5 g/100ml"\n', 2, "is one value, and a word stands for ranges"),
        ('[one]\nabv = "5 ml..9 ml"\n', 2, "5 ml"),
        ('[one]\nsays = "x"\n', 1, "the word asks nothing"),
        ('[one]\ntaste = "x"\n', 2, "'one.taste' is not a key known here"),
        ('[One Two]\nabv = "<=5%"\n', 1, ""),
        ('["One Two"]\nabv = "<=5%"\n', 1, "is not a key"),
        ("one = 3\n", 1, "one is no word"),
        ("[one]\nabv = 3\n", 2, "must be text in quotes"),
    ],
)
def test_a_mistake_in_a_word_points_to_its_line(
    tmp_path: Path, text: str, line: int, says: str
) -> None:
    bar = bar_with(tmp_path, text)
    with pytest.raises(EquipourError) as caught:
        read_words(["one"], bar)
    error = caught.value
    first = error.errors[0] if isinstance(error, BadInputs) else error
    assert isinstance(first, BadInput)
    assert first.where is not None
    assert (Path(first.where.source).name, first.where.line) == ("words.toml", line)
    assert says in first.what


def test_a_word_that_nobody_knows_is_one_message_with_the_near_ones() -> None:
    result = run("--bar", str(DEMO), "design", "sour", "--word", "brigth")
    assert result.exit_code == 2
    assert "'brigth' is not a word known here. Did you mean bright?" in result.output
    other = run("--bar", str(DEMO), "design", "sour", "--word", "xyzzy")
    assert "fog-bank" in other.output


def test_a_mistake_in_words_hinders_nobody_who_asks_without(tmp_path: Path) -> None:
    bar = bar_with(tmp_path, "[one\n")
    assert read_request(WrittenRequest(), bar) == Request()
    with pytest.raises(BadInput):
        read_request(WrittenRequest(words=("bright",)), bar)


def test_a_guest_may_ask_in_words_and_how_loud(tmp_path: Path) -> None:
    file = tmp_path / "guests.toml"
    file.write_text(
        '[[guests]]\nname = "a"\nword = "autumn"\ncharacter = ["no smoke", "citrus >=0.5"]\n'
        '[[guests]]\nname = "b"\nprofile = "sour-split"\nword = ["fog-bank"]\n',
        encoding="utf-8",
    )
    result = run("--bar", str(DEMO), "check", "sour", "--requests", str(file))
    assert result.exit_code == 0, result.output
    said = " ".join(result.output.split())
    assert "autumn: orchard, nut or honey at least 1 usual pour" in said
    assert "fog-bank: smoke 0.25..1 usual pour." in said


def test_what_is_not_there_at_all_is_said_with_what_to_buy() -> None:
    unsmoked = [row for row in demo().stock if "smoke" not in row.ingredient.character]
    bar = replace(demo(), stock=tuple(unsmoked))
    request = read_request(WrittenRequest(character=("smoke >=1",)), bar)
    found = design(sour(), bar, request, CpSat(), explain=Explain.LIMITS)
    said = " ".join(design_text(found, bar).split())
    assert "Nothing on the shelf has it: smoke at least 1 usual pour (as asked)." in said
    assert "without smoke: 2 oz bourbon whiskey" in said
    assert found.why is not None
    (bought,) = (way.bought for way in found.why.ways_out if way.bought)
    assert "smoke" in bought[0].character


def test_programs_ask_in_the_same_words() -> None:
    import solver

    bar = solver.open_bar(DEMO)
    found = solver.design(bar, "sour", character=["smoke 2..4"], words=["bright"])
    assert found.status == "impossible"  # bright is without smoke
    found = solver.design(bar, "sour", character=["juniper 1..2"])
    assert found.answer is not None
    (loud,) = found.answer.characters
    assert 1 <= loud.usual_pours <= 2
