"""Sets are worth what their evidence says; what is optional earns its place."""

from __future__ import annotations

import itertools

import pytest

from solver.harmony.dial import Dial
from solver.harmony.feature import MOST_VOICES, featuring
from solver.harmony.harmony import SCALE, BottleWish, Harmony
from solver.harmony.taste import BarTaste, OwnDrink, SaidOfIngredient, Tasted
from solver.pantry.profile import Profile
from solver.search.sets.best_first import best_first
from solver.search.sets.set_question import FoundSet
from tests.each import each
from tests.harmony.bars import PATIENT, best, harmony, made, profiles

EACH = each(sorted(profiles()))
RHUBARB = made("rhubarb-cordial", "syrup/fruit", "vegetal")
SPICED = made("clove-syrup", "syrup/spice", "warm-spice")


def some(of: Harmony, count: int = 40, *wishes: BottleWish) -> list[FoundSet]:
    return list(itertools.islice(best_first(of.question(wishes), PATIENT), count))


@EACH
def test_the_evidence_adds_up_to_the_worth(name: str) -> None:
    for dial in Dial:
        of = harmony(name, dial=dial)
        for found in some(of, 12):
            evidence = of.evidence(found.ingredients)
            parts = sum(part.worth for part in evidence.parts)
            pairs = sum(pair.worth for pair in evidence.pairs)
            assert evidence.worth == pytest.approx(parts + pairs, abs=1e-9)
            assert evidence.worth == pytest.approx(found.worth / SCALE, abs=1e-4)


@EACH
def test_a_set_names_the_bottles_that_it_can_be_poured_from(name: str) -> None:
    of, profile = harmony(name), profiles()[name]
    stock = {key: flavour for flavour in of.flavours for key in flavour.bottles}
    for found in some(of, 10):
        for part, held, numbers in zip(
            profile.parts, of.bottles(found.ingredients), found.ingredients, strict=True
        ):
            for bottles, number in zip(held, numbers, strict=True):
                assert bottles
                assert all(stock[key] is of.flavours[number] for key in bottles)
                assert part.count[0] <= len(held) <= part.count[1]
        drink = [
            (part.name, bottles[0])
            for part, held in zip(profile.parts, of.bottles(found.ingredients), strict=True)
            for bottles in held
        ]
        assert of.ingredient_set(drink) == found.ingredients


def test_a_drink_that_does_not_fit_the_parts_is_no_set() -> None:
    of = harmony("sour")
    assert of.ingredient_set([("base", "lemon-juice")]) is None
    assert of.ingredient_set([("garnish", "gin")]) is None


def test_parts_that_are_alternatives_are_never_filled_together() -> None:
    of = harmony("old-fashioned")
    names = [part.name for part in of.parts]
    sweet, sugar = names.index("sweet"), names.index("sugar")
    filled = [(bool(f.ingredients[sweet]), bool(f.ingredients[sugar])) for f in some(of, 400)]
    assert (True, True) not in filled
    assert {(True, False), (False, True), (False, False)} == set(filled)


def test_sugar_and_its_syrup_are_one_flavour_and_not_poured_twice() -> None:
    of = harmony("old-fashioned")
    syrup = next(each for each in of.flavours if each.name == "simple-syrup")
    assert {"simple-syrup", "rich-syrup", "white-sugar", "sugar-cube"} <= set(syrup.bottles)


def test_an_optional_part_earns_its_place_against_leaving_it_out() -> None:
    """Stated as usual it is filled, stated as rare it is not, all else equal."""
    sour = profiles()["sour"]

    def with_foam(share: float) -> Profile:
        parts = tuple(
            part.model_copy(update={"usual_count": {"0": 1 - share, "1": share}})
            if part.name == "bitter"
            else part
            for part in sour.parts
        )
        return sour.model_copy(update={"parts": parts})

    (rare,), (usual,) = best(harmony(with_foam(0.02))), best(harmony(with_foam(0.9)))
    assert "aromatic-bitters" not in rare
    assert "aromatic-bitters" in usual


@EACH
def test_leaving_out_is_weighed_by_the_share_of_drinks_that_do(name: str) -> None:
    of = harmony(name)
    for found in some(of, 15):
        for evidence, part in zip(of.evidence(found.ingredients).parts, of.parts, strict=True):
            if not evidence.filled and part.none is None:
                assert evidence.count_share == part.counts[0]


def test_the_rest_is_judged_without_what_is_unknown() -> None:
    """Pairs with a syrup that nobody has printed are worth nothing, but for the trade's rules."""
    of = harmony("sour", own=[RHUBARB])
    for found in some(of, 200, BottleWish(frozenset({RHUBARB.key}), low=1)):
        for pair in of.evidence(found.ingredients).pairs:
            if RHUBARB.key in (pair.one.name, pair.other.name):
                assert (pair.worth == 0) == (not pair.practice)
                assert bool(pair.practice) == (pair.one.loud or pair.other.loud)


