"""A drink of the card as somebody orders it: compared with every drink that its lines can pour."""

from __future__ import annotations

import json
import shutil
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner, Result
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from solver.cli.main import main
from solver.drinks.assess import assess, find_drink
from solver.measures import CHANGES, MEASURES, SHIFT, compared_of
from solver.pantry.load_bar import load_bar
from solver.requests.read import Written, read_request
from solver.requests.request import ComparedStep
from solver.search.exact import evaluate, measure, off_aim, within
from solver.search.milp.cpsat import CpSat
from solver.tasks.design_result import Explain, Status
from solver.tasks.respec.order import order, pending_order, pours_the_same
from tests.examples import examples
from tests.plan.bars import bar_in, spec
from tests.search.instances import every_amount
from tests.tasks.bars import DEMO, demo

SPECS = sorted(path.stem for path in (DEMO / "specs").glob("*.toml"))
HELD = ("abv", "sugar", "acid", "volume")
STEPS = compared_of(MEASURES.values())
WORDS = st.sampled_from(sorted(STEPS))
ORDERS = st.fixed_dictionaries(
    {
        "steps": st.lists(WORDS, max_size=1).map(
            lambda words: tuple(ComparedStep(w) for w in words)
        ),
        "unwanted": st.lists(st.sampled_from(["nuts", "lactose", "honey"]), max_size=1).map(tuple),
        "measures": st.sampled_from([{}, {"abv": ("..20%",)}, {"volume": ("120 ml",)}]),
    }
)


def run(*arguments: str, bar: Path = DEMO) -> Result:
    return CliRunner().invoke(main, ["--bar", str(bar), *arguments])


def test_a_drink_pours_the_same_as_its_spec_but_for_rounding() -> None:
    bar = demo()
    spec = find_drink((SPECS[0],), (), bar)
    found = order(spec, bar, read_request(Written(), bar), CpSat()).found
    assert found.answer is not None
    made = assess(spec, bar)
    for factor, same in ((1.0, True), (1 + 1e-15, True), (1 + 1e-6, False)):
        pours = [replace(pour, amount=pour.amount * factor) for pour in found.answer.pours]
        assert pours_the_same(replace(found.answer, pours=tuple(pours)), made) is same
        assert not pours_the_same(replace(found.answer, pours=tuple(pours[1:])), made)


@settings(max_examples=examples(0.25))
@given(name=st.sampled_from(SPECS), asked=ORDERS)
def test_no_drink_of_its_lines_is_as_asked_and_nearer(name: str, asked: dict[str, object]) -> None:
    bar = demo()
    spec = find_drink((name,), (), bar)
    request = read_request(Written(**asked), bar)  # type: ignore[arg-type]
    found = order(spec, bar, request, CpSat(), explain=Explain.NOTHING).found
    assume(found.lengthens is None)  # the long drink has other lines
    problem = found.problem
    amounts = every_amount(problem)
    feasible = evaluate(problem, amounts).feasible if len(amounts) else np.zeros(0, dtype=bool)
    if found.status is Status.IMPOSSIBLE:
        assert not feasible.any()
        return
    assert found.targets is not None
    held = feasible.copy()
    values = measure(problem, amounts, [*MEASURES.values(), CHANGES, SHIFT])
    for limit in found.targets.limits:
        held &= within(limit, values[limit.measure.name])
    least = off_aim(problem, values)[feasible].min()
    assert found.targets.off == pytest.approx(least, abs=1e-6)
    changes, shift = values["changes"][held], values["shift"][held]
    poured = order(spec, bar, request, CpSat()).poured
    assert poured is not None
    assert poured.after is not None
    assert found.objective == pytest.approx(changes.min())
    nearest = shift[changes <= changes.min() + 1e-9].min()
    answer = {pour.ingredient.key: pour.amount for pour in found.answer.pours}  # type: ignore[union-attr]
    mine = np.array([[answer.get(c.ingredient, 0.0) for c in problem.candidates]])
    assert measure(problem, mine, [SHIFT])["shift"][0] == pytest.approx(nearest)


@settings(max_examples=examples(0.25))
@given(name=st.sampled_from(SPECS), asked=ORDERS)
def test_the_spec_that_comes_of_it_is_the_drink_that_was_proven(
    name: str, asked: dict[str, object]
) -> None:
    bar = demo()
    request = read_request(Written(**asked), bar)  # type: ignore[arg-type]
    ordered = order(find_drink((name,), (), bar), bar, request, CpSat())
    if ordered.poured is None or ordered.poured.after is None or ordered.found.answer is None:
        return
    after, before = ordered.poured.after, ordered.poured.before
    proven = ordered.found.answer.values
    for each in MEASURES:
        assert after.values[each] == pytest.approx(proven[each], rel=1e-6, abs=1e-9)
    moving = {STEPS[step.word].measure.name for step in request.steps}
    moving |= {wish.measure.name for wish in request.measures}
    for aim in ordered.poured.kept.aims:
        if aim.measure.name not in moving:  # held to what was, or no further than it is already
            now, then = after.values[aim.measure.name], before.values[aim.measure.name]
            strayed = abs((then or 0.0) - aim.value)
            assert abs((now or 0.0) - aim.value) <= max(aim.tolerance, strayed) + 1e-6
    for word in request.unwanted:
        assert word.against(after.guest.told) is None or ordered.objections


