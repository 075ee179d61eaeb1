"""How loud a character is to be: how it is written, and what a usual pour of what carries it is."""

from __future__ import annotations

from dataclasses import replace

import pytest
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st

from solver.cli.main import main
from solver.errors import BadInput
from solver.harmony.counted import load_counts
from solver.harmony.taste import BarTaste, SaidOfIngredient
from solver.measures import MEASURES, character_measure
from solver.pantry.vocabulary import CHARACTERS
from solver.quantities import Span
from solver.requests.asked_drink import AskedDrink
from solver.requests.character_amounts import not_said, usual_pour, usually_poured
from solver.requests.demands import DemandKind
from solver.requests.pour_oddness import usual_amount
from solver.requests.read_character import read_character
from solver.requests.read_request import WrittenRequest, read_request
from solver.search.exact_evaluator import measures_of_drinks
from tests.tasks.bars import DEMO, demo, sour


@pytest.mark.parametrize(
    ("text", "tags", "span"),
    [
        ("smoke", ("smoke",), None),
        ("Smoke 0.5..1", ("smoke",), Span(low=0.5, high=1.0)),
        ("smoke <=½", ("smoke",), Span(high=0.5)),
        ("warm spice 0.5-1", ("warm-spice",), Span(low=0.5, high=1.0)),
        ("honey or nut >=1", ("nut", "honey"), Span(low=1.0)),
        ("orchard, warm-spice, or nut ≥ 1/2", ("orchard", "warm-spice", "nut"), Span(low=0.5)),
        ("smoke 0.5 of a usual pour", ("smoke",), Span(aim=0.5)),
        ("smoke/anise 2 usual pours", ("smoke", "anise"), Span(aim=2.0)),
        ("no smoke or anise", ("smoke", "anise"), Span(high=0.0)),
        ("smoke 0", ("smoke",), Span(high=0.0)),
    ],
)
def test_a_wish_is_read_as_it_is_said(text: str, tags: tuple[str, ...], span: Span | None) -> None:
    assert read_character(text) == (character_measure(tags), span)


@pytest.mark.parametrize(
    ("text", "says", "near"),
    [
        ("smok >=1", "'smok' is not a character known here", ("smoke",)),
        ("honey and nut 1", "'honey and nut' is not a character known here", ()),
        ("0.5", "no character is named", ()),
        ("", "no character is named", ()),
        ("smoke 1 oz", "'1 oz' is not a number of usual pours", ()),
        ("no smoke 1", "both none of it and how much", ()),
        ("smoke 2..1", "ends below where it begins", ()),
        ("smoke >0.5", "leaves its end out", ()),
    ],
)
def test_what_cannot_be_read_is_one_sentence(text: str, says: str, near: tuple[str, ...]) -> None:
    with pytest.raises(BadInput) as caught:
        read_character(text)
    assert says in caught.value.what
    assert set(near) <= set(caught.value.near)


@given(st.lists(st.sampled_from(sorted(CHARACTERS)), min_size=1, unique=True))
def test_a_character_of_several_is_the_same_in_any_order(tags: list[str]) -> None:
    there = read_character(f"{' or '.join(tags)} >=1")
    back = read_character(f"{', '.join(reversed(tags))} >=1")
    assert there == back
    assert there[0].name not in MEASURES


def asked_for(text: str) -> AskedDrink:
    """What a wish for a character asks of a sour."""
    return AskedDrink.of(sour(), demo(), read_request(WrittenRequest(character=(text,)), demo()))


def poured(key: str, taste: BarTaste | None = None) -> float:
    """A usual pour of something in the modifier of a sour."""
    profile, bar = sour(), demo()
    (part,) = (part for part in profile.parts if part.name == "modifier")
    in_part = profile.part_pours(part, bar.measures)
    return usual_pour(bar.library.find(key), in_part, taste or BarTaste())


def test_a_usual_pour_is_the_bar_s_own_then_of_books_then_of_the_part() -> None:
    counts = load_counts()
    assert poured("lemon-juice") == counts.pours["lemon-juice"].usual_ml
    own = BarTaste(
        said={
            "lemon-juice": SaidOfIngredient(usual_ml=22.0),
            "rhubarb-syrup": SaidOfIngredient(like="honey"),
        }
    )
    assert poured("lemon-juice", own) == 22.0
    # Fewer than three drinks pour it, so that its kind tells.
    assert counts.pours["allspice-dram"].drinks < 3
    assert poured("allspice-dram") == min(
        counts.pours["liqueur/spice"].usual_ml, counts.loud["allspice-dram"].most_ml
    )
    # Books are in millilitres; of what is weighed the part says what is usual, or its middle.
    low, high = 1.0, 4.0
    weighed = demo().library.find("demerara-sugar")
    assert weighed.per == "g"
    part = sour().part_pours(sour().parts[0], demo().measures)
    within = replace(part, each=replace(part.each, low=low, high=high), usual=None)
    assert usual_pour(weighed, within, BarTaste()) == 2.0


