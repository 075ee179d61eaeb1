"""Nothing that goes into a thing is lost on the way to the guest, through recipes to any depth."""

from __future__ import annotations

import re
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from solver.errors import BadInput, BadInputs
from solver.pantry.disclosure import Disclosure, of_dish, stated, together, with_told
from solver.pantry.library import load_library
from solver.pantry.load_bar import load_bar
from solver.pantry.recipe import Dish
from tests.examples import examples
from tests.guests.houses import bar_of, houses
from tests.guests.houses import stated as figures
from tests.guests.raw import Tables, walk
from tests.ingredient_tables import ROOT

ITEMS = st.sampled_from(list(load_library()))
SLOW = settings(max_examples=examples(0.4), suppress_health_check=[HealthCheck.too_slow])


def told_in(house: Tables) -> Iterator[tuple[str, Disclosure]]:
    """What a guest is told of everything in a house."""
    with tempfile.TemporaryDirectory() as folder:
        bar = bar_of(Path(folder), house)
        for item in bar.library:
            yield item.key, bar.told_of(item)


@SLOW
@given(houses())
def test_a_guest_is_told_exactly_what_is_in_a_thing(house: Tables) -> None:
    for key, told in told_in(house):
        met = walk(key, house)
        assert told.allergens == met.allergens
        assert told.may_contain == met.may_contain - met.allergens
        assert told.animal == met.animal
        assert told.may_animal == met.may_animal - met.animal
        assert told.declare == met.declare
        assert set(told.alcohol) == met.alcohol
        assert set(told.may_hold_alcohol) == met.may_hold_alcohol
        assert set(told.allergens_not_known) == met.no_allergens_stated
        assert set(told.animal_not_known) == met.no_animal_stated
        assert told.holds == met.keys


@SLOW
@given(houses())
def test_an_ingredient_that_was_never_cooked_passes_on_what_goes_into_it(house: Tables) -> None:
    uncooked = [key for key, table in house.items() if "abv" not in table]
    with tempfile.TemporaryDirectory() as folder:
        bar = bar_of(Path(folder), house)
        for key in uncooked:
            assert bar.library.get(key) is None
            for above in bar.library:
                told = bar.told_of(above)
                if key in walk(above.key, house).keys:
                    assert walk(key, house).allergens <= told.allergens
                    assert key in told.holds


@given(st.lists(ITEMS, max_size=5), st.lists(ITEMS, max_size=5))
def test_together_loses_nothing_and_the_order_does_not_matter(
    one: list[Any], two: list[Any]
) -> None:
    parts = [stated(item) for item in (*one, *two)]
    whole = together(parts)
    assert together([together(parts[: len(one)]), together(parts[len(one) :])]) == whole
    assert together(reversed(parts)).holds == whole.holds
    for part in parts:
        assert part.allergens <= whole.allergens
        assert part.may_contain <= whole.allergens | whole.may_contain
        assert part.animal <= whole.animal
        assert part.may_animal <= whole.animal | whole.may_animal
        assert part.declare <= whole.declare
        assert set(part.cautions) <= set(whole.cautions)
        assert set(part.kitchen_cautions) <= set(whole.kitchen_cautions)
        assert set(part.allergens_not_known) <= set(whole.allergens_not_known)
    assert whole.allergens.isdisjoint(whole.may_contain)
    assert whole.animal.isdisjoint(whole.may_animal)


def chain(length: int) -> dict[str, dict[str, Any]]:
    """Recipes, each made of the one before it, the first of almonds."""
    house: dict[str, dict[str, Any]] = {}
    for number in range(length):
        below = f"level-{number - 1}" if number else "almonds"
        table = {"name": f"level {number}", "allergens": [], "animal": [], "character": []}
        house[f"level-{number}"] = {
            **table, **figures("syrup/spice"), "recipe": {"inputs": {below: "1 g", "water": "1 g"}},
        }  # fmt: skip
    return house


def test_nuts_at_the_bottom_of_two_hundred_recipes_are_told_at_the_top(tmp_path: Path) -> None:
    bar = bar_of(tmp_path, chain(200))
    told = bar.told_of(bar.library.find("level-199"))
    assert told.allergens == {"nuts"}
    assert len(told.holds) == 202


