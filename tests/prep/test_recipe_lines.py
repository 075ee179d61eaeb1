"""What is said of a recipe in lines: amounts as anybody says them, and what is done."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.errors import BadInput, BadInputs
from solver.pantry.load_bar import load_bar
from solver.tasks.prep.inputs import put_in
from solver.tasks.prep.recipe_lines import Remark, StepDone, read_line, read_lines, with_name
from solver.tasks.prep.said_amounts import GoesIn
from tests.prep.bars import bar_with, recipe

BAR = load_bar(None)

SAID = {
    "1 L water": ("water", "1 L"),
    "800 g honey": ("honey", "800 g"),
    "120 g fresh ginger": ("ginger-root", "120 g"),
    "100 g ginger, peeled and sliced": ("ginger-root", "100 g"),
    "100 g ginger (peeled)": ("ginger-root", "100 g"),
    "3 sticks cinnamon": ("cassia", "3 sticks"),
    "3 cinnamon sticks": ("cassia", "3 pieces"),
    "2 cups of sugar": ("white-sugar", "2 cups"),
    "a pinch of salt": ("salt", "1 pinch"),
    "thumb of ginger": ("ginger-root", "1 thumb"),
    "a dozen cloves": ("cloves", "12 pieces"),
    "half a dozen cloves": ("cloves", "6 pieces"),
    "half a lime": ("whole-limes", "1/2 piece"),
    "3 limes": ("whole-limes", "3 pieces"),
    "3 eggs": ("whole-egg", "3 pieces"),
    "2 jalapeños": ("fresh-chilli", "2 pieces"),
    "1 nutmeg": ("nutmeg", "1 piece"),
    "a bunch of mint": ("mint-leaves", "1 bunch"),
    "water 1 L": ("water", "1 L"),
    "sugar: 500 g": ("white-sugar", "500 g"),
    "1 l boiling water": ("water", "1 l"),
}


def test_what_goes_in_is_read_as_anybody_says_it() -> None:
    read = {line: read_line(line, BAR) for line in SAID}
    assert read == {line: GoesIn(key, amount) for line, (key, amount) in SAID.items()}


PIECES = (
    ("half a lemon", "0.5 lemon"), ("half lemon", "0.5 lemon"), ("a dozen limes", "12 limes"),
    ("two limes", "2 limes"),
)  # fmt: skip


def test_juice_and_zest_are_of_as_much_fruit_as_words_say() -> None:
    for said, same in PIECES:
        for part in ("juice", "zest"):
            read, plain = (read_line(f"{part} of {n}", BAR) for n in (said, same))
            assert isinstance(read, GoesIn)
            assert isinstance(plain, GoesIn)
            assert (read.ingredient, read.amount) == (plain.ingredient, plain.amount)


DONE = {
    "simmer 20 min": {"do": "simmer", "time": "20 min"},
    "boil for 10 minutes": {"do": "simmer", "time": "10 minutes"},
    "simmer 10-15 min": {"do": "simmer", "time": "12.5 min"},
    "simmer 20 min lost 120 g": {"do": "simmer", "time": "20 min", "lost": "120 g"},
    "then steep overnight": {"do": "steep", "time": "12 h"},
    "let it cool down": {"do": "cool"},
    "strain": {"do": "strain", "through": "sieve"},
    "fine strain through cheesecloth": {"do": "strain", "through": "cloth"},
    "strain left 300 g": {"do": "strain", "through": "sieve", "left": "300 g"},
    "filter": {"do": "fine-filter"},
    "add 500 g sugar": {"do": "add", "ingredient": "white-sugar", "amount": "500 g"},
    "fortify with 60 ml vodka": {"do": "fortify", "ingredient": "vodka", "amount": "60 ml"},
}


def test_what_is_done_is_read_as_anybody_says_it() -> None:
    assert {line: read_line(line, BAR) for line in DONE} == {
        line: StepDone(step) for line, step in DONE.items()
    }


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("500 g suger", "Did you mean white-sugar"),
        ("simmer", "does not say how long"),
        ("strain through a hat", "says nothing known here"),
        ("3 water", "has no unit"),
        ("sugar", "how much granulated sugar is not said"),
        ("500 g", "does not say of what"),
        ("0 g salt", "no table salt goes in"),
        ("-3 g salt", "less than nothing"),
        ("1/0 g salt", "divides by zero"),
        ("2 bottles gin", "how large a bottle of .* is, the shelf does not say"),
        ("1 jar of honey", "how large a jar of honey is, the shelf does not say"),
        ("4 tea bags", "black-tea-leaves"),
        ("", "a line is empty"),
    ],
)
def test_what_cannot_be_read_is_said_in_one_sentence(line: str, said: str) -> None:
    with pytest.raises(BadInput, match=said):
        read_line(line, BAR)


def test_what_changes_no_weight_is_only_remembered() -> None:
    assert read_line("Bring to the boil", BAR) == Remark("Bring to the boil")
    assert read_line("stir well", BAR) == Remark("stir well")


def test_each_line_that_cannot_be_read_is_told() -> None:
    with pytest.raises(BadInputs) as caught:
        read_lines(["500 g suger", "1 L water", "simmer"], BAR)
    assert len(caught.value.errors) == 2


@given(st.sampled_from([*SAID, *DONE]))
def test_case_and_spaces_do_not_count(line: str) -> None:
    spaced = f"  {line.replace(' ', '  ')} "
    assert read_line(spaced, BAR) == read_line(line, BAR)


@pytest.mark.parametrize(
    ("line", "key", "grams"),
    [
        ("5 bay leaves", "bay-leaves", 1.0),
        ("6 pears", "pears", 6 * 178),
        ("3 dried chillies", "dried-chilli", 1.5),
        ("1 cucumber", "cucumber", 301),
        ("2 sticks celery", "celery-stalks", 80),
        ("1 carrot", "carrots", 61),
    ],
)
def test_what_kitchens_count_is_weighed(line: str, key: str, grams: float) -> None:
    found = read_line(line, BAR)
    assert isinstance(found, GoesIn)
    assert found.ingredient == key
    put, _ = put_in(BAR.bottles.find(key), found.amount, BAR)
    assert put.grams == pytest.approx(grams)


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("500 g sugar, plus a bit", "'plus a bit' was not read"),
        ("500 g sugar (or honey)", "'or honey' was not read"),
        ("5 fresh bay leaves", "fresh was taken as bay leaves, dry"),
        ("3 fresh figs", ""),
    ],
)
def test_what_a_line_says_beside_is_told(line: str, told: str) -> None:
    found = read_line(line, BAR)
    assert isinstance(found, GoesIn)
    assert found.assumed == told


@pytest.mark.parametrize(
    ("line", "why"),
    [
        ("1-2 l water", "a range, which is no amount. Write one of them, like '2 l water'"),
        ("2 to 3 kg pears", "a range"),
        ("a handful of mint leaves", "write it like '10 g mint leaves'"),
        ("two handfuls raisins", "write it like '30 g raisins'"),
    ],
)
def test_a_range_or_a_handful_is_no_amount(line: str, why: str) -> None:
    with pytest.raises(BadInput, match=why):
        read_line(line, BAR)


def test_a_mixed_number_is_no_range() -> None:
    assert read_line("1-1/2 cups water", BAR) == GoesIn("water", "1-1/2 cups")


@given(st.integers(1, 40))
def test_the_juice_of_fruit_is_that_of_one_so_many_times(number: int) -> None:
    one, many = (read_line(f"juice of {n} limes", BAR) for n in (1, number))
    assert isinstance(one, GoesIn)
    assert isinstance(many, GoesIn)
    assert one.ingredient == many.ingredient == "lime-juice"
    ml = [float(each.amount.removesuffix(" ml")) for each in (one, many)]
    assert abs(ml[1] - number * ml[0]) <= number
    assert "limes was taken as" in many.assumed


def test_a_bottle_is_as_large_as_the_shelf_says(tmp_path_factory: pytest.TempPathFactory) -> None:
    bar = bar_with(tmp_path_factory.mktemp("bar"), recipe('water = "1 l"'), "gin,70cl,,,,,\n")
    assert read_line("2 bottles gin", bar) == GoesIn("gin", "1400 ml")
    assert read_line("200 ml the syrup", bar) == GoesIn("syrup", "200 ml")


def test_another_name_takes_the_place_of_one_that_nobody_knows() -> None:
    assert with_name("500 g suger", "white-sugar", BAR) == "500 g white-sugar"
    assert with_name("add 500 g suger", "white-sugar", BAR) == "add 500 g white-sugar"
