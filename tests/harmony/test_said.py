"""What is said of how much a drink is in keeping: counts, and never that it tastes good."""

from __future__ import annotations

from solver.harmony.flavours import Flavour
from solver.harmony.harmony import BottleWish
from solver.harmony.taste import BarTaste, OwnDrink, SaidOfIngredient
from solver.search.sets.best_first import best_first
from solver.show.text.in_keeping import in_keeping_line, pair_sentence
from tests.harmony.bars import PATIENT, harmony, made

RHUBARB = made("rhubarb-cordial", "syrup/fruit", "vegetal")
SPICED = made("clove-syrup", "syrup/spice", "warm-spice")


def name(flavour: Flavour) -> str:
    return flavour.name.replace("-", " ")


def line(profile: str, *wanted: str, taste: BarTaste | None = None) -> str:
    of = harmony(profile, own=[RHUBARB, SPICED], taste=taste)
    wishes = [BottleWish(frozenset({key}), low=1) for key in wanted]
    found = next(best_first(of.question(wishes), PATIENT))
    return in_keeping_line(of.evidence(found.ingredients), name)


def test_the_pair_that_says_most_is_told_with_its_counts() -> None:
    assert line("stirred-dry") == (
        "Gin with dry vermouth: 21 of 716 published drinks, 9.0 expected by chance."
    )


def test_what_nothing_is_known_of_is_named() -> None:
    assert line("sour", "rhubarb-cordial").endswith(
        "No published drink that was counted pours rhubarb cordial; the rest was judged without it."
    )


def test_what_books_do_not_list_is_no_gap() -> None:
    assert "No published drink that was counted" not in line("toddy")


def test_an_unusual_pair_is_called_so() -> None:
    told = line("daisy", "cognac", "lime-juice")
    assert ", unusual: " in told


def test_what_every_such_drink_has_is_not_called_unusual_nor_what_may_be_chance() -> None:
    assert "unusual" not in line("collins", "rye-whiskey")  # soda, met never with it
    assert "unusual" not in line("collins", "elderflower-liqueur")  # one expected, none met


def test_what_is_poured_together_seldomer_than_by_chance_is_not_called_never() -> None:
    of = harmony("juice-shaken")
    filled = of.ingredient_set([("base", "gin"), ("juice", "grapefruit-juice")])
    assert filled is not None
    assert in_keeping_line(of.evidence(filled), name) == (
        "Gin with grapefruit juice: 3 of 716 published drinks, 5.2 expected by chance."
    )


def test_the_trades_word_and_the_bars_are_told_apart() -> None:
    assert "common practice: warm spices go with spirits" in line("sour", "clove-syrup")
    taste = BarTaste(said={"clove-syrup": SaidOfIngredient(goes_with=("spirit/agave",))})
    assert "the bar says so" in line("sour", "clove-syrup", taste=taste)
    assert "usual in such drinks, by common practice" in line("highball", "gin")


def test_the_bars_own_specs_are_told() -> None:
    drink = OwnDrink("sour", (("base", "mezcal"), ("sour", "lime-juice"), ("sweet", RHUBARB.key)))
    told = line("sour", RHUBARB.key, taste=BarTaste(drinks=(drink, drink)))
    assert "2 of the bar's specs" in told
    assert "Nothing is known" not in told


def test_a_pair_of_which_nothing_is_known_says_so() -> None:
    of = harmony("sour", own=[RHUBARB])
    one, other = of.pairs.index["rhubarb-cordial"], of.pairs.index["gin"]
    told = pair_sentence(of.pairs.evidence(one, other), name)
    assert told == "Rhubarb cordial with gin: nothing is known."
