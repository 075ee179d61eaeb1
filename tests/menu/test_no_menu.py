"""A No to a menu says its causes: what cannot be had in time, and what nearly suits a guest."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from solver.cli.exits import IMPOSSIBLE, UNSETTLED
from solver.cli.menu import _code
from solver.pantry.bar import Bar
from solver.show.documents.menu import menu_json
from solver.show.text.menu import menu_text
from solver.tasks.menu.answer import Menu, MenuAnswer, NoMenu
from solver.tasks.plan.answer import Refusal
from tests.menu.test_menu import FULL, LONG, NUTTY, RUM, TEA, ask, chosen
from tests.plan.bars import SYRUP, bar_in, on, spec

SLOWLY = spec("Slowly", gin="50 ml", lime_juice="25 ml", plain="20 ml")
SLOW = SYRUP.replace('time = "20 h"', 'time = "5 days"').replace("days = 5", "days = 30")
SUGAR = FULL + "white-sugar,1 kg,1.2,4 bottles\n"
SHRUB = """
[shrub]
name = "the shrub"
kind = "syrup/cordial"
life = { days = 30, basis = "estimate", source = "invented" }
allergens = []
animal = []
abv = { pct = 0, basis = "definition", source = "none" }
sugar = { g_100ml = 40, basis = "estimate", source = "invented" }
acid = { g_100ml = 1, basis = "estimate", source = "invented" }
acids = { acetic = 1 }

[shrub.recipe.inputs]
white-sugar = "300 g"
water = "300 g"
cider-vinegar = "200 ml"