def test_an_unknown_bottle_never_comes_before_a_usual_one_by_being_unknown() -> None:
    gin = made("our-own-gin", "spirit/gin", "juniper")
    assert best(harmony("sour", own=[gin, RHUBARB]), 10) == best(harmony("sour"), 10)


def test_it_is_said_of_what_nothing_is_known() -> None:
    of = harmony("sour", own=[RHUBARB])
    (found,) = some(of, 1, BottleWish(frozenset({RHUBARB.key}), low=1))
    assert [each.name for each in of.evidence(found.ingredients).unknown] == [RHUBARB.key]


def test_like_makes_it_known_and_as_usual_as_its_model() -> None:
    taste = BarTaste(said={RHUBARB.key: SaidOfIngredient(like="grenadine")})
    of = harmony("sour", own=[RHUBARB], taste=taste)
    (found,) = some(of, 1, BottleWish(frozenset({RHUBARB.key}), low=1))
    assert of.evidence(found.ingredients).unknown == ()
    sweet = of.bottles(found.ingredients)[2]
    assert RHUBARB.key in sweet[0]
    assert "grenadine" in sweet[0]


def test_what_the_bar_pours_itself_it_knows() -> None:
    drink = OwnDrink("sour", (("base", "mezcal"), ("sour", "lime-juice"), ("sweet", RHUBARB.key)))
    taste = BarTaste(drinks=(drink, drink, drink))
    of = harmony("sour", own=[RHUBARB], taste=taste)
    (first,) = best(of, 1, [RHUBARB.key])
    assert first == ("mezcal", "lime-juice", RHUBARB.key)
    (found,) = some(of, 1, BottleWish(frozenset({RHUBARB.key}), low=1))
    assert of.evidence(found.ingredients).unknown == ()


def test_what_goes_with_it_comes_earlier_and_what_never_does_not_at_all() -> None:
    def bases(said: SaidOfIngredient) -> list[str]:
        taste = BarTaste(said={RHUBARB.key: said})
        found = best(harmony("sour", own=[RHUBARB], taste=taste), 300, [RHUBARB.key])
        return list(dict.fromkeys(each[0] for each in found))

    plain, goes = (
        bases(SaidOfIngredient(usual_ml=20.0)),
        bases(SaidOfIngredient(goes_with=("pisco",))),
    )
    assert plain.index("pisco") > goes.index("pisco")
    never = bases(SaidOfIngredient(never=("spirit/gin", "oak", "cane")))
    assert {"gin", "bourbon", "cognac", "white-rum"} <= set(plain) - set(never)


def test_a_bad_tasting_moves_a_drink_down() -> None:
    (first,) = best(harmony("sour"))
    note = Tasted(frozenset(first), 1)
    taste = BarTaste(tasted=(note, note))
    assert best(harmony("sour", taste=taste)) != [first]


def test_the_dial_leads_from_what_books_pour_to_what_few_do() -> None:
    """The bases of the first ten sours are ever less often printed."""
    from tests.harmony.test_counts import COUNTS

    def printed(dial: Dial) -> float:
        of = harmony("sour", dial=dial)
        return sum(COUNTS.poured[each[0]] for each in best(of, 10)) / 10

    assert printed(Dial.BY_THE_BOOK) >= printed(Dial.FAMILIAR) > printed(Dial.SELDOM_POURED)


@pytest.mark.parametrize("name", ["sour", "stirred", "old-fashioned", "hot-coffee"])
def test_a_featured_ingredient_stands_among_few_voices_and_nothing_louder(name: str) -> None:
    of = harmony(name, own=[SPICED])
    found = some(of, 100, *featuring(of, SPICED.key))
    assert found
    for one in found:
        poured = [of.flavours[i] for i in one.poured]
        assert any(SPICED.key in flavour.bottles for flavour in poured)
        assert not any(flavour.loud for flavour in poured)
        silent = ("syrup/plain", "sugar", "spirit/vodka", "seasoning/saline")
        voices = [flavour for flavour in poured if flavour.words.isdisjoint(silent)]
        assert len(voices) <= MOST_VOICES


def test_a_heavy_rum_is_not_poured_beside_a_delicate_syrup_that_is_shown() -> None:
    """Common practice, no source: it drowns a syrup that a lighter aged rum carries."""
    of = harmony("sour", own=[RHUBARB])
    wishes = [*featuring(of, RHUBARB.key), BottleWish(frozenset({"jamaican-rum"}), low=1)]
    assert some(of, 1, *wishes) == []
    wishes[-1] = BottleWish(frozenset({"aged-rum"}), low=1)
    assert some(of, 1, *wishes)


def test_many_bottles_that_nothing_tells_apart_are_one() -> None:
    many = [made(f"gin-{n}", "spirit/gin", "juniper") for n in range(200)]
    of, plain = harmony("sour", own=many), harmony("sour")
    assert len(of.flavours) == len(plain.flavours) + 1
    assert best(of, 10) == best(plain, 10)


def test_a_bar_that_cannot_fill_a_part_has_no_sets() -> None:
    assert some(harmony("colada", "demo")) == []