def test_recipes_that_double_at_every_level_are_walked_once_each(tmp_path: Path) -> None:
    house = chain(60)
    for number in range(1, 60):
        inputs = house[f"level-{number}"]["recipe"]["inputs"]
        inputs[f"level-{max(0, number - 2)}"] = "1 g"
    bar = bar_of(tmp_path, house)
    assert bar.told_of(bar.library.find("level-59")).allergens == {"nuts"}


@pytest.mark.parametrize(
    ("made_of", "said"),
    [(["almonz"], "'almonz' is not an ingredient known here"), (["a"], "a goes into itself")],
)
def test_what_a_thing_is_made_of_is_known_or_a_mistake_with_its_line(
    tmp_path: Path, made_of: list[str], said: str
) -> None:
    table = {"name": "a", "character": [], **figures("syrup/spice"), "made_of": made_of}
    with pytest.raises((BadInput, BadInputs), match=said) as caught:
        bar_of(tmp_path, {"a": table})
    assert "house.toml, line " in str(caught.value)


def test_only_one_module_reads_what_an_ingredient_states_for_guests() -> None:
    """What goes into a thing adds to it: who reads the statement alone would miss that."""
    reads = re.compile(r"\.(allergens|may_contain|animal|may_animal|declare)\b")
    own = {
        "pantry/disclosure.py", "pantry/avoidable.py", "pantry/avoidance.py", "pantry/mentions.py",
        "drinks/guest_notice.py", "pantry/garnish_words.py", "tasks/respec/consequences.py",
        "tasks/prep/as_ingredient.py",
        "tasks/prep/shelf_life.py",  # it is given all that went in, on all levels
    }  # fmt: skip
    for path in sorted((ROOT / "solver").rglob("*.py")):
        name = path.relative_to(ROOT / "solver").as_posix()
        if name in own:
            continue
        for line in path.read_text(encoding="utf-8").splitlines():
            if found := reads.search(line):
                of = r"(told|guest|meaning|jurisdiction|wash)\."
                assert re.search(of, line), (name, found[0])


@given(ITEMS)
def test_what_an_ingredient_states_is_what_is_told_of_it(item: Any) -> None:
    told = stated(item)
    assert (told.cautions, told.kitchen_cautions) == (item.cautions, item.kitchen_cautions)
    assert told.may_contain == item.may_contain - (item.allergens or frozenset())
    assert told.holds == {item.key}
    most = item.abv.value if item.abv.high is None else item.abv.high
    assert bool(told.alcohol) == (item.abv.value > 0)
    assert bool(told.may_hold_alcohol) == (item.abv.value == 0 < most)


@given(ITEMS, st.lists(ITEMS, min_size=1, max_size=4))
def test_an_ingredient_that_states_what_is_told_of_others_tells_the_same(
    item: Any, others: list[Any]
) -> None:
    told = together(map(stated, others))
    again = stated(with_told(item, told))
    for name in ("may_contain", "may_animal", "declare", "cautions", "kitchen_cautions"):
        assert getattr(again, name) == getattr(told, name)
    assert bool(again.allergens_not_known) == bool(told.allergens_not_known)
    assert bool(again.animal_not_known) == bool(told.animal_not_known)
    assert again.allergens == (frozenset() if told.allergens_not_known else told.allergens)
    assert again.animal == (frozenset() if told.animal_not_known else told.animal)


def test_a_recipe_s_own_words_for_guests_go_with_what_it_makes() -> None:
    table: dict[str, Any] = {
        "key": "dish", "name": "the dish", "allergens": frozenset({"milk"}),
        "may_contain": frozenset({"nuts"}), "animal": frozenset({"dairy"}),
        "may_animal": frozenset({"egg"}), "declare": frozenset({"quinine"}),
        "cautions": ("hot",), "kitchen_cautions": ("oily",),
    }  # fmt: skip
    told = of_dish(Dish.model_construct(**table))
    assert told.holds == {"dish"}
    for name in table.keys() - {"key", "name"}:
        assert getattr(told, name) == table[name]


def test_a_bottle_of_another_label_is_told_by_its_own_though_the_first_was_asked_before() -> None:
    bar = load_bar(None)
    gin = bar.library.find("gin")
    creamy = gin.model_copy(update={"allergens": frozenset({"milk"})})
    assert "milk" not in bar.told_of(gin).allergens
    assert "milk" in bar.told_of(creamy).allergens
    assert "milk" not in bar.told_of(gin).allergens