@pytest.mark.parametrize(
    ("sugar", "usual_ml"), [(38.9, 23.4), (61.5, 14.8), (82.0, 11.1), (10.0, 30.0), (150.0, 6.1)]
)
def test_a_usual_pour_of_a_house_syrup_sweetens_like_one_of_plain_syrup(
    sugar: float, usual_ml: float
) -> None:
    raspberry = demo().library.find("raspberry-syrup")
    sweet = raspberry.sugar.model_copy(update={"value": sugar, "low": None, "high": None})
    own = raspberry.model_copy(update={"key": "pear-cordial", "sugar": sweet})
    assert usually_poured(own, BarTaste(), 20.0) == pytest.approx(usual_ml, abs=0.1)
    assert usual_amount(own, None, load_counts(), BarTaste()) == pytest.approx(usual_ml, abs=0.1)
    # What books pour by itself is theirs.
    counted = load_counts().pours["honey-syrup"].usual_ml
    assert usually_poured(demo().library.find("honey-syrup"), BarTaste(), 20.0) == counted


def test_a_usual_pour_of_something_loud_is_one_beside_other_things() -> None:
    counts = load_counts()
    assert counts.pours["absinthe"].usual_ml > counts.loud["absinthe"].most_ml
    assert poured("absinthe") == counts.loud["absinthe"].most_ml
    for key in counts.loud:
        if key in {item.key for item in demo().library if item.per == "ml"}:
            assert poured(key) <= counts.loud[key].most_ml


def test_what_carries_any_of_several_characters_counts_once() -> None:
    asked = AskedDrink.of(
        sour(), demo(), read_request(WrittenRequest(character=("oak or caramel 1..3",)), demo())
    )
    problem = asked.problem()
    (both,) = problem.characters
    bourbon = next(i for i, c in enumerate(problem.candidates) if c.ingredient == "bourbon")
    assert {"oak", "caramel"} <= set(demo().bottles.find("bourbon").character)
    drink = ((bourbon, 0),)
    values = measures_of_drinks(problem, problem.amounts(drink), [both])
    amount = problem.candidates[bourbon].amounts[0]
    assert values[both.name] == pytest.approx(amount / 60.0)


def test_a_usual_pour_of_a_base_is_that_of_its_part() -> None:
    profile, bar = sour(), demo()
    base = profile.part_pours(profile.parts[0], bar.measures)
    assert base.usual == 60.0
    brandy, mezcal = bar.library.find("apple-brandy"), bar.library.find("mezcal")
    assert load_counts().pours["apple-brandy"].usual_ml < 30
    assert usual_pour(brandy, base, BarTaste()) == 60.0
    assert usual_pour(mezcal, base, BarTaste()) < 30  # loud in a base as anywhere


def test_every_candidate_carries_what_its_file_says_and_nothing_else() -> None:
    asked = asked_for("smoke <=1")
    (smoke,) = asked.characters
    for each in asked.problem().candidates:
        item = demo().bottles.find(each.ingredient)
        assert (each.carried(smoke) > 0) == ("smoke" in item.character)


def test_a_bound_that_is_moved_to_nothing_asks_for_nothing_to_be_there() -> None:
    asked = asked_for("smoke >=1")
    (least,) = (demand for demand in asked.demands if demand.measure and demand.measure.tags)
    named = {choice.name: choice for choice in asked.problem().choices}
    assert named[least.name].low == 1
    assert all(choice.name != least.name for choice in asked.problem((), {least: 0.0}).choices)
    none = asked_for("no smoke")
    (most,) = (demand for demand in none.demands if demand.measure and demand.measure.tags)
    (barred,) = (choice for choice in none.problem().choices if choice.name == most.name)
    assert barred.high == 0
    assert all(choice.name != most.name for choice in none.problem((), {most: 1.0}).choices)


def test_one_value_asks_that_some_of_it_be_there() -> None:
    asked = asked_for("smoke 1")
    assert [d.says for d in asked.demands if d.kind is DemandKind.CHARACTER] == [
        "something with smoke"
    ]
    (aim,) = (aim for aim in asked.aims if aim.measure.tags)
    assert aim.range == pytest.approx((0.875, 1.125))


def test_what_a_house_does_not_say_is_known_to_be_not_said() -> None:
    bar = demo()
    syrup, gin = bar.library.find("rhubarb-syrup"), bar.library.find("gin")
    silent = syrup.model_copy(update={"character": ()})
    assert not_said([silent, gin, syrup], bar) == (silent,)


def test_a_usual_pour_is_told_in_quarters_of_an_ounce_where_the_bar_has_ounces() -> None:
    asked = ["design", "old-fashioned", "--feature", "almond-spice-syrup", "--word", "autumn"]
    said = " ".join(CliRunner().invoke(main, ["--bar", str(DEMO), *asked]).output.split())
    assert "almond and spice syrup (usually 1/2 oz)" in said