def test_a_guest_orders_that_one_weaker_and_without_nuts() -> None:
    result = run("check", "last-ferry", "--lighter", "--without", "nuts")
    assert result.exit_code == 0
    assert result.output.startswith(
        "Yes.\n\nLast Ferry: served hot, without ice, in a glass mug\nAsked: 1 step lighter"
    )
    assert "Proven" in result.output
    assert "Allergens and animal origin: gained" in result.output


WALNUT_BOURBON = """
[walnut-bourbon]
name = "walnut bourbon"
kind = "spirit/whiskey"
character = ["nut"]
abv = { pct = 44.3, basis = "estimate", source = "invented" }
sugar = { g_100ml = 0.4, basis = "estimate", source = "invented" }
acid = { g_100ml = 0, basis = "estimate", source = "invented" }
allergens = ["nuts"]
allergens_source = "invented"
animal = []
made_of = ["bourbon", "walnuts"]
"""


def test_of_what_can_stand_in_what_the_recipe_is_made_of_is_the_most_alike(tmp_path: Path) -> None:
    bar = tmp_path / "demo"
    shutil.copytree(DEMO, bar)
    (bar / "house" / "walnut-bourbon.toml").write_text(WALNUT_BOURBON)
    with (bar / "shelf.csv").open("a") as shelf:
        shelf.write("walnut-bourbon,700 ml,30.00,700 ml,,,\n")
    pours = ("60 ml walnut-bourbon", "30 ml sweet vermouth", "2 dashes aromatic bitters")
    made = run(
        "assess", *pours, "--profile", "stirred", "--technique", "stir", "--save", "Cold Harbour",
        bar=bar,
    )  # fmt: skip
    assert made.exit_code == 0, made.output
    for line in (
        ("check", "cold-harbour", "--without", "nuts", "--json"),
        ("swap", "cold-harbour", "walnut-bourbon", "--json"),
    ):
        found = json.loads(run(*line, bar=bar).stdout)
        pours = (found.get("beside") or found)["answer"]["pours"]
        assert pours[0]["ingredient"] == "bourbon", line


def test_nobody_waters_a_shaken_sour() -> None:
    sour = run("check", "harbour-light", "--lighter")
    assert sour.exit_code == 1
    assert "water" not in sour.output


@pytest.mark.parametrize(
    ("word", "watered"),
    [("lighter", True), ("longer", True), ("stronger", False), ("shorter", False)],
)
def test_water_is_a_way_to_a_weaker_or_longer_drink_alone(
    word: str, watered: bool, tmp_path: Path
) -> None:
    pours = spec("Bowl", white_rum="2 oz", lime_juice="3/4 oz", simple_syrup="3/4 oz")
    shelf = "white-rum,700 ml,20,2 L\nlime-juice,1 l,8,1 L\nsimple-syrup,1 l,1,1 L\n"
    bar = bar_in(tmp_path, shelf, pours.replace("sour", "punch"))
    request = read_request(Written(steps=(ComparedStep(word),)), bar)
    asked = pending_order(find_drink(("bowl",), (), bar), bar, request)
    assert ("water" in [part.name for part in asked.whole.profile.parts]) == watered


def test_as_it_is_nothing_changes() -> None:
    found = json.loads(run("check", "weighbridge", "--json").output)
    assert found["beside"]["changed_pours"] == 0
    assert found["spec"] == {"name": "Weighbridge", "file": "weighbridge.toml"}


def test_what_cannot_be_has_its_conflicts_and_ways_out() -> None:
    result = run("check", "last-ferry", "--without", "lactose")
    assert result.exit_code == 1
    assert "These cannot hold together:\n  without lactose (as asked)" in result.output
    assert "It would be possible" in result.output


@pytest.mark.parametrize("asked", [("--standard-drinks", "<=0.9"), ("--volume", "<=70 ml")])
def test_of_a_drink_with_half_the_alcohol_a_smaller_size_is_the_first_way_out(
    asked: tuple[str, str],
) -> None:
    found = json.loads(run("check", "weighbridge", *asked, "--json").stdout)
    assert found["status"] == "impossible"
    way = found["ways_out"][0]
    assert way["says"].startswith("It would be possible in a smaller size")
    served = json.loads(run("assess", "weighbridge", "--json").stdout)
    small, whole = way["answer"]["finished"], served["answer"]["finished"]
    if asked[0] == "--volume":
        assert small["volume_ml"] <= 70
    assert small["volume_ml"] < whole["volume_ml"]
    assert small["ethanol_g"] < whole["ethanol_g"]
    assert small["abv_pct"] == pytest.approx(whole["abv_pct"], abs=2)
    assert {p["ingredient"] for p in way["answer"]["pours"]} == {
        p["ingredient"] for p in served["answer"]["pours"]
    }


