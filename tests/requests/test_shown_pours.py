"""What a drink shows is tasted: at least its usual pour, and more where the targets let it.

Common practice, no source: who asks to show a house syrup wants to taste it.
"""

from __future__ import annotations

import pytest

from solver.measures import MEASURES
from solver.pantry.profile_files import find_profile, profile_files
from solver.quantities import Span
from solver.requests.asked_drink import AskedDrink
from solver.requests.demands import DemandKind
from solver.requests.read_request import WrittenRequest, read_request
from solver.requests.request import MeasureWish, Request
from solver.search.milp.cpsat import CpSat
from solver.tasks.design import design
from solver.tasks.design_result import Design
from tests.tasks.bars import demo

OUNCE = demo().measures.ounce_ml
USUAL = {
    ("sour", "rhubarb-syrup"): 0.75,
    ("collins", "rhubarb-syrup"): 0.75,
    ("hot-coffee", "almond-spice-syrup"): 0.5,
    ("toddy", "almond-spice-syrup"): 0.5,
}
"""Ounces that the profile calls usual of its sweet part."""


def designed(profile: str, request: Request) -> Design:
    bar = demo()
    return design(find_profile(profile, profile_files(bar.profiles)), bar, request, CpSat())


def poured(found: Design, key: str) -> float:
    assert found.answer is not None
    return sum(pour.amount for pour in found.answer.pours if pour.ingredient.key == key)


@pytest.mark.parametrize(("profile", "key"), USUAL)
def test_no_less_than_usual_of_it_is_poured_and_no_less_than_without_showing_it(
    profile: str, key: str
) -> None:
    bar = demo()
    shown = poured(designed(profile, read_request(WrittenRequest(feature=(key,)), bar)), key)
    plain = poured(designed(profile, read_request(WrittenRequest(wanted=(key,)), bar)), key)
    assert shown >= max(plain, USUAL[profile, key] * OUNCE) * (1 - 1e-9)


@pytest.mark.parametrize("profile", ["toddy", "hot-coffee"])
def test_more_of_it_is_poured_where_the_targets_let_it(profile: str) -> None:
    (key,) = (key for name, key in USUAL if name == profile)
    found = designed(profile, Request(feature=(key,)))
    assert found.answer is not None
    assert found.answer.off_aim == 0.0
    assert poured(found, key) > 1.2 * USUAL[profile, key] * OUNCE


def test_equal_parts_stay_equal_and_a_base_stays_what_is_usual_of_it() -> None:
    assert poured(designed("sour", Request(feature=("mezcal",))), "mezcal") == pytest.approx(
        2 * OUNCE
    )
    found = designed("equal-parts", Request(feature=("red-bitter",)))
    assert found.answer is not None
    assert {round(pour.amount / OUNCE, 3) for pour in found.answer.pours} == {1.0}


def test_too_little_room_for_it_leaves_less_of_it_and_says_so() -> None:
    bar = demo()
    little = MeasureWish(MEASURES["sugar"], Span(high=4.0))
    request = Request(measures=(little,), feature=("rhubarb-syrup",))
    profile = find_profile("sour", profile_files(bar.profiles))
    found = design(profile, bar, request, CpSat())
    assert found.shows_less
    assert 0 < poured(found, "rhubarb-syrup") < 0.75 * OUNCE


def test_an_amount_that_was_asked_for_counts_before_what_is_usual() -> None:
    bar = demo()
    written = WrittenRequest(feature=("rhubarb-syrup",), wanted=("rhubarb-syrup=1/4..1/2 oz",))
    request = read_request(written, bar)
    asked = AskedDrink.of(find_profile("sour", profile_files(bar.profiles)), bar, request)
    assert all(demand.kind is not DemandKind.SHOWN for demand in asked.demands)
    assert 0 < poured(designed("sour", request), "rhubarb-syrup") <= 0.5 * OUNCE * 1.001


def test_of_what_is_too_strong_for_it_less_is_shown_and_said() -> None:
    """Rich syrup is poured by the half ounce where plain syrup is by three quarters."""
    rich = demo().bottles.find("rich-simple-syrup").key
    found = designed("sour", read_request(WrittenRequest(feature=(rich,)), demo()))
    assert found.shows_less
    assert found.targets is not None
    assert found.targets.off == 0
    assert poured(found, rich) == pytest.approx(0.5 * OUNCE)
    plain = designed("sour", read_request(WrittenRequest(feature=("rhubarb-syrup",)), demo()))
    assert not plain.shows_less
