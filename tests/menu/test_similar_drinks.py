"""Of new drinks no two are offered that a guest would take for one, nor beside one of the book."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any, cast

import pytest

from solver.pantry.bar import Bar
from solver.pantry.spec import Spec
from solver.tasks.menu.answer import Offer
from solver.tasks.menu.candidates import MenuCandidate, NewDrink, of_the_book
from solver.tasks.menu.similar_drinks import groups_of_similar
from solver.tasks.price.unit_prices import UnitPrices
from tests.menu.test_menu import FULL, chosen
from tests.plan.bars import bar_in, spec

GIN = {"gin": "50 ml", "lime_juice": "25 ml", "orgeat": "20 ml"}


def drinks(tmp_path: Path, *poured: dict[str, str], new: Sequence[bool]) -> list[MenuCandidate]:
    """Drinks that show orgeat, in the order given, each of its own profile, some of them new."""
    specs = [spec(f"Drink {at}", **each) for at, each in enumerate(poured)]
    bar = bar_in(tmp_path, FULL, *specs)
    found, misread = of_the_book(bar, UnitPrices(bar), None)
    assert not misread
    by_name = {each.spec.name: each for each in found}
    made = NewDrink(cast("Any", None), "orgeat")
    ordered = [by_name[f"Drink {at}"] for at in range(len(poured))]
    return [
        replace(each, spec=replace_profile(each.spec, f"profile {at}"), new=made if n else None)
        for at, (each, n) in enumerate(zip(ordered, new, strict=True))
    ]


def replace_profile(spec: Spec, profile: str) -> Spec:
    return spec.model_copy(update={"profile": profile})


@pytest.mark.parametrize(
    ("other", "one"),
    [
        ({**GIN, "orgeat": "25 ml"}, True),
        ({**GIN, "soda_water": "90 ml"}, True),
        ({**GIN, "aromatic_bitters": "1 ml"}, True),
        ({**GIN, "lime_juice": "0 ml", "lemon_juice": "25 ml"}, False),
        ({"white_rum": "50 ml", "lime_juice": "25 ml", "orgeat": "20 ml"}, False),
        ({"gin": "50 ml", "orgeat": "20 ml"}, False),
    ],
)
def test_a_guest_tells_drinks_by_base_sour_and_what_they_show(
    tmp_path: Path, other: dict[str, str], one: bool
) -> None:
    other = {key: amount for key, amount in other.items() if amount != "0 ml"}
    both = drinks(tmp_path, GIN, other, new=(True, True))
    assert groups_of_similar(both) == ([frozenset({0, 1})] if one else [])


def test_two_of_one_profile_that_show_the_same_are_one_whatever_their_base(tmp_path: Path) -> None:
    rum = {"white_rum": "50 ml", "lime_juice": "25 ml", "orgeat": "20 ml"}
    both = [
        replace(each, spec=replace_profile(each.spec, "sour"))
        for each in drinks(tmp_path, GIN, rum, new=(True, True))
    ]
    assert groups_of_similar(both) == [frozenset({0, 1})]


def test_each_drink_of_the_book_stands_for_new_ones_like_it_and_never_for_another_of_the_book(
    tmp_path: Path,
) -> None:
    weak, long = {**GIN, "gin": "30 ml"}, {**GIN, "soda_water": "60 ml"}
    four = drinks(tmp_path, GIN, weak, long, {"gin": "50 ml", "lime_juice": "20 ml"},
                  new=(False, False, True, False))  # fmt: skip
    assert set(groups_of_similar(four)) == {frozenset({0, 2}), frozenset({1, 2})}
    assert not groups_of_similar([replace(each, new=None) for each in four])


def test_a_base_that_is_shown_makes_a_drink_with_each_sweet_thing(tmp_path: Path) -> None:
    honey = {"gin": "50 ml", "lime_juice": "25 ml", "simple_syrup": "20 ml"}
    both = drinks(tmp_path, GIN, honey, new=(True, True))
    of_gin = [replace(each, new=NewDrink(cast("Any", None), "gin")) for each in both]
    assert groups_of_similar(of_gin) == []


@pytest.fixture
def bar(tmp_path: Path) -> Bar:
    return bar_in(tmp_path, FULL + "lemon-juice,1 l,8,9 bottles\n", spec("House", **GIN))


def test_a_menu_of_new_drinks_has_no_two_that_are_alike(bar: Bar) -> None:
    asked: dict[str, Any] = {"new": True, "of": ("orgeat",), "share": "1..100%", "seconds": 15.0}
    found = chosen(bar, words=("house",), most=8, **asked)
    told = [
        (each.drink.base, sour)
        for each in found.offers
        if "orgeat" in each.drink.takes
        if (sour := _sours(each))
    ]
    assert found.new
    assert len(told) == len(set(told))


def _sours(offer: Offer) -> frozenset[str]:
    items = (line.ingredient for line in offer.drink.cost.made.lines)
    return frozenset(item.key for item in items if item.is_kind("juice/sour"))


def test_nobody_calls_a_drink_by_its_plain_syrup_and_no_two_are_called_the_same(bar: Bar) -> None:
    asked: dict[str, Any] = {"new": True, "share": "1..100%", "seconds": 15.0, "most": 8}
    found = chosen(bar, of=("simple-syrup", "orgeat"), **asked)
    new = [offer.drink for offer in found.new]
    plain = [each.spec.name for each in new if each.new and each.new.pours_of == "simple-syrup"]
    assert plain
    assert not [name for name in plain if "syrup" in name]
    called = [offer.drink.spec.name.casefold() for offer in found.offers]
    assert len(called) == len(set(called))