def test_the_first_way_out_moves_least_and_the_last_is_the_drink_as_it_is() -> None:
    # 2 : 3/4 : 3/4 cannot be a step weaker and all else the same: a quarter of an ounce less of the
    # rye misses four ranges by next to nothing, where one range alone is missed by two steps.
    told = run("check", "harbour-light", "--lighter")
    assert told.exit_code == 1
    ways = told.output.partition("It would be possible")[2].partition("Each of these limits")[0]
    assert "1 3/4 oz rye whiskey, 3/4 oz" in ways.split("with acid up to 1.26")[0]
    assert ways.count("as it is, ") == 1
    as_it_is = ways.partition("as it is, ")[2]
    assert ": 2 oz rye" in " ".join(as_it_is.split())
    assert "with sugar up to" not in as_it_is
    assert "option: --beyond sugar, --beyond acid" in " ".join(told.output.split())


def test_a_line_that_never_moves_is_poured_as_it_was_whatever_is_ordered(tmp_path: Path) -> None:
    bar = tmp_path / "bar"
    shutil.copytree(DEMO, bar)
    spec = bar / "specs" / "last-ferry.toml"
    text = spec.read_text(encoding="utf-8")
    lighter = run("check", "last-ferry", "--lighter")
    assert "1 1/2 oz 1 1/4 oz Irish" in " ".join(lighter.output.split())
    spec.write_text(text.replace("[[pours]]", '[[pours]]\nmoves = "never"', 1), encoding="utf-8")
    told = run("check", "last-ferry", "--lighter", bar=bar)
    assert told.exit_code == 1
    assert "1 1/2 oz of each Irish whiskey (held to" in " ".join(told.output.split())


def test_what_the_notes_name_speaks_against_it(tmp_path: Path) -> None:
    shutil.copytree(DEMO, tmp_path / "demo")
    path = tmp_path / "demo" / "specs" / "rope-store.toml"
    path.write_text(path.read_text().replace("One large piece", "Crushed hazelnuts on"))
    result = run("check", "rope-store", "--without", "nuts", bar=tmp_path / "demo")
    assert result.exit_code == 1
    assert "what its notes name" in result.output
    bar = load_bar(tmp_path / "demo")
    request = read_request(Written(unwanted=("nuts",)), bar)
    found = order(find_drink(("rope-store",), (), bar), bar, request, CpSat())
    assert found.objections
    assert found.poured is None


def test_the_drink_as_it_is_is_a_way_out_where_more_is_asked_than_to_leave_something_out(
    tmp_path: Path,
) -> None:
    """That a guest who avoids nothing could have it is none."""
    shelf = "gin,700 ml,20,9 bottles\norgeat,1 l,8,9 bottles\n"
    pours = spec("Nut", gin="2 oz", orgeat="1/2 oz")
    bar_in(tmp_path, shelf, pours.replace('profile = "sour"', 'technique = "stir"'))
    asked = ("check", "nut", "--without", "nuts")
    assert "as it is" not in run(*asked, bar=tmp_path).output
    said = " ".join(run(*asked, "--abv", ">=40%", bar=tmp_path).output.split())
    assert "as it is, with strength down to" in said


def test_a_spec_is_saved_under_its_new_name_as_it_was_answered(tmp_path: Path) -> None:
    shutil.copytree(DEMO, tmp_path / "demo")
    line = ("design", "weighbridge", "--with", "mezcal", "--save", "Smoke House")
    result = run(*line, bar=tmp_path / "demo")
    assert result.exit_code == 0, result.output
    assessed = run("assess", "smoke house", bar=tmp_path / "demo").output
    assert "2 oz  mezcal" in assessed
    assert "nothing that anybody would notice has" in assessed


def test_a_second_solver_agrees() -> None:
    assert "agrees" in run("design", "harbour-light", "--lighter", "--verify").output


def test_a_name_of_both_is_the_profile_and_it_is_said_how_to_name_the_spec(tmp_path: Path) -> None:
    shutil.copytree(DEMO, tmp_path / "demo")
    own = tmp_path / "demo" / "specs" / "sour.toml"
    shutil.copy(own.with_name("rope-store.toml"), own)
    own.write_text(own.read_text().replace("Rope Store", "Sour"))
    result = run("design", "sour", bar=tmp_path / "demo")
    assert result.output.startswith("equipour: 'sour' is a profile and a spec: this is the profile")
    assert run("design", str(own), bar=tmp_path / "demo").output.startswith(
        "Sour: built on ice, in a rocks glass"
    )


@pytest.mark.parametrize("option", [("--goal", "cheapest"), ("--alternatives", "2")])
def test_what_only_a_profile_has_is_refused_of_a_spec(option: tuple[str, str]) -> None:
    result = run("check", "harbour-light", *option)
    assert result.exit_code == 2
    assert f"{option[0]} goes with a profile" in result.output


def test_a_name_of_neither_gets_the_nearest_of_both() -> None:
    result = run("design", "harbor-light")
    assert result.exit_code == 2
    assert "Did you mean harbour-light?" in result.output