[[shrub.recipe.steps]]
do = "strain"
through = "sieve"
"""
TIDE = spec("Tide", shrub="45 ml", soda_water="120 ml")


def lacking(found: MenuAnswer) -> tuple[str, ...]:
    assert isinstance(found, NoMenu), found
    assert isinstance(found.found, Refusal)
    return found.found.in_the_way


def said(found: MenuAnswer, bar: Bar) -> str:
    return " ".join(menu_text(found, bar).split())


def test_what_a_drink_asked_for_cannot_have_in_time_is_said(tmp_path: Path) -> None:
    bar = bar_in(tmp_path, SUGAR, SLOWLY, RUM, LONG, TEA, house=SLOW)
    no = ask(bar, words=("slowly",), share="10..60%", until=on(3))
    (short,) = lacking(no)
    assert short == (
        f"the syrup: 0 mL there; more takes 5 days and 0.5 h, so none is ready before {on(5)}"
    )
    assert short in said(no, bar)
    assert "Slowly on the menu" in said(no, bar)
    later = chosen(bar, words=("slowly",), share="10..60%", nights=(on(3), on(6)))
    slowly = next(offer for offer in later.offers if offer.drink.spec.name == "Slowly")
    assert slowly.nights[0] == 0 < slowly.nights[1]


def test_what_is_there_for_the_least_share_is_no_cause(tmp_path: Path) -> None:
    """4 serves of 20 mL are 10 % of 40; what the most of a drink would take is not asked for."""
    for stock, there in (("80 ml", True), ("79 ml", False)):
        shelf = SUGAR + f"plain,,,{stock}\n"
        bar = bar_in(tmp_path, shelf, SLOWLY, RUM, LONG, TEA, house=SLOW)
        no = ask(bar, words=("slowly",), share="10..60%", most=1)
        short = lacking(no)
        assert not short if there else short[0].startswith("the syrup: 79 mL there; more takes")


def test_what_another_drink_could_not_have_is_no_cause(tmp_path: Path) -> None:
    bar = bar_in(tmp_path, SUGAR, SLOWLY, RUM, LONG, house=SLOW)
    no = ask(bar, words=("rum",), guests=("no alcohol",))
    assert lacking(no) == ()


def test_a_guest_who_finds_none_is_told_what_nearly_does_and_why_not(tmp_path: Path) -> None:
    bar = bar_in(tmp_path, SUGAR + "cider-vinegar,1 l,4,2 l\n", TIDE, RUM, LONG, house=SHRUB)
    no = ask(bar, guests=("no alcohol",))
    assert isinstance(no, NoMenu)
    assert "What comes near: Tide may hold alcohol: cider vinegar" in said(no, bar)
    assert "Rum" not in said(no, bar).partition("What comes near")[2]
    (near,) = json.loads(menu_json(no, bar))["nearly"]
    assert near["guest"] == "no alcohol"
    assert near["spec"] == "Tide"
    assert near["reasons"][0].startswith("may hold alcohol: cider vinegar")


@pytest.mark.parametrize("guest", ["nuts", "nuts, honey"])
def test_what_holds_it_is_named_thing_by_thing(tmp_path: Path, guest: str) -> None:
    bar = bar_in(tmp_path, FULL, NUTTY)
    no = ask(bar, guests=(guest,), share="10..100%")
    near = said(no, bar).partition("What comes near: ")[2]
    assert near == "Nutty holds nuts: orgeat (almond syrup), house"


def test_a_guest_who_finds_a_drink_is_told_of_none_that_nearly_does(tmp_path: Path) -> None:
    bar = bar_in(tmp_path, FULL, NUTTY, LONG)
    no = ask(bar, guests=("nuts",), share="0..10%")
    assert isinstance(no, NoMenu)
    assert no.nearly == ()


def test_that_no_more_is_made_of_what_is_to_be_used_up_is_said(tmp_path: Path) -> None:
    quick = SYRUP.replace('time = "20 h"', 'time = "1 h"')
    bar = bar_in(tmp_path, SUGAR + "plain,,,60 ml\n", SLOWLY, RUM, LONG, TEA, house=quick)
    asked: dict[str, Any] = {"words": ("slowly",), "share": "10..60%", "nights": (on(1),)}
    chosen(bar, **asked)
    no = ask(bar, of=("plain",), **asked)
    (short,) = lacking(no)
    assert short == "the syrup: 60 mL there; no more of it is made, as it is to be used up"


def test_drinks_that_cannot_fill_a_night_are_said_to_be_too_few(tmp_path: Path) -> None:
    bar = bar_in(tmp_path, FULL, RUM, LONG)
    few = "2 drinks do not fill a night, at most 40 % of it each."
    assert few in said(ask(bar), bar)
    assert "fill a night" not in said(
        ask(bar, share="0..60%", forecast=40, guests=("nuts, gin, rum",)), bar
    )
    named = ask(bar, words=("rum=60%",))  # 60 and 40 make a night
    assert "fill a night" not in said(named, bar)


def test_what_stands_on_the_shelf_uncounted_is_nothing_new(tmp_path: Path) -> None:
    """Rum that nobody counted is bought for one drink; rum that has run out is not."""
    for stock, there in (("", True), ("0", False)):
        shelf = FULL.replace("white-rum,700 ml,18,9 bottles", f"white-rum,700 ml,18,{stock}")
        found = ask(bar_in(tmp_path, shelf, LONG, RUM), share="10..90%", words=("rum",))
        assert isinstance(found, Menu) == there


def test_that_no_new_drink_found_a_place_is_said(tmp_path: Path) -> None:
    bar = bar_in(tmp_path, FULL, RUM, LONG, TEA)
    asked: dict[str, Any] = {"share": "20..60%", "most": 2, "words": ("rum", "long")}
    found = ask(bar, new=True, of=("gin",), seconds=20.0, **asked)
    assert isinstance(found, Menu)
    assert found.designed
    assert f"{found.designed} new drinks tried: none found a place" in said(found, bar)
    assert "tried" not in said(ask(bar, **asked), bar)


def test_juice_that_is_pressed_is_counted_as_its_fruit(tmp_path: Path) -> None:
    shelf = FULL.replace("lime-juice,1 l,8,9 bottles", "lime-juice,1 l,,\nwhole-limes,1 kg,4,9 kg")
    found = ask(bar_in(tmp_path, shelf, RUM, LONG, TEA), share="10..60%", words=("rum",))
    assert isinstance(found, Menu)
    assert "Not counted" not in said(found, bar_in(tmp_path, shelf, RUM, LONG, TEA))


def test_a_no_of_drinks_that_were_not_all_designed_is_no_proof(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    bar = bar_in(tmp_path, FULL, NUTTY)
    asked: dict[str, Any] = {"guests": ("nuts",), "share": "10..100%", "of": ("gin",), "new": True}
    monkeypatch.setattr("solver.tasks.menu.menu.DESIGNING", 0.0)
    no = ask(bar, **asked)
    assert isinstance(no, NoMenu)
    assert isinstance(no.found, Refusal)
    assert "There was no time to design more drinks" in said(no, bar)
    document = json.loads(menu_json(no, bar))
    assert (document["status"], document["designing_cut"]) == ("stopped", True)
    assert _code(no) == UNSETTLED
    whole = ask(bar, guests=("nuts",), share="10..100%")
    assert isinstance(whole, NoMenu)
    assert "no time" not in said(whole, bar)
    assert _code(whole) == IMPOSSIBLE
