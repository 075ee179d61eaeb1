"""A longer drink has a top, as a bartender pours it (common practice, no source)."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest
from click.testing import CliRunner

from solver.cli.main import main
from solver.clock import Clock
from solver.pantry.bar import Bar
from solver.pantry.library import load_library
from solver.pantry.load_bar import load_bar
from solver.pantry.profile_files import load_profiles
from solver.pantry.spec import find_spec, read_specs
from solver.pantry.vocabulary import kind_within
from solver.requests.request import ComparedStep, IngredientWish, Request
from solver.search.milp.cpsat import CpSat
from solver.show.text.check_any import any_text
from solver.show.text.design import design_text
from solver.show.text.ordered import order_text
from solver.tasks.check_any import check_any
from solver.tasks.design import design, design_as_asked
from solver.tasks.design_result import Explain, Status
from solver.tasks.respec.order import order, spec_of_order
from tests.open_bars import OPEN
from tests.profile_tables import DEMO


def asked(*arguments: str, code: int = 0) -> dict[str, object]:
    typed = [*arguments, "--bar", str(DEMO), "--json"]
    result = CliRunner().invoke(main, typed, obj=OPEN)
    assert result.exit_code == code, result.output
    document: dict[str, object] = json.loads(result.output)
    return document


def words(*arguments: str) -> str:
    """What people read."""
    result = CliRunner().invoke(main, [*arguments, "--bar", str(DEMO)], obj=OPEN)
    return " ".join(result.output.split())


def poured(document: dict[str, object]) -> dict[str, float]:
    answer = document["answer"]
    assert isinstance(answer, dict)
    return {pour["ingredient"]: pour["ml"] for pour in answer["pours"]}


@pytest.mark.parametrize(
    ("profile", "long"),
    [("sour", "collins"), ("sour-foam", "fizz"), ("old-fashioned", "old-fashioned-long"),
     ("zero-proof-sour", "zero-proof-long"), ("equal-parts", "stirred-long"),
     ("daisy", "daisy-long")],
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
        "kept": ["rye-whiskey", "lemon-juice", "rhubarb-syrup", "saline-solution"],
        "left_out": [],
        "steps_left_out": [],
    }


@pytest.mark.parametrize(
    ("profile", "top"),
    [
        ("fizz", "soda-water"),
        ("buck", "ginger-beer"),
        ("royale", "sparkling-wine"),
        ("spritz", "soda-water"),
        ("punch", "strong-black-tea"),
    ],
)
def test_a_profile_with_a_top_has_more_of_that_alone(profile: str, top: str) -> None:
    short = poured(asked("design", profile))
    long = poured(asked("design", profile, "--longer"))
    assert long.pop(top) > short.pop(top)
    assert long == pytest.approx(short)


@pytest.mark.parametrize(
    ("spec", "top"), [("last-ferry", "brewed-coffee"), ("low-water", "soda-water")]
)
def test_a_spec_with_a_top_of_its_own_has_more_of_that_alone(spec: str, top: str) -> None:
    found = asked("check", spec, "--longer")
    assert found["lengthens"] is None
    before, after = poured(asked("check", spec)), poured(found)
    assert after.pop(top) > before.pop(top)
    assert after == pytest.approx(before)
    said = words("check", spec, "--longer")
    assert "; more of its top may make it thinner." in said


def test_more_of_a_top_than_the_glass_takes_is_not_made_up_with_something_else() -> None:
    found = asked("check", "highball", "--longer", code=1)
    ways, short = found["ways_out"], poured(asked("check", "highball"))
    assert isinstance(ways, list)
    assert ways
    for way in ways:
        assert poured(way).keys() == short.keys()
    assert asked("check", "pilot-cutter", "--longer", code=1)["answer"] is None


@pytest.mark.parametrize("goal", ["lightest", "cheapest"])
def test_a_goal_is_of_the_long_drink_that_is_answered(goal: str) -> None:
    found = asked("check", "sour", "--longer", "--goal", goal)
    limits = found["limits"]
    assert isinstance(limits, list)
    (least,) = (x["low"] for x in limits if x["origin"] == "as asked: 1 step longer")
    of_all = asked("design", "collins", "--goal", goal, "--volume", f">={least} ml")
    mine, best = found["proof"], of_all["proof"]
    assert isinstance(mine, dict)
    assert isinstance(best, dict)
    assert mine["objective"] == pytest.approx(best["objective"])


def test_nothing_is_nearer_than_the_nearest_that_is_offered() -> None:
    far, near = (
        asked("check", "sour", "--longer", "8", code=1),
        asked("check", "sour", "--longer", "5"),
    )
    answer, ways = near["answer"], far["ways_out"]
    assert isinstance(answer, dict)
    assert isinstance(ways, list)
    assert ways
    for way in ways:
        assert "soda-water" in poured(way)
        assert way["answer"]["finished"]["volume_ml"] > answer["finished"]["volume_ml"]


def dry() -> Bar:
    """The demonstration bar without anything to top a drink with."""
    bar = load_bar(DEMO)
    tops = ("mixer", "juice/fruit", "wine/sparkling")
    stock = [row for row in bar.stock if not any(kind_within(row.ingredient.kind, t) for t in tops)]
    return replace(bar, stock=tuple(stock))


LONGER = Request(steps=(ComparedStep("longer"),))


@pytest.mark.parametrize("profile", ["sour", "old-fashioned", "daisy", "stirred"])
def test_without_a_top_there_is_no_longer_drink_and_what_to_buy_is_told(profile: str) -> None:
    bar = dry()
    short = design(bar.profile(profile), bar, Request(), CpSat())
    found = design_as_asked(bar.profile(profile), bar, LONGER, CpSat(), explain=Explain.CONFLICTS)
    assert found.status is Status.IMPOSSIBLE
    assert found.why is not None
    assert short.answer is not None
    way = found.why.ways_out[0]
    assert [item.key for item in way.bought] == ["soda-water"]
    assert {*short.answer.ingredients} <= {*way.answer.ingredients}


def test_what_is_not_there_is_told_with_the_article_of_the_drink() -> None:
    bar = dry()
    profile = bar.profile("old-fashioned")
    found = design_as_asked(profile, bar, LONGER, CpSat(), explain=Explain.CONFLICTS)
    assert "no lengthener for an old-fashioned-long." in design_text(found, bar)


def test_without_a_top_there_is_no_longer_drink_of_a_spec() -> None:
    bar = dry()
    spec = find_spec("weighbridge", bar.specs)
    found = order(spec, bar, LONGER, CpSat(), explain=Explain.CONFLICTS).found
    assert found.status is Status.IMPOSSIBLE
    assert found.why is not None
    way = found.why.ways_out[0]
    assert [item.key for item in way.bought] == ["soda-water"]
    assert {line.ingredient for line in spec.pours} < {item.key for item in way.answer.ingredients}


def test_no_time_for_the_long_drink_is_no_short_one() -> None:
    bar = load_bar(DEMO)
    clock = Clock(0.0)
    found = design_as_asked(bar.profile("sour"), bar, LONGER, CpSat(), clock=clock)
    assert found.status is Status.STOPPED
    assert found.answer is None


def test_a_garnish_stays_and_own_steps_are_told() -> None:
    bar = load_bar(DEMO)
    spec = find_spec("weighbridge", bar.specs)
    steps = ("Rinse the coupe.", "Stir for twenty seconds.")
    found = order(spec.model_copy(update={"steps": steps}), bar, LONGER, CpSat())
    answer, long = found.found.answer, found.found.lengthens
    assert answer is not None
    assert long is not None
    assert answer.garnish == spec.garnish
    assert long.steps == steps
    said = order_text(found, bar)
    assert "for the short drink, and left out:\n  Rinse the coupe.\n  Stir for" in said
    assert found.poured is None
    saved = spec_of_order(found, "Long Weighbridge", bar)
    assert saved is not None
    assert saved.garnish == spec.garnish


def test_a_garnish_that_a_guest_avoids_does_not_stay() -> None:
    said = words("check", "harbour-light", "--longer", "--without", "rhubarb")
    assert "without ribbon of raw rhubarb, for the guest" in said
    assert "rhubarb syrup." in said
    assert "Another drink for this guest" not in said


def test_a_long_drink_gets_nothing_new_but_what_balances_it() -> None:
    short, long = (
        poured(asked("design", "sour-split")),
        poured(asked("design", "sour-split", "--longer")),
    )
    assert long.keys() - short.keys() == {"ginger-beer"}


def test_what_goes_into_the_long_drink_alone_may_be_asked_for() -> None:
    lines = poured(asked("check", "stirred", "--longer", "--with", "tonic-water"))
    assert {"rye-whiskey", "sweet-vermouth", "tonic-water"} <= lines.keys()


def test_what_is_suggested_asks_for_a_longer_drink_again() -> None:
    said = words("check", "sour", "--longer", "--with", "espresso")
    assert "`equipour check any --with espresso --longer` asks every other" in said
    assert "soda water (on target)" in said
    said = words("check", "rope-store", "--longer", "2", "--without", "mixer")
    assert "equipour check any --without mixer --longer 2" in said


def test_any_says_longer_than_what() -> None:
    bar = load_bar(DEMO)
    found = check_any(
        bar, replace(LONGER, wanted=(IngredientWish("absinthe"),)), CpSat(), why=False
    )
    said = any_text(found, bar)
    assert "Each is 1 step longer than what its profile serves here otherwise." in said


def test_a_drink_of_which_no_long_one_is_known_is_called_larger() -> None:
    said = words("check", "coffee-shaken", "--longer")
    assert said.startswith("Yes. There is no long coffee-shaken: this is for a larger one.")
    assert asked("check", "coffee-shaken", "--longer")["only_larger"] is True
    assert asked("check", "sour", "--longer")["only_larger"] is False


def test_what_made_a_spec_of_the_bar_stays_in_its_long_one() -> None:
    left = {
        spec.name: short["left_out"]
        for spec in read_specs(DEMO / "specs")
        if spec.profile in {"bollard-sour", "stirred", "old-fashioned", "zero-proof-sour"}
        for short in (asked("check", spec.name, "--longer")["lengthens"],)
        if isinstance(short, dict)
    }
    assert left == {
        "Dry Dock": ["aquafaba"],  # nothing foams that is not shaken
        "Harbour Light": [],
        "Rope Store": [],
        "Weighbridge": [],
    }


LEFT_OUT = {
    ("duo", "modifier"),  # cream
    ("sour-acid", "sour"),  # acid powders, which nobody gets in a collins
    ("sour-float", "float"),
    ("sour-float", "foam"),
    ("sour-split", "sweet"),  # the second of two syrups
    ("sour-sugar", "sugar"),  # a syrup is poured for it
    ("stirred-low", "bitter"),  # the second of two, and absinthe
    ("stirred-low", "sweet"),  # what bar spoons of syrup do, more of the wine does
    ("zero-proof-sour", "base"),  # vegetable juice
    ("zero-proof-sour", "foam"),
}
"""Parts that a long drink does not take, or not all of."""


def test_a_long_drink_takes_what_made_the_short_one() -> None:
    profiles = {each.name: each for each in load_profiles()}
    library = load_library()
    left: set[tuple[str, str]] = set()
    for short in profiles.values():
        long = profiles[short.longer].parts if short.longer else ()
        for part in short.parts if long else ():
            fillers = [item for item in library if part.count[1] and part.accepts(item)]
            taking = [p for p in long if p.count[1] and any(map(p.accepts, fillers))]
            most = sum(p.count[1] for p in taking)
            all_fit = all(any(p.accepts(item) for p in taking) for item in fillers)
            if fillers and (most < part.count[1] or not all_fit):
                left.add((short.name, part.name))
    assert left == LEFT_OUT


def test_what_a_guest_avoids_is_not_kept() -> None:
    found = asked("check", "harbour-light", "--longer", "--without", "rye-whiskey")
    assert "rye-whiskey" not in poured(found)
    assert "soda-water" in poured(found)


def test_people_read_what_was_done() -> None:
    assert words("check", "rope-store", "--longer").startswith(
        "Yes. Rope Store, longer: an old-fashioned-long with its bourbon whiskey, toasted almond "
        "and spice syrup and aromatic bitters. old-fashioned-long: built on ice, then topped"
    )


def test_every_long_drink_has_something_to_top_it_with() -> None:
    profiles = {each.name: each for each in load_profiles()}
    named = {each.longer for each in profiles.values() if each.longer}
    assert named
    for name in named:
        kinds = [kind for part in profiles[name or ""].parts for kind in part.kinds]
        tops = ("mixer", "juice/fruit")
        assert any(kind_within(kind, top) for kind in kinds for top in tops), name
