"""What a serve takes from the shelf: its pours, and what is known of its garnish."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.drinks.method import SERVED
from solver.drinks.serve import one_serve, serves
from solver.pantry.defaults import load_defaults
from solver.pantry.garnish import Garnishes
from solver.pantry.library import load_library
from solver.pantry.load_bar import load_bar
from solver.pantry.spec import Spec, SpecPour

GARNISHES = Garnishes(load_library())
BAR = load_bar(None)


@pytest.mark.parametrize(
    ("garnish", "amounts"),
    [
        ("lemon wheel", {"whole-lemons": 109 / 8}),
        ("2 lime wedges", {"whole-limes": 20}),
        ("half a lime wheel", {"whole-limes": 5}),
        ("orange peel, expressed and dropped", {"whole-oranges": 18}),
        ("half passion fruit", {"whole-passion-fruits": 17.5}),
        ("two olives on a pick", {"olive": 8}),
        ("long rhubarb ribbon and a sprig of mint", {"rhubarb": 5, "mint-leaves": 1}),
        ("grated nutmeg", {"nutmeg": 0.1}),
        ("half salt rim", {"salt": 0.5}),
        ("none: the cream is the lid", {}),
        ("no cherry", {}),
    ],
)
def test_a_garnish_takes_what_its_words_say(garnish: str, amounts: dict[str, float]) -> None:
    taken = GARNISHES.taken(garnish)
    assert dict(taken.amounts) == pytest.approx(amounts)
    assert taken.uncounted == ()


@pytest.mark.parametrize("garnish", ["lemon", "edible gold", "gingersnap crumble"])
def test_a_garnish_that_nobody_has_weighed_is_named_and_not_guessed(garnish: str) -> None:
    assert GARNISHES.taken(garnish).uncounted == (garnish,)
    assert GARNISHES.taken(garnish).amounts == {}


@given(st.text(max_size=40))
def test_any_words_of_a_garnish_are_read(text: str) -> None:
    assert all(amount > 0 for amount in GARNISHES.taken(text).amounts.values())


def spec(*pours: tuple[str, str], garnish: str | None = None) -> Spec:
    lines = tuple(SpecPour(ingredient=name, amount=amount) for name, amount in pours)
    return Spec(name="a drink", garnish=garnish, pours=lines)


def test_a_serve_takes_two_pours_of_one_bottle_together() -> None:
    serve = one_serve(spec(("gin", "30 ml"), ("gin", "15 ml"), ("salt", "1 g")), BAR)
    assert serve.amounts == {"gin": 45, "salt": 1}


def test_what_is_muddled_and_what_is_on_the_rim_come_off_one_shelf() -> None:
    serve = one_serve(spec(("whole-limes", "20 g"), ("gin", "2 oz"), garnish="lime wedge"), BAR)
    assert serve.amounts["whole-limes"] == pytest.approx(30)
    assert serve.poured["whole-limes"] == 20


@given(st.lists(st.integers(0, 200), min_size=2, max_size=2))
def test_many_serves_take_as_much_as_each_in_turn(counts: list[int]) -> None:
    drinks = [
        one_serve(spec(("gin", "2 oz"), ("lime-juice", "1 oz"), garnish="lime wheel"), BAR),
        one_serve(spec(("gin", "1 oz"), ("whole-limes", "1/2 piece")), BAR),
    ]
    together = serves(zip(drinks, counts, strict=True))
    slow: dict[str, float] = {}
    for drink, count in zip(drinks, counts, strict=True):
        for _ in range(count):
            for key, amount in drink.amounts.items():
                slow[key] = slow.get(key, 0.0) + amount
    for key, amount in together.items():
        assert amount == pytest.approx(slow.get(key, 0.0))


def test_every_glass_says_how_a_drink_stands_in_it() -> None:
    served = {glass.serve for glass in load_defaults().glasses.values()} - {""}
    assert served <= SERVED.keys()


@pytest.mark.parametrize("text", ["apple slice", "pear fan", "half a fig"])
def test_a_cut_of_what_is_weighed_whole_is_not_counted_as_the_whole(text: str) -> None:
    taken = GARNISHES.taken(text)
    assert taken.amounts == {}
    assert taken.uncounted == (text,)
